"""How the shape of a lane pulls on a ball."""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.domain.bowler import Hand
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.house import HeightMap, LaneTrait
from nextpair.domain.lane import BOARD_M, BOARDS, CELLS, HEAD_PIN_M, LANE_WIDTH_M
from nextpair.domain.units import INCH_M
from nextpair.physics.constants import GRAVITY_MPS2
from nextpair.physics.topography import own_pull, slope_pull_mps2

FALL_M = 0.04 * INCH_M


def heights(rows: list[list[float]]) -> HeightMap:
    distances = np.linspace(0.0, HEAD_PIN_M, len(rows))
    return HeightMap(tuple(distances), tuple(tuple(row) for row in rows))


def test_a_lane_nobody_surveyed_is_level():
    assert slope_pull_mps2(LaneTrait(3, friction=1.1)) is None


def test_a_tilt_and_a_map_of_the_same_tilt_pull_alike():
    """Right edge lower: board 1 lies lowest."""
    across = (np.arange(BOARDS) * BOARD_M * FALL_M / LANE_WIDTH_M).tolist()
    mapped = slope_pull_mps2(LaneTrait(3, heights=heights([across, across])))
    tilted = slope_pull_mps2(LaneTrait(3, tilt_m=FALL_M))
    assert mapped.shape == (2, CELLS, BOARDS)
    np.testing.assert_allclose(mapped, tilted, atol=1e-12)
    np.testing.assert_allclose(tilted[0], GRAVITY_MPS2 * FALL_M / LANE_WIDTH_M)


def test_a_lane_that_falls_toward_the_pins_pulls_down_the_lane():
    pull = slope_pull_mps2(LaneTrait(3, heights=heights([[FALL_M] * BOARDS, [0.0] * BOARDS])))
    assert not pull[0].any()
    np.testing.assert_allclose(pull[1, 5:-5], GRAVITY_MPS2 * FALL_M / HEAD_PIN_M)


def test_a_crown_pulls_both_ways_and_a_left_hander_meets_its_mirror():
    crown = (-((np.arange(BOARDS) - 19.0) ** 2) * 1e-6).tolist()
    trait = LaneTrait(3, tilt_m=FALL_M, heights=heights([crown, crown]))
    pull = slope_pull_mps2(trait)
    assert pull[0, 60, 4] > pull[0, 60, 19] > pull[0, 60, 34]
    left = own_pull(pull, Hand.LEFT)
    np.testing.assert_array_equal(left[0], -pull[0][:, ::-1])
    np.testing.assert_array_equal(own_pull(left, Hand.LEFT), pull)
    assert own_pull(None, Hand.LEFT) is None


@pytest.mark.parametrize(
    ("distance_m", "rows"),
    [
        ((0.0,), [[0.0] * BOARDS]),
        ((0.0, 0.0), [[0.0] * BOARDS] * 2),
        ((0.0, 5.0), [[0.0] * (BOARDS - 1)] * 2),
        ((0.0, 5.0), [[0.0] * BOARDS, [0.51 * INCH_M] * BOARDS]),
        ((0.0, 5.0, 9.0), [[0.0] * BOARDS] * 2),
    ],
)
def test_heights_no_lane_has_are_refused(distance_m, rows):
    with pytest.raises(InvalidValueError):
        HeightMap(distance_m, tuple(tuple(row) for row in rows))
