"""Kept events as outings: scores against the field, balls and lines, and whose they are."""

from __future__ import annotations

import csv
from collections import defaultdict
from datetime import date
from statistics import fmean
from uuid import uuid4

import pytest

from nextpair.application.events import take_in_event
from nextpair.application.house_book import add_visit
from nextpair.application.outings import kept_outings, own_bowler
from nextpair.domain.house_book import Visit
from nextpair.domain.record import Kind
from outings import FILES, OTHER, OWNER, PAPERS, empty_store, keep_demo, outing

ALL_TEN = "-".join(map(str, range(1, 11)))


def kept(*events):
    store, account = empty_store()
    for changes in events:
        keep_demo(store, account, **changes)
    return kept_outings(store, PAPERS, account)


def test_an_event_tells_its_games_and_how_they_were_against_everybody_else():
    told = kept({}).own[0]
    by_game: dict[int, dict[str, int]] = defaultdict(dict)
    for row in csv.DictReader(FILES["scores.csv"].splitlines()):
        by_game[int(row["game"])][row["name"]] = int(row["score"])
    mine = {game: pins[OWNER] for game, pins in by_game.items() if OWNER in pins}
    against = [
        pins - fmean(score for name, score in by_game[game].items() if name != OWNER)
        for game, pins in mine.items()
    ]
    assert told.games == len(mine) == 4
    assert told.mean_pins == pytest.approx(fmean(mine.values()))
    assert told.field_pins == pytest.approx(fmean(against))
    assert told.others == len({name for pins in by_game.values() for name in pins}) - 1


def test_balls_and_lines_are_those_of_the_shots():
    told = kept({}).own[0]
    rows = csv.DictReader(FILES["shots.csv"].splitlines())
    full = [row for row in rows if row["game"] != "0" and row["standing_before"] == ALL_TEN]
    assert sum(one.strikes.tried for one in told.balls) == len(full)
    assert sum(one.strikes.made for one in told.balls) == sum(
        row["standing_after"] == "0" for row in full
    )
    assert {one.ball for one in told.lines} <= {one.ball for one in told.balls}


def test_whose_account_it_is_shows_in_whose_events_are_kept():
    theirs = [outing(bowler=OTHER), outing(bowler=OWNER), outing(bowler=OWNER)]
    assert own_bowler(theirs) == OWNER
    newest = [outing(bowler=OWNER), outing(bowler=OTHER, date=outing().date.replace(month=8))]
    assert own_bowler(newest) == OTHER
    assert own_bowler([]) is None


def test_an_event_of_somebody_else_is_not_ones_own():
    told = kept(
        {},
        {"name": '"Second Open"', "date": "2026-11-07"},
        {"name": '"Their Open"', "bowler_name": f'"{OTHER}"'},
    )
    assert told.bowler == OWNER
    assert {one.event for one in told.own} == {"Samphire Scratch Singles", "Second Open"}
    assert [one.event for one in told.all if not one.is_own] == ["Their Open"]
    assert told.all[0].event == "Second Open", "newest first"


def test_an_event_without_a_score_is_named_and_told_no_further():
    store, account = empty_store()
    del (files := dict(FILES))["scores.csv"], files["shots.csv"]
    take_in_event(store, PAPERS, account, files)
    told = kept_outings(store, PAPERS, account)
    assert (told.all, told.not_bowled) == ((), ("Samphire Scratch Singles",))


def visit(**facts):
    told = {"games": 6, "pins": 1218, "length_ft": 44.0, "volume_ml": 26.0, "event": "Away Open"}
    return Visit(id=uuid4(), date=date(2026, 3, 7), **(told | facts))


def test_a_visit_with_games_counts_where_no_kept_event_tells_them():
    store, account = empty_store()
    event = keep_demo(store, account)
    house = store.records(account, Kind.HOUSE)[0]
    for one in (
        visit(),
        visit(event_id=event, event="told by its scores"),
        visit(length_ft=None, event="of no known length"),
        visit(games=0, pins=0, event="nothing bowled"),
    ):
        add_visit(store, account, house.id, one)
    told = kept_outings(store, PAPERS, account)
    assert [one.event for one in told.own] == ["Samphire Scratch Singles", "Away Open"]
    away = told.own[1]
    assert (away.games, away.mean_pins, away.field_pins) == (6, 203.0, None)
    assert (away.house, away.surface.value) == (house.name, house.document["surface"])
    assert away.bowler == OWNER
