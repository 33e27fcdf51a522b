"""Chances of what was left, over what is not known of an entry."""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.carry.table import load_table
from nextpair.domain.entry import offset_boards_of
from nextpair.kernel.outcome import offset_boards_at
from nextpair.reading.leaves import Leaves
from nextpair.reading.seen import NOT_SEEN

TABLE = load_table()
PLANNED = np.array([[17.0, 9.0, 17.5, 4.8, 6.3]])


def chance(leave, place, across):
    entry = np.array([[[place, 4.8, 6.3]]])
    leaves = Leaves(TABLE, np.array([leave]), PLANNED, np.array([across]), 5.0)
    return float(leaves.chance(entry)[0, 0])


@pytest.mark.parametrize("place", [14.0, 16.4, 17.6, 19.2, 22.0])
def test_an_entry_that_is_known_leaves_what_the_table_says(place):
    """Read between places 0.4 boards apart."""
    offset = offset_boards_of(20.0 - place, 4.8)
    expected = float(TABLE.strike_probability(offset, 4.8, 6.3))
    assert chance(0, place, (1e-6, 0.0, 0.0)) == pytest.approx(expected, abs=0.02)


def test_an_entry_that_is_not_known_leaves_the_mean_of_all():
    """Against draws of the entry; 20,000 of them are good to 0.004."""
    place = 17.5 + 1.5 * np.random.default_rng(1).normal(size=20_000)
    drawn = TABLE.strike_probability(offset_boards_at(20.0 - place, 4.8), 4.8, 6.3).mean()
    assert chance(0, 17.5, (1.5, 0.0, 0.0)) == pytest.approx(float(drawn), abs=0.015)


def test_all_chances_of_one_entry_are_one():
    together = [chance(leave, 16.0, (0.7, 0.1, 0.0)) for leave in TABLE.leaves]
    assert sum(together) == pytest.approx(1.0, abs=0.02)


def test_a_shot_from_anywhere_leaves_what_shots_about_the_planned_one_do():
    """Against 20,000 draws, five boards about it."""
    place = 17.5 + 5.0 * np.random.default_rng(2).normal(size=20_000)
    inside = place[(place > 0) & (place < 40)]
    drawn = TABLE.strike_probability(offset_boards_at(20.0 - inside, 4.8), 4.8, 6.3).mean()
    leaves = Leaves(TABLE, np.array([0]), PLANNED, np.array([(1e-6, 0.0, 0.0)]), 5.0)
    assert leaves.usual[0] == pytest.approx(float(drawn), abs=0.01)


def test_shots_that_left_nothing_known_are_left_out():
    leaves = Leaves(
        TABLE, np.array([NOT_SEEN, 0]), np.repeat(PLANNED, 2, axis=0), np.full((2, 3), 0.1), 5.0
    )
    assert leaves.shots.tolist() == [1]


@pytest.mark.parametrize("level", [-4.9, -2.0, 0.0, 2.5, 4.2, 9.0])
@pytest.mark.parametrize("angle", [0.0, 3.0, 6.5])
def test_offsets_of_many_are_those_of_each(level, angle):
    assert float(offset_boards_at(level, angle)) == pytest.approx(offset_boards_of(level, angle))
