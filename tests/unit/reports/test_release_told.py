"""Every report tells where a ball is let go of otherwise than usual, and only there."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from nextpair.reports.sheet_html import render_sheet_html
from nextpair.reports.sheet_json import render_sheet_json
from nextpair.reports.sheet_pdf import _words
from nextpair.reports.sheet_text import render_sheet_text
from nextpair.reports.wording import fallback_line_words, line_words, release_words, speed_words
from unit.reports.sheet_factory import a_sheet

USUAL = a_sheet().games[0].line
CHANGED = replace(USUAL, speed_mph=17.1, speed_change_mph=-0.5, axis_rotation_change_deg=-10.0)
SAID = "0.5 mph softer and 10 degrees less axis rotation"


def a_changed_sheet():
    """A sheet whose only game is thrown otherwise."""
    (game,) = a_sheet(games=1).games
    lanes = tuple(replace(lane, line=CHANGED) for lane in game.lanes)
    changed = replace(game, lanes=lanes, line=CHANGED, release_gain_pins_per_game=1.2)
    return replace(a_sheet(games=1), games=(changed,))


def test_a_usual_release_needs_no_words():
    assert release_words(USUAL) == ""
    assert speed_words(USUAL) == "17.6 mph"


@pytest.mark.parametrize(
    ("speed_mph", "rotation_deg", "words"),
    [
        (0.8, 0.0, "0.8 mph harder"),
        (-0.5, 0.0, "0.5 mph softer"),
        (0.0, 10.0, "10 degrees more axis rotation"),
        (0.0, -10.0, "10 degrees less axis rotation"),
    ],
)
def test_a_change_is_told_with_its_size_and_its_way(speed_mph, rotation_deg, words):
    line = replace(USUAL, speed_change_mph=speed_mph, axis_rotation_change_deg=rotation_deg)
    assert release_words(line) == words


def test_a_line_says_how_it_is_let_go_of():
    assert line_words(CHANGED, "right") == f"{line_words(USUAL, 'right')}, {SAID}"
    assert speed_words(CHANGED) == f"17.1 mph, {SAID}"


def test_text_page_and_paper_tell_it():
    text = " ".join(render_sheet_text(a_changed_sheet(), 200, colour=False).split())
    assert f"17.1 mph, {SAID}" in text
    assert f"17.1 mph, {SAID}" in render_sheet_html(a_changed_sheet())
    assert SAID in _words(a_changed_sheet())["games"][0]["ball"]
    assert SAID not in render_sheet_text(a_sheet(), 200, colour=False)


def test_json_tells_both_changes_and_the_gain():
    game = json.loads(render_sheet_json(a_changed_sheet()))["games"][0]
    assert game["line"]["speed_mph"] == 17.1
    assert game["line"]["speed_change_mph"] == -0.5
    assert game["line"]["axis_rotation_change_deg"] == -10.0
    assert game["release_gain_pins_per_game"] == 1.2


def test_a_fallback_to_the_usual_release_says_so():
    (game,) = a_changed_sheet().games
    assert game.fallback is not None
    other = replace(game.fallback, ball="Low Lantern")
    assert "Low Lantern @ 3000, let go of as usual:" in fallback_line_words(other, game, "right")
    (usual,) = a_sheet(games=1).games
    assert "as usual" not in fallback_line_words(other, usual, "right")
