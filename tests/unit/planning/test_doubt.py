"""Draws of what is not known of a lane."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from nextpair.domain.unknowns import SPEED_MPS
from nextpair.kernel.throws import Form
from nextpair.planning.doubt import DRY_FRICTION_SD, FILM_SD, WEAR_SD, Doubt, LaneDraws, lane_doubt
from small_event import small_event

NAMES = ("dry_factor", "film_factor", "wear_factor", "time", "traffic")


def draws_of(doubt: Doubt, name: str) -> np.ndarray:
    return getattr(doubt.oil if name in ("film_factor", "wear_factor") else doubt, name)


def test_the_same_seed_gives_the_same_draws_and_another_seed_others():
    first, again, other = lane_doubt(8, 7), lane_doubt(8, 7), lane_doubt(8, 8)
    for name in NAMES:
        np.testing.assert_array_equal(draws_of(first, name), draws_of(again, name))
        assert not np.array_equal(draws_of(first, name), draws_of(other, name))


@pytest.mark.parametrize("draws", [1, 8, 33])
def test_there_are_as_many_as_asked_for(draws):
    doubt = lane_doubt(draws, 1)
    assert len(doubt) == draws
    assert {len(draws_of(doubt, name)) for name in NAMES} == {draws}


@pytest.mark.parametrize(
    ("name", "spread"),
    [("dry_factor", DRY_FRICTION_SD), ("film_factor", FILM_SD), ("wear_factor", WEAR_SD)],
)
def test_factors_are_log_normal_about_one(name, spread):
    log = np.log(draws_of(lane_doubt(2048, 3), name))
    assert log.mean() == pytest.approx(0.0, abs=0.02 * spread)
    assert log.std() == pytest.approx(spread, rel=0.02)


def test_a_shot_falls_at_any_time_of_the_game():
    time = lane_doubt(2048, 3).time
    assert np.all((time >= 0.0) & (time <= 1.0))
    np.testing.assert_allclose(np.quantile(time, [0.1, 0.5, 0.9]), [0.1, 0.5, 0.9], atol=0.01)


def test_what_is_not_known_of_friction_says_nothing_of_the_oil():
    doubt = lane_doubt(2048, 3)
    draws = np.stack([draws_of(doubt, name) for name in NAMES])
    apart = np.corrcoef(draws)[~np.eye(len(NAMES), dtype=bool)]
    assert np.abs(apart).max() < 0.03


def test_even_eight_draws_lie_on_both_sides():
    doubt = lane_doubt(8, 7)
    for name in ("dry_factor", "film_factor", "wear_factor"):
        factor = draws_of(doubt, name)
        assert 2 <= (factor > 1.0).sum() <= 6


def test_a_lane_adds_what_it_has_for_itself():
    shared = lane_doubt(4, 7)
    own = LaneDraws(np.array([1.1, 1.0, 0.9, 1.0]), np.full(4, 0.8), np.full(4, 0.3))
    doubt = replace(shared, lanes={13: own})
    np.testing.assert_allclose(doubt.of_lane(13).dry_factor, shared.dry_factor * own.dry_factor)
    np.testing.assert_allclose(doubt.of_lane(13).oil.film_factor, 0.8 * shared.oil.film_factor)
    np.testing.assert_array_equal(doubt.of_lane(13).inside_boards, own.inside_boards)
    assert doubt.of_lane(14) is doubt


def test_before_the_first_shot_the_likely_lane_is_the_planned_one():
    likely = lane_doubt(8, 7).likely
    assert (len(likely), likely.form, likely.inside_boards) == (1, None, None)
    assert likely.dry_factor == likely.oil.film_factor == likely.oil.wear_factor == 1.0


def test_after_shots_the_likely_lane_is_the_mean_of_what_is_believed():
    speed = np.array([0.1, 0.2, 0.0, 0.1])
    believed = replace(lane_doubt(4, 7), form=Form(speed, 0.0 * speed, 0.0 * speed))
    likely = believed.likely
    assert likely.form is not None
    assert likely.form.speed_mps == pytest.approx(0.1)
    assert likely.dry_factor == pytest.approx(believed.dry_factor.mean())
    assert likely.oil.wear_factor == pytest.approx(believed.oil.wear_factor.mean())


def test_what_is_not_known_of_the_day_counts_as_scatter_until_it_is():
    """Independent errors add in squares."""
    bowler = small_event().bowler
    unknown = lane_doubt(4, 7)
    wide = unknown.scatter_of(bowler.release, bowler.scatter)
    assert wide.speed_mps**2 == pytest.approx(bowler.scatter.speed_mps**2 + SPEED_MPS.spread**2)
    assert wide.laydown_boards == bowler.scatter.laydown_boards
    known = replace(unknown, form=Form(*np.zeros((3, 4))))
    assert known.scatter_of(bowler.release, bowler.scatter) == bowler.scatter
