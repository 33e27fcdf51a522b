"""A debrief told: what went well first, findings with what shows them, no money unasked."""

from __future__ import annotations

import json
import re
from dataclasses import replace

import pytest

from debriefs import HOUSE_NOTE, MONEY, SINGLE_PINS, SURFACE, a_debrief, without_findings
from nextpair.domain.debrief import FieldTold
from nextpair.domain.lesson import Change, ChangeKind, Lesson
from nextpair.reports.debrief_json import render_debrief_json
from nextpair.reports.debrief_text import decided_words, render_debrief_text
from nextpair.reports.debrief_words import (
    cost_words,
    decision_words,
    field_words,
    fields_words,
    regret_words,
    spare_words,
    where_words,
)
from source_tree import DOCS

SHAMING = re.compile(
    r"\b(bad|poor|terrible|fail\w*|fault|wasted?|worst|stupid|choked?|blew|sorry|should have)\b"
)


def decided(finding, accepted: bool = True, done: bool = False) -> Lesson:
    debrief = a_debrief()
    return Lesson(
        finding.key, finding.words, finding.change, debrief.event, debrief.date, accepted, done
    )


def test_what_went_well_comes_before_what_it_taught():
    text = render_debrief_text(a_debrief())
    assert text.index("WHAT WENT WELL") < text.index("WHAT IT TAUGHT") < text.index("GAME BY GAME")


def test_something_went_well_even_where_nothing_is_told():
    text = render_debrief_text(replace(a_debrief(), went_well=()))
    assert "3 games finished and 52 shots written down" in " ".join(text.split())


@pytest.mark.parametrize("columns", [80, 100])
def test_no_line_is_wider_than_the_page(columns):
    text = render_debrief_text(a_debrief(), (), MONEY, columns)
    assert max(map(len, text.splitlines())) <= columns
    assert text.isascii()


def test_findings_have_what_shows_them_and_what_to_do():
    text = " ".join(render_debrief_text(a_debrief()).split()).casefold()
    for finding in a_debrief().findings:
        for said in (finding.words, finding.change.words, finding.key, *finding.evidence):
            assert said.casefold() in text
    assert "about 6.4 pins a game, 93 % sure" in text
    assert cost_words(HOUSE_NOTE) == "90 % sure"


def test_a_day_like_any_other_accuses_nobody():
    text = " ".join(render_debrief_text(without_findings()).split())
    assert "Nothing stands out" in text
    assert "Next time" not in text


def test_no_words_put_anybody_down():
    text = render_debrief_text(a_debrief(), (), MONEY) + render_debrief_text(without_findings())
    assert SHAMING.findall(text.casefold()) == []


def test_what_was_decided_stands_beside_its_finding():
    lessons = (decided(SURFACE), decided(SINGLE_PINS, accepted=False))
    text = render_debrief_text(a_debrief(), lessons)
    assert "on every pair. (accepted)" in text
    assert "chances say. (dropped)" in text
    assert decision_words(HOUSE_NOTE, lessons) is None
    assert decision_words(SURFACE, (decided(SURFACE, done=True),)) == "learned"


def test_money_is_told_only_where_it_is_given():
    for render in (render_debrief_text, render_debrief_json):
        assert "240.37" not in render(a_debrief())
        assert "240.37" in render(a_debrief(), (), MONEY)
    assert json.loads(render_debrief_json(a_debrief()))["money"] is None


def test_the_rows_of_the_account_add_up_as_they_stand():
    rows = re.findall(
        r"^ +(\d+|all) +(\d+\.\d)((?: +(?:[+-]\d+\.\d|-))+) +(\d+) +\d+$",
        render_debrief_text(a_debrief()), re.MULTILINE,
    )  # fmt: skip
    assert [row[0] for row in rows] == ["1", "2", "3", "all"]
    for _, planned, parts, score in rows:
        tenths = sum(round(10 * float(part)) for part in parts.split() if part != "-")
        assert round(10 * float(planned)) + tenths == 10 * int(score)


def test_low_scores_of_the_whole_field_are_said_to_be_the_fields():
    low, usual = FieldTold(1, 170, 172.0, -0.1), FieldTold(2, 210, 196.0, 0.6)
    first, second = fields_words(replace(a_debrief(), field=(low, usual)))
    assert first.endswith("12 under its mean here: low for everybody, not for you alone.")
    assert second.endswith("0.6 standard deviations over it.")


def test_a_low_game_of_ones_own_is_not_put_on_the_field():
    assert "everybody" not in field_words(FieldTold(1, 150, 172.0, -1.1), 190.0, True)
    assert "everybody" not in field_words(FieldTold(1, 172, 190.0, -0.3), 190.0, True)


def test_hindsight_is_told_in_words_for_who_sees_no_picture():
    words = regret_words(a_debrief().games)
    assert "game 1 3.5, game 2 11.0, game 3 3.5" in words
    assert "Nobody knew that then." in words
    nothing = [replace(game, regret_pins=0.4) for game in a_debrief().games]
    assert "as good as the best" in regret_words(nothing)


def test_chance_is_told_of_spares_that_were_missed_alone():
    _, single_pins, split = a_debrief().spares
    assert spare_words(single_pins).endswith("come by chance in 3 %")
    assert "chance" not in spare_words(split)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (Change(ChangeKind.PACKING, "x", item="tape"), "packing lists"),
        (Change(ChangeKind.DRILL, "x"), "sheets of the events to come."),
        (HOUSE_NOTE.change, "at Quernstone Lanes"),
        (SURFACE.change, "with the Slate Weir in the locker"),
        (Change(ChangeKind.PATTERN_NOTE, "x", pattern="Reed 41", length_ft=41.0), "about as long"),
        (Change(ChangeKind.MOVES, "x"), "sheets of the events to come."),
    ],
)
def test_it_is_said_where_a_lesson_will_show(change, said):
    assert said in where_words(change)


def test_the_guide_shows_what_the_command_prints():
    page = (DOCS / "guide" / "debrief.md").read_text("utf-8")
    shown = page.partition("<!-- THE DEBRIEF")[2].partition("<!-- END OF THE DEBRIEF")[0]
    assert shown.partition("```\n")[2].removesuffix("```\n") == render_debrief_text(a_debrief())


def test_what_was_just_decided_is_told():
    told = decided_words((decided(HOUSE_NOTE), decided(SURFACE, accepted=False)))
    assert told.splitlines() == [
        "Accepted house: lane 14. It stands on the sheets of the events to come at Quernstone "
        "Lanes.",
        "Dropped surface: Slate Weir.",
    ]


def test_json_has_every_part_and_adds_up():
    document = json.loads(render_debrief_json(a_debrief(), (decided(SURFACE),)))
    assert document["date"] == "2026-10-17"
    for told in [*(game["told"] for game in document["games"]), document["sums"]]:
        tenths = sum(round(10 * value) for name, value in told.items() if name != "score")
        assert tenths == 10 * told["score"]
    assert [one["decision"] for one in document["findings"]] == [None, "accepted", None]
    assert document["findings"][0]["sure_probability"] == 0.93
    assert document["regret_words"]
    assert all(one["words"] for one in [*document["field"], *document["spares"]])
