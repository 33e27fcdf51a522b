"""The kernel: against weighted least squares by NumPy, and what stands behind a chance."""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.carry.neighbours import (
    DIMENSIONS,
    HELD_BY_ROLLS,
    WIDE,
    Bandwidths,
    near_and_wide,
    neighbours_of,
)
from nextpair.carry.rolls import MIRRORED_LEAVES
from nextpair.domain.units import MPH_MPS, POUND_KG
from unit.carry.known_field import LEAVES, impacts, rolled

BANDWIDTHS = Bandwidths(0.8, 3.0, 6.0 * MPH_MPS, 3.0 * POUND_KG, 0.02)
ROLLS = rolled(3000)
LEAVE = np.searchsorted(LEAVES, ROLLS.standing)
IMAGE = np.searchsorted(LEAVES, MIRRORED_LEAVES[LEAVES])
NEAR = neighbours_of(ROLLS, LEAVE, IMAGE, BANDWIDTHS)
OWN = BANDWIDTHS.scaled(ROLLS.offset_boards, ROLLS.angle_deg, ROLLS.speed_mps, ROLLS.ball_kg)
NOBODY = -1


def told(places, left_out=NOBODY, near=NEAR, leaves=None):
    count = len(LEAVES) if leaves is None else leaves
    return near_and_wide(near, places, np.full(len(places), left_out), count)


def weights_at(place, radius=1.0):
    away = NEAR.places - place
    return np.clip(1.0 - (away**2).sum(axis=1) / radius**2, 0.0, None) ** 2, away


def straight_fit(place, weight, away, response):
    """Intercept of a weighted least-squares plane whose slopes HELD_BY_ROLLS rolls hold level."""
    plane = np.column_stack([np.ones(len(away)), away]) * np.sqrt(weight)[:, np.newaxis]
    held = np.sqrt(HELD_BY_ROLLS) * np.eye(DIMENSIONS + 1)[1:]
    ends = np.concatenate([response * np.sqrt(weight), np.zeros(DIMENSIONS)])
    return np.linalg.lstsq(np.vstack([plane, held]), ends)[0][0]


@pytest.mark.parametrize("roll", [0, 5, 11])
def test_shares_near_are_those_of_a_plane_by_weighted_least_squares(roll):
    place = OWN[roll]
    sums, _, _ = told(place[np.newaxis])
    weight, away = weights_at(place)
    fits = [straight_fit(place, weight, away, NEAR.leave == leave) for leave in range(len(LEAVES))]
    expected = np.clip(fits, 0.0, None)
    assert sums[0] / sums[0].sum() == pytest.approx(expected / expected.sum(), abs=1e-9)


def test_wide_shares_are_plain_weighted_shares():
    _, _, wide = told(OWN[:1])
    weight, _ = weights_at(OWN[0], WIDE)
    expected = np.bincount(NEAR.leave, weight, len(LEAVES)) / weight.sum()
    assert wide[0] == pytest.approx(expected, abs=1e-12)


def test_a_roll_that_is_left_out_counts_neither_itself_nor_mirrored():
    keep = np.arange(len(LEAVE)) != 3
    without = neighbours_of(ROLLS.taken(keep), LEAVE[keep], IMAGE, BANDWIDTHS)
    for place in (OWN[3:4], OWN[3:4] * [-1.0, -1.0, 1.0, 1.0]):
        for left, right in zip(told(place, left_out=3), told(place, near=without), strict=True):
            assert left == pytest.approx(right, rel=1e-9)


def test_rolls_at_one_place_are_as_many_as_they_are():
    count, far_from_its_image = 40, int(np.argmax(ROLLS.angle_deg))
    at_one = ROLLS.taken(np.full(count, far_from_its_image))
    near = neighbours_of(at_one, LEAVE[:count], IMAGE, BANDWIDTHS)
    sums, effective, _ = told(OWN[[far_from_its_image]], near=near)
    assert effective[0] == pytest.approx(count)
    assert sums[0] == pytest.approx(np.bincount(LEAVE[:count], minlength=len(LEAVES)))


def test_a_roll_and_its_image_are_one_observation():
    count = 40
    straight = impacts(count, 1)._replace(
        offset_boards=np.zeros(count),
        angle_deg=np.zeros(count),
        speed_mps=np.full(count, 7.0),
        ball_kg=np.full(count, 6.5),
    )
    near = neighbours_of(straight, LEAVE[:count], IMAGE, BANDWIDTHS)
    place = BANDWIDTHS.scaled(*(np.array([value]) for value in (0.0, 0.0, 7.0, 6.5)))
    assert told(place, near=near)[1][0] == pytest.approx(count)


def test_effective_rolls_give_the_scatter_of_a_share_of_coins():
    """Leaves drawn anew at the same impacts: the share's scatter is that of so many coins."""
    rng, chance, place = np.random.default_rng(5), 0.3, OWN[:1]
    shares = []
    for _ in range(400):
        leave = (rng.random(len(LEAVE)) > chance).astype(np.int64)
        near = neighbours_of(ROLLS, leave, np.array([0, 1]), BANDWIDTHS)
        sums, effective, _ = told(place, near=near, leaves=2)
        shares.append(sums[0, 0] / sums[0].sum())
    # 400 draws tell a standard deviation to 3.5 %: four of those.
    assert np.std(shares) == pytest.approx(np.sqrt(chance * (1 - chance) / effective[0]), rel=0.14)
    assert np.mean(shares) == pytest.approx(chance, abs=4 * np.std(shares) / 20)


def test_far_from_all_rolls_the_nearest_ones_tell():
    sums, effective, wide = told(np.array([[60.0, 0.0, OWN[0, 2], OWN[0, 3]]]))
    assert sums.sum() == effective[0] == 0.0
    assert wide.sum() == pytest.approx(1.0)


def test_the_fan_moves_a_wide_hit_out_with_the_angle():
    def column(offset, angle):
        return BANDWIDTHS.scaled(np.array([offset]), np.array([angle]), *np.ones((2, 1)))[0, 0]

    assert column(10.0, 5.0) == pytest.approx(column(10.0 * (1 - 0.02 * 5.0), 0.0))
    assert column(10.0, 5.0) == -column(-10.0, -5.0)
