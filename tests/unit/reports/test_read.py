"""A read on a terminal, as JSON and as a picture, for both hands."""

from __future__ import annotations

import json
import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

from nextpair.domain.belief import MoveKind
from nextpair.reports.belief_figure import EDGE_PX, PAGE_PX, WIDE_PX, _scale, belief_figure
from nextpair.reports.belief_words import number_words, option_words
from nextpair.reports.read_text import render_read_text
from nextpair.reports.sheet_json import render_read_json
from unit.reports.read_factory import FILM, FRICTION, SPEED, WEAR, a_read, an_option

SVG = "{http://www.w3.org/2000/svg}"


def words(text: str) -> str:
    return " ".join(text.split())


def test_the_text_says_what_is_believed_and_what_to_do():
    told = words(render_read_text(a_read(), 100))
    for said in (
        "4 shots, up to frame 3 of game 1",
        "1. Feet 2 left, target 1 left: feet 31, target 17.5, breakpoint 9 at 42 ft",
        "200 pins a game, +4.2 over staying (92 % sure; worst tenth -0.8)",
        "2. +0.5 mph: feet 31",
        "3. Dunlin Flock @ polished: feet 31",
        "4. -10 degrees of axis rotation: feet 31",
        "5. Stay: feet 31, target 17.5",
        "After a high hit the trade moves 2-and-1: feet 2 left, target 1 left.",
        "Dry friction More friction than planned, 96 % sure",
        "before 91 to 109, now 102 to 111 % of plan",
        "before 17.1 to 17.7, now 17.2 to 17.4 mph",
        "game 1 frame 2 13 Slate Weir 0.8 left 3.0 left -",
        "game 1 frame 3 14 Slate Weir 1.2 left 4.5 left 36 %",
        "practice frame 1 13 Slate Weir on line on line -",
        "game 1 frame 1 14 Slate Weir - on line -",
        "Oil About as planned before 91",
        "Not told by these shots: wear.",
        "one takes the other",
        "Believe what you see.",
    ):
        assert said in told


def test_most_learned_comes_first():
    told = render_read_text(a_read())
    places = [told.index(f"\n  {name}") for name in ("Speed of the day", "Dry friction", "Oil")]
    assert places == sorted(places)


def test_a_left_hander_reads_it_mirrored():
    told = words(render_read_text(a_read("left")))
    assert "1. Feet 2 right, target 1 right: feet 9, target 22.5, breakpoint 31 at 42 ft" in told
    assert "0.8 right 3.0 right" in told


@pytest.mark.parametrize("columns", [80, 100])
def test_no_line_is_wider_than_the_page(columns):
    assert max(map(len, render_read_text(a_read("left"), columns).splitlines())) <= columns


def test_a_ball_change_tells_its_move_too():
    option = an_option(MoveKind.BALL, 1.0, feet_boards=-1.0, target_boards=-1.0)
    assert option_words(option, "right").startswith("Slate Weir @ 2000, feet 1 right, target 1")


def test_numbers_are_as_fine_as_what_is_known():
    assert number_words(101.94, FRICTION) == "102"
    assert number_words(17.31, SPEED) == "17.3"
    assert number_words(-0.01, replace(SPEED, planned=replace(SPEED.planned, sd=1.0))) == "0.0"


def test_json_has_every_field_and_the_draws():
    document = json.loads(render_read_json(a_read()))
    assert document["moves"][0]["options"][1]["kind"] == "speed"
    assert document["findings"][0]["found"] == {
        "mean": 106.4, "sd": 3.5, "low": 101.9, "high": 110.9,
    }  # fmt: skip
    assert document["verdicts"][1]["breakpoint_miss_boards"] is None
    assert document["draws"]["rows"][1] == [1.0, 1.01234]


@pytest.fixture(scope="module")
def picture() -> ET.Element:
    return ET.fromstring(belief_figure(a_read()))


def test_the_picture_says_in_words_what_it_shows(picture):
    texts = " ".join(text.text or "" for text in picture.iter(f"{SVG}text"))
    for finding in (FRICTION, FILM, SPEED):
        assert f"{finding.words[0].upper()}{finding.words[1:]}" in texts
    description = picture.find(f"{SVG}desc")
    assert description is not None
    assert "Oil: About as planned; before 91 to 109, now 92 to 106" in (description.text or "")


def test_bars_end_where_the_intervals_do(picture):
    bars = [
        [float(number) for number in re.findall(r"[MH]([\d.]+)", path.get("d", ""))]
        for path in picture.iter(f"{SVG}path")
        if path.get("class") and "H" in path.get("d", "")
    ]
    shown = (SPEED, FRICTION, FILM, WEAR)
    expected = []
    for finding in shown:
        x = _scale(finding.planned, finding.found)
        expected += [[x(one.low), x(one.high)] for one in (finding.planned, finding.found)]
    assert bars == [pytest.approx(ends, abs=0.06) for ends in expected]
    assert all(0 < left < right < WIDE_PX for left, right in bars)


def test_hills_have_one_area(picture):
    """Sure is narrow and high: areas under normal curves cut at the same deviation are equal."""
    areas = {"before": [], "after": []}
    for path in picture.iter(f"{SVG}path"):
        numbers = re.findall(r"([\d.]+) ([\d.]+)", path.get("d", ""))
        if len(numbers) > 10:
            points = [(float(x), float(y)) for x, y in numbers]
            pairs = zip(points, [*points[1:], points[0]], strict=True)
            area = 0.5 * abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs))
            areas[path.get("class", "")].append(area)
    assert len(areas["before"]) == 4
    assert areas["before"] == pytest.approx(areas["after"], rel=0.02)


def test_every_text_stands_inside_the_picture(picture):
    # 0.57 of its size is the mean width of a letter in a wide screen face.
    for text in picture.iter(f"{SVG}text"):
        wide = 0.57 * float(text.get("font-size", 11)) * len(text.text or "")
        left = float(text.get("x", 0)) - {"end": wide}.get(text.get("text-anchor", ""), 0.0)
        assert left > -EDGE_PX
        assert left + wide < PAGE_PX


def test_numbers_for_files_are_told_where_they_differ_in_three_digits():
    text = render_read_text(a_read())
    assert "bowler.toml: 17.4 stands there, 17.3 by these shots" in text
    assert "rev_rate_rpm" not in text
