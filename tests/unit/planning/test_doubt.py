"""Draws of what is not known of a lane."""

from __future__ import annotations

from dataclasses import fields

import numpy as np
import pytest

from nextpair.planning.doubt import DRY_FRICTION_SD, FILM_SD, WEAR_SD, Doubt, lane_doubt

NAMES = [field.name for field in fields(Doubt)]


def test_the_same_seed_gives_the_same_draws_and_another_seed_others():
    first, again, other = lane_doubt(8, 7), lane_doubt(8, 7), lane_doubt(8, 8)
    for name in NAMES:
        np.testing.assert_array_equal(getattr(first, name), getattr(again, name))
        assert not np.array_equal(getattr(first, name), getattr(other, name))


@pytest.mark.parametrize("draws", [1, 8, 33])
def test_there_are_as_many_as_asked_for(draws):
    doubt = lane_doubt(draws, 1)
    assert len(doubt) == draws
    assert {len(getattr(doubt, name)) for name in NAMES} == {draws}


@pytest.mark.parametrize(
    ("name", "spread"),
    [("dry_factor", DRY_FRICTION_SD), ("film_factor", FILM_SD), ("wear_factor", WEAR_SD)],
)
def test_factors_are_log_normal_about_one(name, spread):
    log = np.log(getattr(lane_doubt(2048, 3), name))
    assert log.mean() == pytest.approx(0.0, abs=0.02 * spread)
    assert log.std() == pytest.approx(spread, rel=0.02)


def test_a_shot_falls_at_any_time_of_the_game():
    time = lane_doubt(2048, 3).time
    assert np.all((time >= 0.0) & (time <= 1.0))
    np.testing.assert_allclose(np.quantile(time, [0.1, 0.5, 0.9]), [0.1, 0.5, 0.9], atol=0.01)


def test_what_is_not_known_of_friction_says_nothing_of_the_oil():
    doubt = lane_doubt(2048, 3)
    draws = np.stack([getattr(doubt, name) for name in NAMES])
    apart = np.corrcoef(draws)[~np.eye(len(NAMES), dtype=bool)]
    assert np.abs(apart).max() < 0.03


def test_even_eight_draws_lie_on_both_sides():
    doubt = lane_doubt(8, 7)
    for name in ("dry_factor", "film_factor", "wear_factor"):
        factor = getattr(doubt, name)
        assert 2 <= (factor > 1.0).sum() <= 6
