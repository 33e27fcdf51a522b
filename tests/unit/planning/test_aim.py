"""What an impact is worth: against exact games, the carry table, and quadrature of the blur."""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.carry.table import load_table
from nextpair.planning.aim import (
    ANGLES,
    BLURS,
    OFFSETS,
    USUAL_SPARES,
    USUAL_STRIKES,
    game_pins,
    pin_value,
)
from nextpair.planning.odds import pins_if_missed
from nextpair.scoring.game_value import FirstBall, expected_score, frame_odds_of
from nextpair.scoring.leaves import parse_leave, pin_count
from small_event import small_event, values_of

SPEED_MPS = 6.6
TABLE = load_table()
PINS = pin_value(TABLE, np.full(len(TABLE.leaves), 0.7), SPEED_MPS)
OFFSET, ANGLE = np.meshgrid(OFFSETS, ANGLES, indexing="ij")


def worth_of(leave: str, spare_chance: float) -> float:
    """Pins a game of a frame that leaves this, above the base."""
    pins = pin_value(TABLE, np.full(len(TABLE.leaves), spare_chance), SPEED_MPS)
    return float(pins.worth[TABLE.leaves.index(parse_leave(leave))])


@pytest.mark.parametrize("strikes", [0.0, 0.2, 0.45, 0.8, 1.0])
@pytest.mark.parametrize("made", [0.0, 0.35, 0.9, 1.0])
def test_game_pins_are_the_exact_mean_of_games_whose_first_balls_leave_one_pin(strikes, made):
    nine = FirstBall(pins=9, probability=1 - strikes, spare_chance=made)
    exact = expected_score(frame_odds_of(strikes, [nine]))
    assert game_pins(strikes, (1 - strikes) * made) == pytest.approx(exact)


@pytest.mark.parametrize(("strikes", "spares"), [(0.45, 0.42), (0.42, 0.45), (0.5, 0.4)])
def test_near_a_usual_game_the_weights_add_up_to_the_game(strikes, spares):
    strike, nine, spare = worth_of("", 0.0), worth_of("10", 0.0), worth_of("10", 1.0)
    total = strikes * strike + spares * spare + (1 - strikes - spares) * nine
    assert PINS.base + total == pytest.approx(game_pins(strikes, spares), abs=0.3)


def test_at_the_usual_game_itself_they_add_up_exactly():
    worth = worth_of("", 0.0) * USUAL_STRIKES + worth_of("10", 1.0) * USUAL_SPARES
    nines = (1 - USUAL_STRIKES - USUAL_SPARES) * worth_of("10", 0.0)
    assert PINS.base + worth + nines == pytest.approx(game_pins(USUAL_STRIKES, USUAL_SPARES))


@pytest.mark.parametrize("spare_chance", [0.0, 0.4, 1.0])
@pytest.mark.parametrize("leave", ["", "10", "2-8", "4-7-10", "4-6-7-10", "1-2-3-4-5-6-7-8-9-10"])
def test_a_leave_is_worth_what_an_exact_game_gains_where_it_comes_a_little_oftener(
    leave, spare_chance
):
    mask, oftener = parse_leave(leave), 1e-4
    usual_spares = USUAL_SPARES / (1 - USUAL_STRIKES)
    seen = [FirstBall(9, (1 - USUAL_STRIKES) * (1 - oftener), usual_spares)]
    if leave:
        second = (*[0.0] * pins_if_missed(pin_count(mask)), 1.0)
        seen.append(FirstBall(10 - pin_count(mask), oftener, spare_chance, second))
    strikes = USUAL_STRIKES * (1 - oftener) + (0.0 if leave else oftener)
    usual = game_pins(USUAL_STRIKES, USUAL_SPARES)
    gain = (expected_score(frame_odds_of(strikes, seen)) - usual) / oftener
    assert PINS.base + worth_of(leave, spare_chance) == pytest.approx(usual + gain, abs=0.05)


def test_a_strike_is_worth_more_than_a_spare_and_a_spare_more_than_an_open():
    assert worth_of("", 0.5) > worth_of("10", 1.0) > worth_of("10", 0.0)
    assert worth_of("4-6-7-10", 1.0) < worth_of("10", 1.0)
    assert worth_of("4-6-7-10", 0.0) < worth_of("10", 0.0)


def test_without_blur_the_map_is_the_mean_of_the_table():
    value = PINS.at(OFFSET, ANGLE, np.zeros(OFFSET.shape))
    worth = TABLE.mean_of(PINS.worth, OFFSET, ANGLE, SPEED_MPS)
    np.testing.assert_allclose(value, PINS.base + worth, atol=1e-9)


def test_between_its_nodes_the_map_follows_the_table():
    rng = np.random.default_rng(1)
    offset, angle = rng.uniform(-6, 6, 500), rng.uniform(1, 7, 500)
    value = PINS.at(offset, angle, np.zeros(500))
    worth = PINS.base + TABLE.mean_of(PINS.worth, offset, angle, SPEED_MPS)
    assert np.abs(value - worth).mean() < 1.0


@pytest.mark.parametrize("blur", BLURS[1::3])
def test_the_blur_takes_nothing_from_a_wide_window(blur):
    value, soft_value = (PINS.at(OFFSET, ANGLE, np.full(OFFSET.shape, b)) for b in (0.0, blur))
    # Past the rack's edges the map goes on level, which a wide blur sees: hence not exactly.
    np.testing.assert_allclose(soft_value.mean(axis=0), value.mean(axis=0), atol=1.0)
    assert soft_value.max() < value.max()


@pytest.mark.parametrize(("offset", "angle"), [(2.5, 4.0), (1.0, 5.0), (4.0, 3.0), (-2.0, 6.0)])
def test_a_blurred_value_is_the_mean_over_a_normal_scatter(offset, angle):
    z = np.linspace(-4.0, 4.0, 401)
    weight = np.exp(-(z**2) / 2)
    places = offset + 1.5 * z
    sharp = PINS.at(places, np.full(401, angle), np.zeros(401))
    blurred = PINS.at(np.array([offset]), np.array([angle]), np.array([1.5]))
    assert blurred[0] == pytest.approx(np.average(sharp, weights=weight), abs=0.5)


def test_beyond_the_map_its_edge_holds():
    far, edge = PINS.at(np.array([99.0, OFFSETS[-1]]), np.full(2, 4.0), np.ones(2))
    assert far == edge


def test_a_ball_in_the_gutter_is_worth_less_than_one_that_takes_a_pin():
    corner = PINS.worth[TABLE.leaves.index(parse_leave("1-2-3-4-5-6-7-8-9"))]
    assert PINS.gutter < PINS.base + corner


@pytest.mark.parametrize("blur", [1.0, 1.5, 2.0])
@pytest.mark.parametrize("angle", [3.0, 4.0, 5.0, 6.0])
def test_a_scattered_line_is_worth_more_in_the_pocket_than_on_the_far_side(blur, angle):
    """Common practice, from memory: nobody plans to cross over."""
    values = PINS.at(OFFSETS, np.full(len(OFFSETS), angle), np.full(len(OFFSETS), blur))
    best = OFFSETS[values.argmax()]
    assert 1.0 < best < 4.0
    assert values[OFFSETS > 0].max() > values[OFFSETS < 0].max()


def test_a_flush_pocket_hit_of_the_bundled_bowler_is_worth_more_than_a_thin_one():
    _, _, pins = values_of(small_event())
    angle, none = np.full(3, 4.0), np.zeros(3)
    flush, thin, missed = pins.at(np.array([2.5, 6.0, 15.0]), angle, none)
    assert flush > thin > missed
