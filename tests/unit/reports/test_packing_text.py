"""The packing list as text and as JSON; the guide's example is what the program prints."""

from __future__ import annotations

import json
from dataclasses import replace

from event_folder import DEMO
from nextpair.application.packing import packing_list
from nextpair.domain.kit import Kit, Stock
from nextpair.domain.packing import Missed
from nextpair.domain.sheet import BagItem
from nextpair.files import load_event
from nextpair.reports.packing_json import packing_document, packing_parts, render_packing_json
from nextpair.reports.packing_text import render_packing_text
from source_tree import ROOT

GUIDE = ROOT / "docs" / "guide" / "packing.md"
BAG = (
    BagItem("Candle Stub", 1000, 2.4, "The ball you throw most."),
    BagItem("Wet Sailcloth", 500, 0.2, "For game 6."),
    BagItem("Chalk Slip", 1500, 0.0, "Insurance."),
    BagItem("Plain Thimble", "polished", 0.0, "Spares."),
)
STRAP = "quartz wrist band"


def the_list(**more):
    return packing_list(load_event(DEMO / "event.toml"), BAG, **more)


def with_strap():
    event = load_event(DEMO / "event.toml")
    bowler = replace(event.bowler, straps=(STRAP,))
    return packing_list(replace(event, bowler=bowler), BAG)


def test_the_guide_shows_what_the_program_prints():
    shown = GUIDE.read_text("utf-8").partition("## An example")[2].partition("\n## ")[0]
    block = [line[4:] for line in shown.strip("\n").splitlines()[2:]]
    told = render_packing_text(the_list().for_others).splitlines()
    start = told.index(block[0])
    assert told[start : start + len(block)] == block
    assert len(block) > 20


def test_weights_stock_and_what_was_missing_are_told():
    kit = Kit("Away", stock=(Stock("Glue", 0.0, 1.0),))
    told = render_packing_text(the_list(kit=kit, missing=(Missed("Towel", ("Reed Open",)),)))
    assert told.index("MISSING LAST TIME") < told.index("BALLS")
    assert "BUY MORE" in told
    assert "Case 1: Candle Stub, Wet Sailcloth, Chalk Slip." in told
    assert all(len(line) <= 80 for line in told.splitlines())


def test_json_holds_every_item_and_the_weights():
    packing = the_list()
    told = json.loads(render_packing_json(packing))
    assert [item["item"] for item in told["items"]] == [item.item for item in packing.items]
    assert told["cases"][0]["over_lb"] == packing.cases[0].over_lb


def test_a_pocket_has_no_private_line_whatever_list_it_is_made_of():
    packing = with_strap()
    assert STRAP in json.dumps(packing_document(packing))
    told = packing_parts(packing)
    assert STRAP not in json.dumps(told)
    assert set(told["packing"][0]) == {"item", "many", "why", "group"}
