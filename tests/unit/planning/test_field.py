"""How hard the condition is: usual bowlers on the same lanes."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from nextpair.domain.bowler import Hand
from nextpair.planning.common_spares import common_spares
from nextpair.planning.field import FieldScores, condition_words, conditions
from nextpair.planning.study import Study
from small_event import SEED, small_workings

WORK = small_workings()
LEFT = np.full(len(WORK.table.leaves), 1.0)


@cache
def scored(average: float = 205.0) -> tuple[FieldScores, ...]:
    event = replace(WORK.event, bowler=replace(WORK.event.bowler, average=average))
    study = replace(WORK.study, event=event)
    return conditions(study, WORK.table, WORK.pins, LEFT, WORK.spares, SEED)


def test_the_field_is_scored_in_every_game():
    found = scored()
    assert len(found) == WORK.event.games
    for one in found:
        assert 100 < one.field_score < 250


def test_a_usual_bowler_of_a_higher_average_scores_more_and_the_field_stays():
    low, high = scored(160.0), scored(225.0)
    for weaker, stronger in zip(low, high, strict=True):
        assert weaker.usual_score < stronger.usual_score - 5
        assert weaker.field_score == stronger.field_score


def test_bowlers_of_the_fields_average_score_near_the_field():
    """The field's average is 195 by assumption; only hands, styles and balls differ."""
    for one in scored(195.0):
        assert one.usual_score == pytest.approx(one.field_score, abs=12)


def left_handers_only(study: Study) -> Study:
    squad = tuple(
        entrant if entrant.name == study.event.bowler_name else replace(entrant, hand=Hand.LEFT)
        for entrant in study.event.squad
    )
    return replace(study, event=replace(study.event, squad=squad))


def test_left_handers_find_their_own_side_of_the_lane():
    """Their side is fresh in game 1, where right-handers only were: they score no less there than
    where the same people are right-handed."""
    turned = left_handers_only(WORK.study)
    there = conditions(turned, WORK.table, WORK.pins, LEFT, WORK.spares, SEED)[0]
    assert there.field_score != scored()[0].field_score
    assert there.field_score > 100


def test_the_condition_is_told_in_words():
    words = condition_words(205.0, [184.0, 186.0], [FieldScores(176.0, 180.0)] * 2)
    assert "field scores 176" in words
    assert "185 is 9 over it" in words
    assert "205, scores 180" in words
    assert "4 under it" in condition_words(205.0, [172.0], [FieldScores(176.0, 180.0)])


def test_common_leaves_are_asked_again_and_the_rest_kept():
    own = np.full(len(WORK.table.leaves), 0.123)
    likely = np.zeros(len(own))
    place = WORK.table.leaves.index(1 << 9)
    likely[place] = 1.0
    found = common_spares(WORK.event, WORK.table, likely, own, SEED)
    assert found[place] == pytest.approx(WORK.spares[place])
    assert (found == 0.123).sum() >= len(own) - 25
