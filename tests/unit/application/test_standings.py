"""Where a bowler stands: places, the line now and to come, and what is told beside them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from event_folder import DEMO
from nextpair.application.standings import standing_of
from nextpair.domain.event import Event
from nextpair.domain.field_score import FieldScore
from nextpair.domain.format import Format, HandicapRule, Stage, StageKind
from nextpair.files import load_event

ME = "Maren Tolvane"
SEED = 7


def event(entries: int = 6, cut_to: int | None = 2, games: int = 4, **more: object) -> Event:
    loaded = load_event(DEMO / "event.toml")
    money = replace(loaded.money, entries=entries, cut_to=cut_to)
    squad = tuple(entrant for entrant in loaded.squad if entrant.name == ME)
    facts = {"format": Format(), **more}
    return replace(loaded, money=money, squad=squad, games=games, **facts)


def scores(**of: list[int]) -> list[FieldScore]:
    names = {"me": ME}
    return [
        FieldScore(names.get(name, name.title()), game, pins)
        for name, games in of.items()
        for game, pins in enumerate(games, start=1)
    ]


FIELD = scores(
    me=[201, 189], bo=[220, 215], cleo=[180, 176], dora=[190, 200], emil=[170, 160, 150]
)


def test_places_go_by_pins_a_game_and_equal_ones_share_them():
    standing = standing_of(event(), FIELD, SEED)
    told = [(one.place, one.name, one.total, one.games_left) for one in standing.field]
    assert told == [
        (1, "Bo", 435, 2),
        (2, "Dora", 390, 2),
        (2, ME, 390, 2),
        (4, "Cleo", 356, 2),
        (5, "Emil", 480, 1),
    ]
    assert (standing.entries, standing.games, standing.games_bowled) == (6, 4, 2)


def test_the_line_now_counts_as_many_games_as_the_bowler_has_bowled():
    cut = standing_of(event(cut_to=4), FIELD, SEED).cut
    assert (cut.line_now_pins, cut.ahead_now_pins) == (356, 34)
    before = standing_of(event(cut_to=4), scores(bo=[200], cleo=[190], d=[180], e=[170]), SEED)
    assert (before.cut.line_now_pins, before.cut.ahead_now_pins) == (680, None)
    assert before.cut.needed[0].pins_per_game == pytest.approx(before.cut.needed[0].total / 4)


def test_once_all_games_are_bowled_everything_is_certain():
    field = scores(me=[200, 200], a=[200, 200], b=[210, 210], c=[180, 180])
    standing = standing_of(event(entries=4, games=2), field, SEED)
    chances = {one.name: one.cut_chance for one in standing.field}
    assert chances == {"B": 1, "A": 0.5, ME: 0.5, "C": 0}
    cut = standing.cut
    assert cut.projected_line_interval_80 == (400, 400)
    assert [(one.total, one.pins_per_game, one.is_possible) for one in cut.needed] == [
        (400, None, True),
        (401, None, False),
        (401, None, False),
    ]


def test_chances_add_up_to_the_places_of_the_cut():
    squad = load_event(DEMO / "event.toml").squad
    rng = np.random.default_rng(2)
    field = [
        FieldScore(one.name, game, int(rng.normal(190, 27))) for one in squad for game in (1, 2)
    ]
    standing = standing_of(event(entries=28, cut_to=10), field, SEED)
    assert sum(one.cut_chance for one in standing.field) == pytest.approx(10)
    needed = [one.total for one in standing.cut.needed]
    assert needed == sorted(needed)


def test_a_stage_says_who_goes_on_and_without_one_nobody_does():
    staged = Format(stages=(Stage(StageKind.BLOCK, 3),))
    assert standing_of(event(cut_to=None, format=staged), FIELD, SEED).cut.to == 3
    nobody = standing_of(event(cut_to=None), FIELD, SEED)
    assert nobody.cut is None
    assert {one.cut_chance for one in nobody.field} == {None}


def test_a_needed_game_is_told_without_the_handicap_and_by_the_events_rule():
    rule = Format(handicap=HandicapRule(base=220, percent=90))
    told = [FieldScore("Bo", 1, 200, 9), replace(FIELD[0], average=200, handicap=18)]
    standing = standing_of(event(format=rule), told, SEED)
    need, own = standing.cut.needed[1], next(one for one in standing.field if one.name == ME)
    assert own.total == 219
    assert need.pins_per_game == pytest.approx((need.total - 219) / 3 - 18)
    (unwritten,) = [
        one for one in standing_of(event(format=rule), [], SEED).field if one.name == ME
    ]
    assert unwritten.handicap == (220 - int(event().bowler.average)) * 90 // 100


def test_a_game_without_handicap_has_what_the_events_rule_gives():
    rule = Format(handicap=HandicapRule(base=230, percent=90))
    bowled = [
        FieldScore(ME, 1, 190),
        FieldScore(ME, 2, 190),
        FieldScore("Bo", 1, 200, average=200),
    ]
    by_rule = {one.name: one for one in standing_of(event(format=rule), bowled, SEED).field}
    given = (230 - int(event().bowler.average)) * 90 // 100
    assert (by_rule[ME].handicap, by_rule[ME].total) == (given, 2 * (190 + given))
    assert by_rule["Bo"].total == 200 + 27
    scratch = {one.name: one for one in standing_of(event(), bowled, SEED).field}
    assert (scratch[ME].total, scratch["Bo"].total) == (380, 200)


def test_what_is_out_of_reach_is_said_to_be():
    field = scores(me=[100, 100, 100], a=[290] * 4, b=[280] * 4, c=[270] * 4)
    cut = standing_of(event(entries=4, games=4), field, SEED).cut
    assert not any(one.is_possible for one in cut.needed)
    assert cut.chance == 0


def test_the_same_seed_gives_the_same_standing():
    assert standing_of(event(), FIELD, SEED) == standing_of(event(), FIELD, SEED)
    assert standing_of(event(), FIELD, SEED) != standing_of(event(), FIELD, SEED + 1)


def test_everybody_whom_nobody_has_seen_is_in_the_field():
    few, many = (standing_of(event(entries=n), FIELD, SEED) for n in (6, 60))
    assert many.cut.chance < few.cut.chance
    assert many.entries == 60
    assert any("55 of 60 entrants" in words for words in many.cautions)


def test_scores_past_the_last_game_and_missing_ones_are_told():
    field = [*FIELD, FieldScore("Bo", 5, 300), FieldScore("Finn", 2, 180)]
    standing = standing_of(event(), field, SEED)
    assert next(one for one in standing.field if one.name == "Bo").games == (220, 215)
    finn = next(one for one in standing.field if one.name == "Finn")
    assert (finn.games, finn.games_left) == ((None, 180), 3)
    assert sum("games 5 are past" in words or "Finn" in words for words in standing.cautions) == 2


def test_a_bowler_without_a_score_is_told_of():
    standing = standing_of(event(), FIELD[2:], SEED)
    assert standing.games_bowled == 0
    assert any(f"no score of {ME} yet" in words for words in standing.cautions)
    nothing = standing_of(event(), [], SEED)
    assert (nothing.condition.bowlers, nothing.condition.own_sds) == (0, None)


def test_the_condition_is_told_in_standard_deviations_of_the_field():
    condition = standing_of(event(), FIELD, SEED).condition
    means = [195.0, 217.5, 178.0, 195.0, 160.0]
    assert condition.mean_pins == pytest.approx(np.mean(means))
    sd = np.std(means, ddof=1)
    assert condition.bowler_sd_pins == pytest.approx(sd)
    assert condition.own_sds == pytest.approx((195 - np.mean(means)) / sd)
    first = condition.by_game[0]
    pins = [201, 220, 180, 190, 170]
    assert (first.bowlers, first.own_pins) == (5, 201)
    assert first.own_sds == pytest.approx((201 - np.mean(pins)) / np.std(pins, ddof=1))
