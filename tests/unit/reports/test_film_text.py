"""What a film and the list of patterns say on a terminal and in JSON."""

from __future__ import annotations

import json
import re
from dataclasses import replace

import pytest

from nextpair.application.film import film_card
from nextpair.reports.film_text import render_film_text, render_patterns_text
from nextpair.reports.sheet_json import render_film_json, render_patterns_json
from unit.reports.sheet_factory import a_pattern

SAID = "Medium and flat, light volume: stay home. Then move in with everybody else on the pair."


def test_a_plain_film_says_nothing_of_brush_sides_or_play():
    text = render_film_text(film_card(a_pattern()))
    assert "buffed" not in text
    assert "sides differ" not in text
    assert text.index("Rule of 31") < text.index("FILM")


def test_the_description_stands_above_the_picture_and_wraps():
    text = render_film_text(film_card(replace(a_pattern(), description=SAID)), 80)
    assert SAID in " ".join(text.split())
    assert max(map(len, text.splitlines())) <= 80
    assert text.index("stay home") < text.index("FILM")


def test_a_buffed_end_is_told_from_where_to_where():
    pattern = a_pattern()
    text = render_film_text(film_card(replace(pattern, buff_m=0.8)))
    assert "Forward oil buffed on toward 43 ft" in text
    short = replace(pattern, buff_m=0.8, passes=pattern.passes[:1])
    text = render_film_text(film_card(short))
    assert "Forward oil to 12 ft, buffed on to 43 ft" in text


def test_sides_that_differ_are_told_apart():
    pattern = a_pattern()
    more = replace(pattern.passes[0], from_board=30, loads=9)
    text = render_film_text(film_card(replace(pattern, passes=(*pattern.passes, more))))
    sides = {side: float(ratio) for ratio, side in re.findall(r"([\d.]+) : 1 on the (\w+)", text)}
    assert sides["left"] < sides["right"], "the more oil outside on a side, the flatter it is"


@pytest.mark.parametrize("columns", [80, 100])
def test_a_list_has_two_lines_a_pattern_and_fits_the_page(columns):
    films = [film_card(replace(a_pattern(), description=SAID, name=name)) for name in ("A", "Bee")]
    lines = render_patterns_text(films, columns).splitlines()
    assert lines[0].split() == [
        *("A", "43", "ft", f"{films[0].pattern.volume_ml:.1f}", "mL"),
        *(f"{films[0].pattern.ratio:.1f}", ":", "1", films[0].pattern.sport_class),
    ]
    assert lines[1].strip() == "Medium and flat, light volume: stay home."
    assert lines[2].startswith("Bee")
    assert lines[0].index("43 ft") == lines[2].index("43 ft")
    assert max(map(len, lines)) <= columns


def test_a_pattern_without_a_description_takes_one_line():
    lines = render_patterns_text([film_card(a_pattern())]).splitlines()
    assert lines[1].strip() == ""


def test_json_tells_shape_description_brush_and_sides():
    card = film_card(replace(a_pattern(), description=SAID, buff_m=3 * 0.3048))
    film = json.loads(render_film_json(card))
    assert film["description"] == SAID
    assert film["shape"] is None
    assert (film["forward_to_ft"], film["buff_ft"]) == (43.0, 3.0)
    assert film["left_side_ratio"] == film["right_side_ratio"] == film["ratio"]
    (listed,) = json.loads(render_patterns_json([card]))["patterns"]
    maps = {"film_units", "film_units_at"}
    assert listed == {key: value for key, value in film.items() if key not in maps}
