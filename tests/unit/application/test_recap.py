"""A recap by scores, shots and lessons: counted anew here from the bundled event's own files."""

from __future__ import annotations

import csv
from collections import defaultdict
from dataclasses import fields, is_dataclass, replace
from datetime import timedelta
from decimal import Decimal
from statistics import fmean
from typing import get_args, get_type_hints
from uuid import uuid4

import pytest

from event_folder import DEMO
from nextpair.application.recap import SHARED_KINDS, recap_of
from nextpair.application.shot_jottings import NotedShot
from nextpair.domain import recap as recap_module
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.field_score import FieldScore
from nextpair.domain.lesson import Change, ChangeKind, Lesson
from nextpair.domain.recap import Recap, RecapMoney
from nextpair.domain.sheet import BagItem
from nextpair.domain.shot_log import LoggedShot
from nextpair.files import load_event, load_scores, load_shots

EVENT = load_event(DEMO / "event.toml")
SCORES = load_scores(DEMO / "scores.csv")
SHOTS = [NotedShot(shot, foul=False) for shot in load_shots(DEMO / "shots.csv", EVENT)]
ME = EVENT.bowler_name
ALL_PINS = frozenset(range(1, 11))


def rows():
    with (DEMO / "scores.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def a_lesson(kind=ChangeKind.SURFACE, **changes):
    change = Change(kind, f"words of {kind.value}", item="tape" if kind == "packing" else None)
    return replace(Lesson("key", "found", change, EVENT.name, EVENT.date, True), **changes)


def test_scores_place_and_field_are_those_of_the_file():
    recap = recap_of(EVENT, SCORES, ())
    own = [int(row["score"]) for row in rows() if row["name"] == ME]
    assert [game.score for game in recap.games] == own
    assert recap.total_pins == sum(own)
    assert recap.average_pins == pytest.approx(fmean(own))
    assert recap.high_game.score == max(own)
    by_name = defaultdict(list)
    for row in rows():
        by_name[row["name"]].append(int(row["score"]))
    means = {name: fmean(scores) for name, scores in by_name.items()}
    assert recap.place == 1 + sum(mean > means[ME] for mean in means.values())
    assert recap.field == len(means)
    for game in recap.games:
        of_game = [int(row["score"]) for row in rows() if row["game"] == str(game.game)]
        assert game.field_pins == pytest.approx(fmean(of_game))
        assert game.pair == str(EVENT.pair_in_game(EVENT.start_pair, game.game))


@pytest.mark.parametrize("shots", [(), SHOTS], ids=["scores alone", "with some shots"])
def test_marks_are_counted_from_the_written_games(shots):
    """By the marks of the file: X is a strike, / a spare, and a frame without either is open.
    Shots that do not finish a game take nothing away from it."""
    counts = recap_of(EVENT, SCORES, shots).counts
    written = [row["balls"] for row in rows() if row["name"] == ME]
    frames = [frame for balls in written for frame in balls.split(",")]
    assert counts is not None
    assert counts.games == 4
    assert counts.strikes == sum(frame.count("X") for frame in frames)
    assert counts.spares == sum("/" in frame for frame in frames)
    assert counts.opens == sum(not {"X", "/"} & set(frame) for frame in frames)
    assert counts.spares_tried == counts.spares + counts.opens


def a_game(game, ball, target_board, strikes_after=0):
    """Ten frames: strikes up to one, and from there on a 10 pin made with the plastic ball."""
    lanes = EVENT.pair_in_game(EVENT.start_pair, game).lanes
    for frame in range(1, 11):
        struck = frame <= strikes_after
        left = frozenset() if struck else frozenset({10})
        shot = LoggedShot(
            uuid4(), "", game, frame, 1, lanes[frame % 2], ball, target_board=target_board,
            standing_before=ALL_PINS, standing_after=left,
        )  # fmt: skip
        yield NotedShot(shot, foul=False)
        if left:
            made = replace(shot, id=uuid4(), delivery=2, ball="Plain Thimble",
                           standing_before=left, standing_after=frozenset())  # fmt: skip
            yield NotedShot(made, foul=False)
    fill = replace(shot, id=uuid4(), delivery=3, standing_before=ALL_PINS,
                   standing_after=frozenset({7}))  # fmt: skip
    yield NotedShot(fill, foul=False)


def test_shots_make_games_balls_and_lines():
    shots = [*a_game(1, "Slate Weir", 12.0), *a_game(2, "Osier Bundle", 17.0, strikes_after=5)]
    recap = recap_of(EVENT, (), shots)
    # Nine spares of 19, and one with a fill ball of 9; then 4 x 30 + 29 + 20 frames of strikes.
    assert recap.games[0].score == 9 * 19 + 19
    assert recap.games[1].score == 3 * 30 + 29 + 20 + 4 * 19 + 19
    assert [(game.ball, game.target_board) for game in recap.games] == [
        ("Slate Weir", 12.0), ("Osier Bundle", 17.0),
    ]  # fmt: skip
    assert (recap.place, recap.field) == (None, 1)
    assert recap.games[0].field_pins is None
    bag = {ball.ball: ball for ball in recap.bag}
    assert list(bag) == ["Slate Weir", "Plain Thimble", "Osier Bundle"]
    assert (bag["Slate Weir"].thrown, bag["Slate Weir"].strikes) == ((11, 0), 0)
    assert (bag["Osier Bundle"].first_balls, bag["Osier Bundle"].strikes) == (11, 5)
    spares = bag["Plain Thimble"]
    assert (spares.spares, spares.spares_tried, spares.thrown) == (15, 15, (10, 5))
    assert recap.counts is not None
    assert recap.counts.longest_string == 5


def test_a_game_is_told_as_it_was_bowled_whatever_was_written_down():
    written = [FieldScore(ME, 1, 250), FieldScore("Bo Farr", 1, 180)]
    assert recap_of(EVENT, written, list(a_game(1, "Slate Weir", 12.0))).games[0].score == 190


def test_shots_of_a_game_under_way_do_not_count():
    recap = recap_of(EVENT, SCORES, SHOTS)
    assert {game.game for game in recap.games} == {1, 2, 3, 4}
    more = [*a_game(5, "Slate Weir", 12.0)][:-1]
    assert recap_of(EVENT, SCORES, [*SHOTS, *more]).counts == recap.counts


def test_a_planned_ball_that_nobody_threw_stays_in_the_bag():
    planned = (BagItem("Alder Bark", 3000, 0.4, "Covers a dry lane."),)
    ball = recap_of(EVENT, SCORES, SHOTS, planned_bag=planned).bag[-1]
    assert (ball.ball, ball.surface, ball.purpose) == (
        "Alder Bark", "3000", "Covers a dry lane.",
    )  # fmt: skip
    assert sum(ball.thrown) == 0


def test_a_surface_put_on_at_the_event_is_told():
    [ball] = recap_of(EVENT, SCORES, SHOTS).bag
    assert (ball.ball, ball.surface) == ("Candle Stub", "1000")


def test_without_a_game_there_is_nothing_to_tell():
    with pytest.raises(InvalidValueError, match=f"a game that {ME} has finished"):
        recap_of(EVENT, [score for score in SCORES if score.name != ME], ())


@pytest.mark.parametrize("kind", ChangeKind)
def test_only_lessons_that_anybody_may_read_are_told(kind):
    told = recap_of(EVENT, SCORES, (), [a_lesson(kind)]).learned
    assert told == ((f"words of {kind.value}",) if kind in SHARED_KINDS else ())
    assert {"release", "packing", "house note", "practice"}.isdisjoint(SHARED_KINDS)


def test_lessons_that_were_dropped_or_of_another_event_are_not_told():
    lessons = [
        a_lesson(accepted=False),
        a_lesson(event="Another Open"),
        a_lesson(date=EVENT.date + timedelta(days=365)),
    ]
    assert recap_of(EVENT, SCORES, (), lessons).learned == ()


def test_money_is_told_only_where_it_is_asked_for():
    assert recap_of(EVENT, SCORES, ()).money is None
    money = recap_of(EVENT, SCORES, (), with_money=True).money
    # 95 + 48 + 72 + 31.50 + 6 games at 8 + 20 + 3 brackets at 5
    assert money == RecapMoney("EUR", Decimal("329.50"), None, None)


def kinds_in(kind, met):
    """Every dataclass that a field of another may hold."""
    if is_dataclass(kind) and kind not in met:
        met.add(kind)
        for hint in get_type_hints(kind, vars(recap_module)).values():
            kinds_in(hint, met)
    for inner in get_args(kind):
        kinds_in(inner, met)
    return met


def test_a_recap_has_no_place_for_what_is_private():
    names = {field.name for kind in kinds_in(Recap, set()) for field in fields(kind)}
    private = {"care", "watch", "straps", "private", "private_notes", "notes", "diary", "name"}
    assert names & private == {"name"}, "the pattern's"
    money = {
        field.name for kind in kinds_in(Recap, set()) - {RecapMoney} for field in fields(kind)
    }
    assert {"cost", "won", "result", "currency", "fee", "prize"}.isdisjoint(money)
