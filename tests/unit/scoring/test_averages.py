"""Averages and handicap at their limits."""

from __future__ import annotations

import pytest

from nextpair.domain.errors import InvalidValueError
from nextpair.domain.format import HandicapRule, Rounding
from nextpair.scoring.averages import (
    average,
    composite_average,
    handicap_by,
    tournament_average,
)


def test_the_fraction_of_an_average_is_dropped():
    assert average(599, 3) == 199
    assert average(600, 3) == 200


def test_a_composite_average_weighs_leagues_by_their_games():
    assert composite_average([(570, 3), (1206, 6)]) == 1776 // 9 == 197
    assert composite_average([(570, 3), (0, 0)]) == 190


@pytest.mark.parametrize(
    ("last_season", "pins", "games", "counts"),
    [
        (180, 190 * 21, 21, 190),  # ten pins above: the current one
        (180, 189 * 21 + 20, 21, 180),  # 189 and a fraction, which is dropped
        (180, 210 * 20, 20, 180),  # too few games
        (None, 210 * 21, 21, 210),
        (None, 210 * 20, 20, None),
        (180, 0, 0, 180),
        (200, 150 * 30, 30, 200),  # it only ever rises
    ],
)
def test_a_current_average_counts_once_it_is_long_enough_and_high_enough(
    last_season, pins, games, counts
):
    assert tournament_average(last_season, pins, games) == counts


def test_an_average_at_the_base_gets_no_handicap():
    assert handicap_by(HandicapRule(220, 90), 220) == 0
    assert handicap_by(HandicapRule(220, 90, Rounding.HALF_UP), 231) == 0


def test_only_a_half_or_more_is_rounded_up():
    # 80 % of 3 is 2.4, of 7 is 5.6; 50 % of 3 is 1.5.
    up, down = (HandicapRule(200, 80, rounding) for rounding in (Rounding.HALF_UP, Rounding.DOWN))
    assert [handicap_by(up, 200 - lack) for lack in (3, 7)] == [2, 6]
    assert [handicap_by(down, 200 - lack) for lack in (3, 7)] == [2, 5]
    assert handicap_by(HandicapRule(200, 50, Rounding.HALF_UP), 197) == 2


def test_a_handicap_stops_at_its_cap():
    capped = HandicapRule(220, 100, most=50)
    assert [handicap_by(capped, pins) for pins in (180, 170, 120)] == [40, 50, 50]


@pytest.mark.parametrize(("pins", "games"), [(100, 0), (-1, 1), (301, 1)])
def test_pins_that_no_games_can_hold_are_refused(pins, games):
    with pytest.raises(InvalidValueError):
        average(pins, games)


@pytest.mark.parametrize("terms", [(301, 90), (220, -1), (220, 90, Rounding.DOWN, -1)])
def test_a_rule_out_of_range_is_refused(terms):
    with pytest.raises(InvalidValueError):
        HandicapRule(*terms)


def test_an_average_that_nobody_has_is_refused():
    with pytest.raises(InvalidValueError, match="average"):
        handicap_by(HandicapRule(220, 90), 301)
