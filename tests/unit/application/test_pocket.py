"""The pocket of the small event: whole, the event's own, and without anything private."""

from __future__ import annotations

import json
import re
import zlib
from dataclasses import replace
from decimal import Decimal
from functools import cache
from uuid import UUID

import pytest

from contracts.frozen_programs import frozen_programs, missing, shape, told_by
from nextpair.application.pocket import alike_leaves, field_of, id_of_files, pocket_of
from nextpair.application.spare_plan import leaves_with_odds, shoot_spares
from nextpair.carry.spares import shipped_spares
from nextpair.domain.event import Event
from nextpair.domain.format import (
    Counting,
    Format,
    HandicapRule,
    PinsTaken,
    Rounding,
    Stage,
    StageKind,
)
from nextpair.domain.money import Money
from nextpair.domain.pocket import Pocket
from nextpair.reports.pocket_json import pocket_document, render_pocket_json
from nextpair.reports.sheet_json import render_sheet_json
from nextpair.scoring.leaves import FULL_RACK, leave_text, parse_leave, standing_pins
from small_event import SEED, small_event, small_sheet

MADE_AT = "2026-10-16T20:00:00+00:00"
LARGEST_PACKED_BYTES = 300_000
WATCHED = "a sore left knee"
FEE = 4321.5
PRIZES = (Decimal("987.65"), Decimal("654.32"), Decimal("321.09"))
DECIDED = (
    "average", "counting", "cut_to", "entries", "handicap", "places_paid", "stages",
)  # fmt: skip
PRIVATE = re.compile("care|money|fee$|fees|prize|watch|currency|expense")


@cache
def small_pocket() -> Pocket:
    event = small_event()
    private = replace(
        event,
        bowler=replace(event.bowler, care=(WATCHED,)),
        money=replace(event.money, entry_fee=FEE),
    )
    spares = shoot_spares(event, None, SEED)
    return pocket_of(private, SEED, MADE_AT, sheet=small_sheet(), spares=spares)


@cache
def small_document() -> dict:
    return json.loads(render_pocket_json(small_pocket()))


BY_LEAVE = ("spares", "spares_alike")


def form_of(document: dict) -> object:
    """What a document is made of; what is kept by leave, by what any leave has."""
    by_leave = {key: list(document[key].values()) for key in BY_LEAVE if key in document}
    return shape(document | by_leave)


@pytest.mark.parametrize("name", frozen_programs())
def test_an_older_phone_finds_every_key_that_it_reads(name):
    before = told_by(name)
    assert missing(form_of(before["pocket"]), form_of(small_document())) == []
    assert before["pocket"]["pocket"] == small_document()["pocket"], "it refuses another form"


@pytest.mark.parametrize("name", frozen_programs())
def test_what_reads_an_older_sheet_finds_every_key_in_a_new_one(name):
    sheet = json.loads(render_sheet_json(small_sheet()))
    assert missing(form_of(told_by(name)["sheet"]), form_of(sheet)) == []


def decided_event() -> Event:
    stages = (
        Stage(StageKind.BLOCK, 12, 4, PinsTaken.CARRIED),
        Stage(StageKind.STEP_LADDER, 5),
    )
    handicap = HandicapRule(220, 90, Rounding.HALF_UP, most=60)
    event = small_event()
    return replace(
        event,
        format=Format(Counting.CURRENT_FRAME, handicap, stages),
        money=replace(event.money, entries=50, cut_to=12, prizes=PRIZES),
    )


def keys_of(value) -> set[str]:
    if isinstance(value, dict):
        return set(value).union(*map(keys_of, value.values()))
    return set().union(*map(keys_of, value)) if isinstance(value, list) else set()


def test_nothing_of_money_or_of_the_body_is_in_it():
    text = render_pocket_json(small_pocket())
    assert WATCHED not in text
    assert str(FEE) not in text
    named = keys_of(small_document())
    assert {name for name in named if PRIVATE.search(name)} == set()


def test_how_the_event_is_decided_is_in_it_without_an_amount():
    event = decided_event()
    told = pocket_document(replace(small_pocket(), field=field_of(event)))
    named = {name: told["event"][name] for name in DECIDED}
    assert named == {
        "average": event.bowler.average,
        "counting": "current-frame",
        "cut_to": 12,
        "entries": 50,
        "handicap": {"base": 220, "percent": 90, "rounding": "half-up", "most": 60},
        "places_paid": 3,
        "stages": [
            {"kind": "block", "entrants": 12, "games": 4, "pins": "carried"},
            {"kind": "step-ladder", "entrants": 5, "games": 1, "pins": "reset"},
        ],
    }
    assert [(one["name"], one["pair"], one["hand"]) for one in told["squad"]] == [
        (one.name, str(one.pair), one.hand) for one in event.squad
    ]
    assert not any(str(prize) in json.dumps(told) for prize in event.money.prizes)


def test_a_squad_is_entered_whatever_the_money_says():
    event = small_event()
    alone = replace(event, money=replace(event.money, entries=1, cut_to=None))
    assert field_of(alone).entries == len(event.squad)


def test_an_event_has_money_to_keep_private():
    assert isinstance(small_event().money, Money)


def test_every_leave_has_an_answer():
    known = [leave_text(mask) for mask in leaves_with_odds()]
    others = dict(alike_leaves(known))
    assert {*known, *others} == {leave_text(mask) for mask in range(1, FULL_RACK + 1)}
    assert set(others.values()) <= set(known)
    assert not set(others) & set(known)


def test_every_leave_that_was_rolled_at_is_shot_at():
    assert set(leaves_with_odds()) == {1 << pin for pin in range(10)} | set(
        shipped_spares().leaves
    )


def test_what_is_alike_has_the_same_foremost_pin():
    for leave, like in small_document()["spares_alike"].items():
        one, other = (standing_pins(parse_leave(text))[0] for text in (leave, like))
        assert one == other


def test_of_leaves_alike_the_one_that_fewest_pins_differ_from():
    assert dict(alike_leaves(["1", "1-2", "1-2-4-7", "10"]))["1-2-4"] == "1-2"
    assert dict(alike_leaves(["1", "1-2-4-7-8", "10"]))["1-2-4-7"] == "1-2-4-7-8"
    assert "3-10" not in dict(alike_leaves(["1", "10"]))


def test_a_pocket_fits():
    packed = zlib.compress(render_pocket_json(small_pocket()).encode(), 9)
    assert len(packed) < LARGEST_PACKED_BYTES


def test_an_event_of_files_keeps_its_id():
    event = small_event()
    assert id_of_files(event) == id_of_files(replace(event, games=4))
    assert id_of_files(event) != id_of_files(replace(event, name="Another Night"))
    assert small_pocket().event_id == id_of_files(event)


def test_an_event_of_a_store_has_the_stores_id():
    kept = UUID(int=7)
    spares = small_pocket().spares
    found = pocket_of(small_event(), SEED, MADE_AT, kept, sheet=small_sheet(), spares=spares)
    assert found.event_id == kept


def test_every_ball_is_told_and_those_of_the_bag_with_their_new_surface():
    document = small_document()
    assert {ball["ball"] for ball in document["balls"]} == {
        ball.name for ball in small_event().locker
    }
    brought = {
        (ball["ball"], ball["surface_grit"]) for ball in document["balls"] if ball["in_bag"]
    }
    assert brought == {(item.ball, item.surface_grit) for item in small_sheet().bag}


@pytest.mark.parametrize("game", range(2))
def test_lanes_are_told_in_tenths_of_a_board_and_steps_of_colour(game):
    planned, told = small_sheet().games[game], small_document()["games"][game]
    for lane, short in zip(planned.lanes, told["lanes"], strict=True):
        assert short["lane"] == lane.lane
        for tenths, board in zip(short["path"], lane.path_boards, strict=True):
            assert tenths / 10 == pytest.approx(board, abs=0.051)
        assert len(short["band"]) == 60
        assert [len(row) for row in short["film"]] == [39] * 60
        assert set("".join(short["film"])) <= set("0123456789a")


def test_a_document_is_that_of_a_pocket_as_the_phone_knows_it():
    document = pocket_document(small_pocket())
    assert document["app"] == "nextpair"
    assert document["pocket"] == 1
    assert document["made_at"] == MADE_AT
    assert [pair["game"] for pair in document["pairs"]] == [1, 2]
    assert document["pairs"][0]["lanes"] == [13, 14]
