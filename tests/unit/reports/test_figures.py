"""Pictures of lanes: well-formed, small, true to scale, and the same for both hands."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

from nextpair.domain.lane import BOARD_M, BOARDS
from nextpair.domain.units import FOOT_M
from nextpair.reports.figures import film_figure, film_key, pair_figure
from nextpair.reports.lane_drawing import LANE_PX, PLAN, STRETCH
from nextpair.reports.palette import FILM_STEPS_UNITS, film_colour
from nextpair.reports.paths_figure import paths_figure
from nextpair.reports.profiles import profile_figure
from unit.reports.sheet_factory import a_film_card, a_path, a_sheet

SVG = "{http://www.w3.org/2000/svg}"
LARGEST_LANE_BYTES = 60_000


def pair_of(hand: str, game: int = 3) -> str:
    sheet = a_sheet(hand)
    return pair_figure(sheet.games[game], sheet)


def figures() -> dict[str, str]:
    return {
        "pair": pair_of("right"),
        "pair of a left-hander": pair_of("left"),
        "path": paths_figure([a_path()]),
        "paths of two balls": paths_figure([a_path(), replace(a_path(), ball="Saltmarsh")]),
        "path into the gutter": paths_figure([a_path("left", reaches_pins=False)]),
        "film": film_figure(a_film_card()),
        "key": film_key("key"),
        "profile": profile_figure(a_sheet().games[3], "right"),
    }


def paths_drawn(svg: str) -> list[list[tuple[float, float]]]:
    """Every ball's path, in pixels from its own lane's corner; each is drawn twice, halo first."""
    lines = [line.get("points", "") for line in ET.fromstring(svg).iter(f"{SVG}polyline")]
    assert lines[::2] == lines[1::2]
    return [
        [tuple(float(n) for n in point.split(",")) for point in line.split()]  # type: ignore[misc]
        for line in lines[::2]
    ]


def test_lanes_with_patterns_of_two_lengths_show_the_rule_each_at_its_own():
    sheet = a_sheet()
    short = replace(sheet, right_pattern=replace(sheet.pattern, length_ft=36.0))
    for made, ruled in (
        (sheet, "rule of 31 at board 12, 43 ft."),
        (short, "rule of 31 at board 12, 43 ft and board 5, 36 ft."),
    ):
        assert ruled in pair_figure(made.games[0], made)


def words_of(svg: str) -> list[str]:
    return [text.text or "" for text in ET.fromstring(svg).iter(f"{SVG}text")]


@pytest.mark.parametrize("name", figures())
def test_a_figure_names_itself_for_those_who_do_not_see_it(name):
    svg = ET.fromstring(figures()[name])
    ids = {element.get("id"): element for element in svg.iter() if element.get("id")}
    labels = (svg.get("aria-labelledby") or "").split()
    assert svg.get("role") == "img"
    assert labels
    assert all(len(ids[label].text or "") > 8 for label in labels)
    assert next(iter(svg)).tag == f"{SVG}title"


@pytest.mark.parametrize("name", figures())
def test_a_figure_fetches_and_runs_nothing(name):
    svg = figures()[name]
    tags = {element.tag.removeprefix(SVG) for element in ET.fromstring(svg).iter()}
    assert not tags & {"script", "image", "use", "foreignObject", "a", "style"}
    assert "href" not in svg
    assert "url(" not in svg


def test_a_figure_is_small():
    assert len(pair_of("right").encode()) < 2 * LARGEST_LANE_BYTES
    assert len(paths_figure([a_path()]).encode()) < LARGEST_LANE_BYTES


def test_the_stretch_that_is_declared_is_the_stretch_that_is_drawn():
    true_px_per_board = PLAN.foot_px * BOARD_M / FOOT_M
    assert PLAN.board_px / true_px_per_board == pytest.approx(STRETCH)
    assert f"Drawn {STRETCH:.0f} times as wide as it is." in pair_of("right")


def test_left_and_right_hander_see_mirror_images():
    right, left = (paths_drawn(pair_of(hand)) for hand in ("right", "left"))
    assert len(right) == len(left) == 2
    for one, other in zip(right, left, strict=True):
        assert [x for x, _ in other] == pytest.approx([LANE_PX - x for x, _ in one], abs=0.11)
        assert [y for _, y in other] == [y for _, y in one]


def test_film_is_drawn_in_the_colours_of_its_steps():
    drawn = set(re.findall(r'<path fill="(#[0-9a-f]{6})" d="M', film_figure(a_film_card())))
    thickest = max(max(row) for row in a_film_card().film_units)
    assert drawn == {film_colour(step) for step in FILM_STEPS_UNITS if step <= thickest}


def test_a_bare_lane_has_no_film():
    film = replace(a_film_card(), film_units=((0.0,) * BOARDS,) * 60)
    assert re.findall(r'<path fill="#[0-9a-f]{6}" d="M', film_figure(film)) == []


def test_the_key_says_where_each_colour_begins():
    assert words_of(film_key("key")) == [f"{units:g}" for units in FILM_STEPS_UNITS]


def test_marks_carry_numbers_in_halves():
    words = words_of(pair_of("right", game=0))
    assert {"Lane 13", "Lane 14", "17", "9", "42 ft", "feet 31", "31"} <= set(words)


def test_hostile_names_stay_text():
    svg = film_figure(
        replace(a_film_card(), pattern=replace(a_film_card().pattern, name='<b>&"</b>'))
    )
    assert words_of(svg)[-1] != ""
    assert any(text == '<b>&"</b>' for text in words_of(svg))


def test_a_profile_has_a_panel_a_distance_with_both_lanes():
    svg = ET.fromstring(profile_figure(a_sheet().games[3], "right"))
    panels = [g for g in svg if g.tag == f"{SVG}g"]
    said = [text.text for panel in panels for text in panel.iter(f"{SVG}text")]
    assert [text for text in said if text and text.endswith("ft")] == ["40 ft", "25 ft", "10 ft"]
    dashed = [path for path in svg.iter(f"{SVG}path") if path.get("stroke-dasharray")]
    assert len(panels) == len(dashed) == 3


def test_a_profile_tells_the_thickest_board_from_the_bowlers_side():
    game = a_sheet().games[3]
    peak = tuple(30.0 if board == 12 else 1.0 for board in range(1, 40))
    lanes = tuple(replace(lane, film_units_at={"10": peak}) for lane in game.lanes)
    game = replace(game, lanes=lanes)
    assert "lane 1 30 units on board 12" in profile_figure(game, "right")
    assert "lane 1 30 units on board 28" in profile_figure(game, "left")
