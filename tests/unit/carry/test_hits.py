"""The designs: in range, even, as wanted at any length, and aimed at what stands."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import qmc

from nextpair.carry.hits import (
    ANGLES_DEG,
    OFFSETS_BOARDS,
    SPARE_ANGLES_DEG,
    leaves_that_occur,
    other_leaves,
    rack_hits,
    spare_hits,
)
from nextpair.carry.leave_paths import touches
from nextpair.domain.units import MPH_MPS, POUND_KG
from nextpair.scoring.leaves import FULL_RACK, mirrored_leave, parse_leave, pin_count

HITS = rack_hits(0, 4096)
LEAVES = [(parse_leave("3-10"), 300), (parse_leave("4-6-7-10"), 200), (parse_leave("1-2"), 100)]


def shares(values, ranges):
    """Where values lie between 0 and 1 of their range's points."""
    at, below = zip(*ranges, strict=True)
    return np.interp(values, at, below)


def test_hits_are_in_range():
    assert np.abs(HITS.offset_boards).max() <= 20.0
    assert HITS.angle_deg.min() >= 0.0
    assert HITS.angle_deg.max() <= 9.0
    assert HITS.speed_mps.min() / MPH_MPS >= 13.0
    assert HITS.speed_mps.max() / MPH_MPS <= 20.0
    assert HITS.ball_kg.min() / POUND_KG >= 12.0
    assert HITS.ball_kg.max() / POUND_KG <= 16.0
    assert (HITS.spotted == FULL_RACK).all()


def test_the_range_that_is_asked_for_is_covered():
    """Offsets -8 to 8 boards on both sides of the head pin at every angle from 0 to 9 degrees."""
    counted, _, _ = np.histogram2d(
        HITS.offset_boards, HITS.angle_deg, bins=[np.arange(-8, 8.1, 1), np.arange(0, 9.1, 1)]
    )
    assert counted.min() >= 3


def test_hits_fill_their_ranges_more_evenly_than_chance():
    """Discrepancy in four of six dimensions against the mean of drawn points. Source: SciPy."""
    points = np.column_stack(
        [
            shares(HITS.offset_boards, OFFSETS_BOARDS),
            shares(HITS.angle_deg, ANGLES_DEG),
            (HITS.speed_mps / MPH_MPS - 13) / 7,
            (HITS.roll_share - 0.75) / 0.25,
        ]
    )[:1024]
    drawn = [qmc.discrepancy(np.random.default_rng(n).random((1024, 4))) for n in range(8)]
    assert qmc.discrepancy(points) < 0.5 * np.mean(drawn)


@pytest.mark.parametrize("first", [0, 100, 4000])
def test_a_hit_is_the_same_wherever_a_run_starts(first):
    part = rack_hits(first, 50)
    np.testing.assert_array_equal(part.offset_boards, HITS.offset_boards[first : first + 50])
    spares, all_spares = spare_hits([LEAVES], first % 500, 40), spare_hits([LEAVES], 0, 600)
    np.testing.assert_array_equal(
        spares.spotted, all_spares.spotted[first % 500 : first % 500 + 40]
    )


def test_every_leave_gets_its_share():
    masks, times = np.unique(spare_hits([LEAVES], 0, 600).spotted, return_counts=True)
    assert dict(zip(masks.tolist(), times.tolist(), strict=True)) == dict(LEAVES)


def test_balls_at_leaves_come_where_a_pin_can_be_touched():
    hits = spare_hits([LEAVES], 0, 600)
    near = np.array(
        [
            touches(int(mask), offset, angle)
            for mask, offset, angle in zip(
                hits.spotted, hits.offset_boards, hits.angle_deg, strict=True
            )
        ]
    )
    # Between far pins of a split a ball touches nothing; it is rolled there all the same.
    assert near.mean() > 0.7
    assert SPARE_ANGLES_DEG[0][0] <= hits.angle_deg.min()
    assert hits.angle_deg.max() <= SPARE_ANGLES_DEG[-1][0]


def test_leaves_that_occur_are_what_occurs():
    """Both images count as one; single pins and strikes are not shot at here."""
    ten, seven = parse_leave("6-10"), parse_leave("4-7")
    standing = np.array([0, 512, ten, seven, ten, parse_leave("7-10")], np.uint16)
    leaves = dict(leaves_that_occur(standing, 1000))
    assert set(leaves) == {min(ten, seven), parse_leave("7-10")}
    assert leaves[min(ten, seven)] > leaves[parse_leave("7-10")]
    assert sum(leaves.values()) == pytest.approx(1000, abs=2)


def test_rounds_follow_each_other():
    more = [(parse_leave("7-10"), 50)]
    both = spare_hits([LEAVES, more], 0, 650)
    np.testing.assert_array_equal(both.spotted[:600], spare_hits([LEAVES], 0, 600).spotted)
    assert (both.spotted[600:] == parse_leave("7-10")).all()


def test_every_leave_of_two_or_three_pins_is_shot_at_once():
    known = [(min(mask, mirrored_leave(mask)), 10) for mask in (3, 6, 520)]
    others = [mask for mask, _ in other_leaves(known)]
    assert len(set(others)) == len(others)
    shot = {mask for mask, _ in known} | set(others)
    shot |= {mirrored_leave(mask) for mask in shot}
    assert all(mask in shot for mask in range(FULL_RACK) if 2 <= pin_count(mask) <= 3)
