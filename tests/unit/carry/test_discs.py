"""The disc model as a machine: mirrors, misses, soft hits, and one ball alone."""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.carry.deck import Bodies, exact_racks, mirrored_racks, spotted_racks
from nextpair.carry.discs import RackResult, roll_into
from nextpair.scoring.leaves import FULL_RACK, mirrored_leave, parse_leave

BODIES = Bodies()
SPEED_MPS = 7.4


def one_ball(
    offset_boards: float, angle_deg: float = 0.0, speed_mps: float = SPEED_MPS, **options: object
) -> RackResult:
    columns = (np.array([value]) for value in (offset_boards, angle_deg, speed_mps))
    return roll_into(exact_racks(1, BODIES), *columns, BODIES, **options)


def drawn_shots(seed: int, count: int):
    rng = np.random.default_rng(seed)
    racks = spotted_racks(rng, count, BODIES)
    return racks, rng.uniform(-9, 9, count), rng.uniform(-2, 9, count), rng.uniform(6, 9, count)


def test_a_mirrored_shot_at_a_mirrored_rack_leaves_the_mirrored_leave():
    racks, offset, angle, speed = drawn_shots(1, 3000)
    here = roll_into(racks, offset, angle, speed, BODIES)
    there = roll_into(mirrored_racks(racks), -offset, -angle, speed, BODIES)
    np.testing.assert_array_equal(
        there.standing, [mirrored_leave(int(leave)) for leave in here.standing]
    )
    np.testing.assert_array_equal(
        there.touched, [mirrored_leave(int(pins)) for pins in here.touched]
    )
    np.testing.assert_array_equal(there.exit_x_m, -here.exit_x_m)
    assert len(set(here.standing.tolist())) > 50, "the shots hardly differ"


def test_the_same_shots_end_the_same_way():
    first, again = (roll_into(*drawn_shots(2, 200), BODIES) for _ in range(2))
    np.testing.assert_array_equal(first.standing, again.standing)


def test_only_spotted_pins_are_left():
    racks, offset, angle, speed = drawn_shots(3, 1000)
    pins = parse_leave("2-4-5-8")
    result = roll_into(racks, offset, angle, speed, BODIES, pins=pins)
    assert np.all(result.standing & ~pins == 0)
    assert np.all(result.touched & ~pins == 0)
    assert set(result.standing.tolist()) >= {0, pins}


def test_a_pin_that_the_ball_hit_has_fallen():
    racks, offset, angle, speed = drawn_shots(4, 2000)
    result = roll_into(racks, offset, angle, speed, BODIES)
    grazed = (result.standing & result.touched) != 0
    # A graze softer than the kick that topples a pin leaves it; at this speed that is rare.
    assert grazed.mean() < 0.02


@pytest.mark.parametrize("offset_boards", [-19.0, 19.0])
def test_a_ball_that_passes_a_lone_head_pin_leaves_it(offset_boards):
    result = one_ball(offset_boards, pins=1)
    assert result.standing[0] == 1
    assert result.touched[0] == 0
    assert result.exit_x_m[0] == pytest.approx(offset_boards * 0.0270, rel=2e-3)


def test_a_ball_in_the_gutter_hits_nothing():
    assert one_ball(21.0).standing[0] == FULL_RACK
    assert np.isnan(one_ball(21.0).exit_x_m[0])


@pytest.mark.parametrize(("speed_mps", "left"), [(0.1, 1), (1.0, 0)])
def test_a_pin_stands_a_nudge_and_falls_to_a_hit(speed_mps, left):
    assert one_ball(0.0, speed_mps=speed_mps, pins=1).standing[0] == left


def test_without_other_pins_the_ball_goes_on_as_it_came():
    result = one_ball(3.0, angle_deg=4.0, pins=0)
    drift_m = (34.1875 * 0.0254 + 0.1483) * np.tan(np.radians(4.0))
    assert result.exit_x_m[0] == pytest.approx(3.0 * 0.02703 - drift_m, abs=1e-3)


def test_a_heavier_ball_is_turned_aside_less():
    columns = [np.array([value]) for value in (2.5, 0.0, SPEED_MPS)]
    exits = [
        roll_into(
            exact_racks(1, BODIES), *columns, BODIES._replace(ball_kg=ball_kg), pins=1
        ).exit_x_m[0]
        for ball_kg in (5.0, 6.0, 7.0)
    ]
    assert exits[0] > exits[1] > exits[2] > 2.5 * 0.027


def test_forward_roll_keeps_a_ball_on_its_way():
    columns = [np.array([value]) for value in (2.5, 6.0, SPEED_MPS)]
    free, rolling = (
        roll_into(
            exact_racks(1, BODIES), *columns, BODIES._replace(ball_friction=friction), pins=1
        ).exit_x_m[0]
        for friction in (0.0, 0.2)
    )
    assert rolling < free


def test_in_a_ball_only_rack_every_hit_pin_is_taken_away():
    result = one_ball(2.5, angle_deg=5.0, ball_only=True)
    assert result.standing[0] == FULL_RACK & ~result.touched[0]
