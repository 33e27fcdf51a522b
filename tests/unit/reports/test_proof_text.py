"""The proof on a terminal and as JSON."""

from __future__ import annotations

import json

from nextpair.reports.proof_text import render_proof_text
from nextpair.reports.sheet_json import render_proof_json
from unit.reports.proof_factory import a_proof


def test_figures_say_what_is_asked_and_whether_it_is_met():
    text = " ".join(render_proof_text(a_proof(), 100).split())
    for words in (
        "2 events, 3 worlds, 12 games; seed 7, model abc",
        "gain over the rule: 7.1 (2.0 to 12.2) pins a game; at least 5, aim 12: met",
        "bag loss: 2.4 (2.1 to 2.7) pins a game; at most 2: NOT met",
        "within the interval: 79.6 %; 80 give or take 8, aim 3: met",
        "planner 186.2 4.0",
        "over: rule of 31: +7.1",
    ):
        assert words in text


def test_json_has_the_same_and_says_what_is_met():
    document = json.loads(render_proof_json(a_proof()))
    assert [figure.get("met") for figure in document["figures"]] == [True, False, True]
    assert document["kinds"][0]["contenders"][0]["regret"]["low"] == 1.0
    assert document["figures"][2]["low"] is None
