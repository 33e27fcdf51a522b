"""Room: runs of lines that are worth enough, against runs that are plain to see."""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.planning.room import ROOM_LOSS, least_pins, lines_of_room

VALUE = np.array(
    [
        [100.0, 97.0, 80.0, 99.0],
        [96.0, 100.0, 96.0, 95.0],
        [90.0, 94.0, 99.0, 100.0],
    ]
)


@pytest.mark.parametrize(
    ("cell", "rows", "columns"),
    [((1, 1), 1, 3), ((0, 0), 1, 1), ((2, 3), 2, 1), ((0, 3), 2, 0)],
)
def test_room_is_the_run_about_a_line_that_loses_less_than_a_twentieth(cell, rows, columns):
    assert ROOM_LOSS == 0.05
    assert lines_of_room(VALUE, cell) == (rows, columns)


def test_a_single_line_has_no_room_and_equal_ones_have_all():
    assert lines_of_room(np.array([[7.0]]), (0, 0)) == (0, 0)
    assert lines_of_room(np.full((3, 5), 7.0), (1, 2)) == (2, 4)


@pytest.mark.parametrize(("pins", "least"), [(200.0, 190.0), (-20.0, -21.0), (0.0, 0.0)])
def test_what_is_worth_less_than_nothing_loses_a_twentieth_too(pins, least):
    assert least_pins(pins) == pytest.approx(least)
