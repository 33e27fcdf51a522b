"""Series, absent bowlers and ties."""

from __future__ import annotations

import pytest

from nextpair.domain.errors import InvalidValueError
from nextpair.scoring.notation import parse_game
from nextpair.scoring.series import (
    AbsenceRule,
    TieRule,
    blind_score,
    places,
    roll_off_score,
    series_total,
    still_tied,
    vacancy_score,
)

TIED = ((200, 210, 190), (190, 210, 200), (180, 180, 180), (230, 190, 180))


def test_each_game_of_a_series_has_its_handicap():
    assert series_total([200, 180, 190], handicap=12) == 570 + 36
    assert series_total([]) == 0
    with pytest.raises(InvalidValueError, match="score"):
        series_total([301])


def test_a_blind_score_is_the_average_less_some_pins():
    assert blind_score(AbsenceRule(), 185) == 175
    assert blind_score(AbsenceRule(less_pins=0), 185) == 185
    assert blind_score(AbsenceRule(), 6) == 0
    assert vacancy_score(AbsenceRule(less_pins=5, vacancy_average=140)) == 135


def test_equal_totals_share_the_best_of_their_places():
    assert places(TIED, TieRule.SHARED) == (1, 1, 4, 1)
    assert still_tied(TIED, TieRule.SHARED) == ((0, 1, 3),)


def test_the_higher_last_game_breaks_a_tie_and_then_the_game_before_it():
    assert places(TIED, TieRule.HIGHER_LAST_GAME) == (2, 1, 4, 3)
    before = ((200, 200), (190, 200, 10), (210, 190, 0))
    assert places(before[:2], TieRule.HIGHER_LAST_GAME) == (1, 2)
    assert still_tied(((1, 2), (1, 2)), TieRule.HIGHER_LAST_GAME) == ((0, 1),)


@pytest.mark.parametrize("rule", [TieRule.ROLL_OFF, TieRule.EXTRA_GAME])
def test_what_is_bowled_more_parts_equal_totals_only(rule):
    assert places(TIED, rule, (39, 50, 60, 39)) == (2, 1, 4, 2)
    assert still_tied(TIED, rule, (39, 50, 60, 39)) == ((0, 3),)
    assert places(TIED, rule) == places(TIED, TieRule.SHARED)
    with pytest.raises(InvalidValueError, match="extra"):
        places(TIED, rule, (39,))


def test_an_extra_score_changes_nothing_where_the_rule_asks_for_none():
    assert places(TIED, TieRule.SHARED, (39, 50, 60, 39)) == places(TIED, TieRule.SHARED)


@pytest.mark.parametrize(
    ("text", "score"), [("X, X X X", 60), ("9-, 9/X", 29), ("X, 9-", 28), ("9/, X", None)]
)
def test_a_roll_off_is_a_ninth_and_a_tenth_frame(text, score):
    frames = parse_game("--, " * 8 + text).frames[8:]
    assert roll_off_score(frames) == score


def test_a_roll_off_has_two_frames_and_no_more():
    with pytest.raises(InvalidValueError, match="frames"):
        roll_off_score(parse_game("X, X, X").frames)
