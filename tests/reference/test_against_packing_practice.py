"""The packing rules against a decision table: what an event is like, and what that puts on the
list. Common practice, from memory.
"""

from __future__ import annotations

import tomllib
from dataclasses import replace

import pytest

from nextpair.application.packing import packing_list
from nextpair.application.packing_rules import RULES
from nextpair.domain.bowler import Style
from nextpair.domain.event import Event, SurfaceChanges
from nextpair.domain.format import Format, Stage, StageKind
from nextpair.domain.house import Approach
from nextpair.domain.packing import PackItem
from nextpair.domain.sheet import BagItem
from small_event import small_event
from source_tree import ROOT

TABLE = tomllib.loads((ROOT / "tests/reference/data/packing.toml").read_text("utf-8"))
ROWS = TABLE["row"]
BAG = (
    BagItem("Slate Weir", 1000, 2.0, "For games 1 and 2."),
    BagItem("Dunlin Flock", 3000, 1.0, "When the lane dries.", surface_by="hand"),
    BagItem("Plain Thimble", "polished", 3.0, "For spares."),
)
ALWAYS = {
    "bag", "towels", "cleaner", "fingers", "dry hand", "straps", "soles", "shoes", "plan",
    "entry", "food",
}  # fmt: skip
"""Rules that look at how many or which, not at whether."""


def event_of(row: dict) -> Event:
    event = small_event()
    bowler, house = event.bowler, event.house
    if "style" in row:
        bowler = replace(bowler, style=Style(row["style"]))
    bowler = replace(bowler, care=tuple(row.get("care", ())), straps=tuple(row.get("straps", ())))
    if "approach" in row:
        house = replace(house, approach=Approach(row["approach"]))
    stages = tuple(
        Stage(StageKind(one["kind"]), one["entrants"], one["games"])
        for one in row.get("stages", ())
    )
    limit = row.get("ball_limit", event.ball_limit)
    return replace(
        event,
        bowler=bowler,
        house=replace(house, approach=Approach(row.get("approach", "medium"))),
        games=row.get("games", event.games),
        move_pairs=row.get("move_pairs", event.move_pairs),
        ball_limit=None if limit == "none" else limit,
        surface_changes=SurfaceChanges(row.get("surface_changes", "before")),
        money=replace(event.money, cut_to=stages[0].entrants if stages else None),
        format=Format(stages=stages),
    )


def listed(row: dict) -> dict[str, PackItem]:
    names = row.get("bag", [item.ball for item in BAG])
    bag = tuple(item for item in BAG if item.ball in names)
    return {item.item: item for item in packing_list(event_of(row), bag).items}


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["name"])
def test_a_row_lists_what_it_must_and_how_many_of_it(row):
    found = listed(row)
    assert {name: found[name].many for name in row["lists"]} == row["lists"]
    assert not set(row["leaves_out"]) & set(found)


def test_the_plain_event_lists_that_and_its_food_and_nothing_else():
    found = {name for name, item in listed(ROWS[0]).items() if item.rule != "food"}
    assert found == set(ROWS[0]["lists"])


@pytest.mark.parametrize("rule", RULES)
def test_every_rule_fires_in_some_row_and_unless_it_always_does_not_in_another(rule):
    fires = [any(item.rule == rule for item in listed(row).values()) for row in ROWS]
    assert any(fires)
    assert all(fires) is (rule in ALWAYS)


@pytest.mark.parametrize("rule", sorted(ALWAYS - {"cleaner", "fingers", "dry hand", "straps"}))
def test_a_rule_that_always_fires_lists_something_else_in_another_row(rule):
    told = {
        tuple((item.item, item.many) for item in listed(row).values() if item.rule == rule)
        for row in ROWS
    }
    assert len(told) > 1 or rule in {"shoes", "plan", "entry"}


def test_the_private_rules_and_no_others_list_private_things():
    row = next(row for row in ROWS if row["name"] == "something is worn and watched")
    private = {item.rule for item in listed(row).values() if item.private}
    assert private == {"own straps", "own care"}
