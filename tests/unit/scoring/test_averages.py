"""Averages and handicap at their limits."""

from __future__ import annotations

import pytest

from nextpair.domain.errors import InvalidValueError
from nextpair.scoring.averages import average, handicap


def test_the_fraction_of_an_average_is_dropped():
    assert average(599, 3) == 199
    assert average(600, 3) == 200


def test_an_average_at_the_base_gets_no_handicap():
    assert handicap(220, 220, 90) == 0
    assert handicap(231, 220, 90, half_up=True) == 0


def test_only_a_half_or_more_is_rounded_up():
    # 80 % of 3 is 2.4, of 7 is 5.6; 50 % of 3 is 1.5.
    assert [handicap(200 - lack, 200, 80, half_up=True) for lack in (3, 7)] == [2, 6]
    assert [handicap(200 - lack, 200, 80) for lack in (3, 7)] == [2, 5]
    assert handicap(197, 200, 50, half_up=True) == 2


@pytest.mark.parametrize(("pins", "games"), [(100, 0), (-1, 1), (301, 1)])
def test_pins_that_no_games_can_hold_are_refused(pins, games):
    with pytest.raises(InvalidValueError):
        average(pins, games)


@pytest.mark.parametrize("terms", [(301, 220, 90), (180, 301, 90), (180, 220, -1)])
def test_a_handicap_out_of_range_is_refused(terms):
    with pytest.raises(InvalidValueError):
        handicap(*terms)
