"""The picture of one line with several balls: true places, phases, marks, both hands."""

from __future__ import annotations

import itertools
import math
import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.lane import BOARD_M, PIN_RADIUS_M
from nextpair.domain.sheet import EntryCard
from nextpair.domain.shot import PathCard
from nextpair.domain.units import FOOT_M
from nextpair.reports.ball_marks import WIDTHS_PX, colour, line_width_px
from nextpair.reports.entry_drawing import HEAD_PIN_PX, METRE_PX, contact_place_px
from nextpair.reports.lane_drawing import CONTACT_FT
from nextpair.reports.paths_drawing import PLAN, paths_drawing
from nextpair.reports.paths_figure import WIDTH_PX, paths_figure
from unit.reports.sheet_factory import a_path

SVG = "{http://www.w3.org/2000/svg}"
NAMES = ("Kestrel", "Saltmarsh", "Low Lantern", "Paper Moon")


def balls(count: int, hand: str = "right") -> list[PathCard]:
    """The same line with balls that bend later and later."""
    sign = 1 if hand == "right" else -1
    card = a_path(hand)
    assert card.breakpoint_board is not None
    assert card.breakpoint_ft is not None
    return [
        replace(
            card,
            ball=name,
            breakpoint_board=card.breakpoint_board - 0.3 * sign * place,
            breakpoint_ft=card.breakpoint_ft + place,
            path_boards=tuple(
                board - 0.004 * sign * place * foot for foot, board in enumerate(card.path_boards)
            ),
        )
        for place, name in enumerate(NAMES[:count])
    ]


def drawn(paths: list[PathCard]) -> ET.Element:
    return ET.fromstring(f'<svg xmlns="http://www.w3.org/2000/svg">{paths_drawing(paths)}</svg>')


def phases_of(paths: list[PathCard], ball: int) -> list[ET.Element]:
    groups = [g for g in drawn(paths).iter(f"{SVG}g") if g.get("class") == "ball"]
    return list(groups[ball])


def places(line: ET.Element) -> list[tuple[float, float]]:
    points = [
        tuple(float(n) for n in point.split(",")) for point in line.get("points", "").split()
    ]
    return [(x, y) for x, y in points]


def words(svg: ET.Element) -> list[str]:
    return [text.text or "" for text in svg.iter(f"{SVG}text")]


def figure_words(paths: list[PathCard]) -> list[str]:
    return words(ET.fromstring(paths_figure(paths)))


def test_a_path_runs_where_the_ball_runs_phase_by_phase():
    (card,) = balls(1)
    skid, hook, roll = (places(line) for line in phases_of([card], 0))
    assert card.skid_end_ft is not None
    assert card.hook_end_ft is not None
    assert skid[0] == pytest.approx((PLAN.x(card.path_boards[0]), PLAN.y(0.0)), abs=0.06)
    assert skid[-1] == hook[0]
    assert hook[-1] == roll[0]
    assert skid[-1][1] == pytest.approx(PLAN.y(card.skid_end_ft), abs=0.06)
    assert roll[0][1] == pytest.approx(PLAN.y(card.hook_end_ft), abs=0.06)
    assert roll[-1][1] == pytest.approx(PLAN.y(59.0 + CONTACT_FT), abs=0.06)
    whole = {round(y, 1): x for x, y in skid + hook + roll}
    for feet in (5, 20, 40, 55):
        there = whole[round(PLAN.y(feet), 1)]
        assert there == pytest.approx(PLAN.x(card.path_boards[feet]), abs=0.06)


def test_phases_differ_by_more_than_colour():
    skid, hook, roll = phases_of(balls(1), 0)
    dashes = [line.get("stroke-dasharray") for line in (skid, hook, roll)]
    assert dashes[1] is None
    assert len(set(dashes)) == 3
    kinds = {"begins to hook", "begins to roll", "leaves the oil", "skid", "hook", "roll"}
    assert kinds <= set(figure_words(balls(1)))


def test_a_ball_that_never_rolls_has_no_rolling_part():
    card = replace(balls(1)[0], hook_end_ft=None)
    assert len(phases_of([card], 0)) == 2
    assert "-" in figure_words([card])


@pytest.mark.parametrize("count", [1, 2, 3, 4])
def test_balls_differ_by_letter_width_and_colour(count):
    paths = balls(count)
    texts = figure_words(paths)
    for letter, name in zip("ABCD", NAMES[:count], strict=False):
        assert texts.count(letter) >= 3
        assert name in texts
    assert len({colour(ball) for ball in range(count)}) == count
    widths = [line_width_px(ball, count) for ball in range(count)]
    assert widths == sorted(widths, reverse=True)
    assert len(set(widths)) == count
    assert len(WIDTHS_PX[count - 1]) == count


@pytest.mark.parametrize("hand", ["right", "left"])
def test_breakpoints_stand_beside_the_bowlers_own_gutter_apart_from_one_another(hand):
    paths = balls(4, hand)
    feet = [
        text
        for text in drawn(paths).iter(f"{SVG}text")
        if re.fullmatch(r"4\d ft", text.text or "")
    ]
    assert sorted(text.text or "" for text in feet) == ["42 ft", "43 ft", "44 ft", "45 ft"]
    ys = sorted(float(text.get("y", "")) for text in feet)
    assert min(b - a for a, b in itertools.pairwise(ys)) > 20
    for text in feet:
        x = float(text.get("x", ""))
        assert x > PLAN.width_px + PLAN.gutter_px if hand == "right" else x < -PLAN.gutter_px


def test_left_and_right_hander_see_mirror_images():
    for right, left in zip(phases_of(balls(2), 1), phases_of(balls(2, "left"), 1), strict=True):
        mirrored = [(PLAN.width_px - x, y) for x, y in places(left)]
        assert [x for x, _ in mirrored] == pytest.approx([x for x, _ in places(right)], abs=0.11)
        assert [y for _, y in mirrored] == [y for _, y in places(right)]


def test_boards_count_from_the_bowlers_side_and_say_so():
    right, left = (words(drawn(balls(1, hand))) for hand in ("right", "left"))
    assert "boards from the right edge" in right
    assert "boards from the LEFT edge" in left
    for text in (right, left):
        assert {"lay down 24.5", "12", "9"} <= set(text)
        assert "oil ends at 43 ft" in text


def test_a_gutter_ball_ends_at_the_gutter_and_meets_no_pins():
    card = a_path(reaches_pins=False)
    lines = phases_of([card], 0)
    last = places(lines[-1])[-1]
    assert last[1] == pytest.approx(PLAN.y(len(card.path_boards) - 1), abs=0.06)
    assert "gutter at 38 ft; no pins" in figure_words([card])


def test_the_inset_is_true_to_scale_and_mirrored_for_a_left_hander():
    """Ball and head pin touch: their centres are both radii apart."""
    right = balls(1)[0]
    assert right.entry is not None
    x, y = contact_place_px(right)
    apart_m = math.dist((x, y), HEAD_PIN_PX) / METRE_PX
    assert apart_m == pytest.approx(BALL_RADIUS_M + PIN_RADIUS_M, rel=1e-9)
    own_m = right.entry.offset_board * BOARD_M
    assert (x - HEAD_PIN_PX[0]) / METRE_PX == pytest.approx(own_m)
    left_x, left_y = contact_place_px(balls(1, "left")[0])
    assert left_x - HEAD_PIN_PX[0] == pytest.approx(HEAD_PIN_PX[0] - x)
    assert left_y == pytest.approx(y)
    missed = replace(right, entry=EntryCard(8.0, 4.0, 15.0))
    assert contact_place_px(missed)[1] == HEAD_PIN_PX[1]


def test_the_entry_is_said_in_the_bowlers_left_and_right():
    assert "4.9°, 2.4 boards right" in figure_words(balls(1))
    assert "4.9°, 2.4 boards left" in figure_words(balls(1, "left"))
    high = replace(balls(1)[0], entry=EntryCard(-1.0, 4.9, 15.1))
    assert "4.9°, 1.0 boards left" in figure_words([high])


def test_the_stretch_that_is_declared_is_the_stretch_that_is_drawn():
    true_px_per_board = PLAN.foot_px * BOARD_M / FOOT_M
    stretch = PLAN.board_px / true_px_per_board
    said = f"The lane is drawn {stretch:.0f} times as wide as it is; the pins are to scale."
    assert said in figure_words(balls(1))


@pytest.mark.parametrize("count", [1, 4])
def test_nothing_stands_outside_the_picture(count):
    svg = ET.fromstring(paths_figure(balls(count)))
    width, height = (float(side) for side in (svg.get("viewBox") or "").split()[2:])
    assert width == WIDTH_PX

    def corners(element: ET.Element, x: float, y: float):
        moved = re.match(r"translate\(([-\d.]+) ([-\d.]+)\)", element.get("transform", ""))
        if moved:
            x, y = x + float(moved[1]), y + float(moved[2])
        for child in element:
            yield from corners(child, x, y)
        if element.tag == f"{SVG}text":
            yield x + float(element.get("x", 0)), y + float(element.get("y", 0))

    for x, y in corners(svg, 0.0, 0.0):
        assert 0 <= x <= width
        assert 0 <= y <= height


def test_long_and_hostile_names_are_cut_and_stay_text():
    card = replace(balls(1)[0], ball='<b>&"</b> with a very long name indeed')
    texts = figure_words([card])
    assert any(text.startswith('<b>&"</b>') and text.endswith("...") for text in texts)
