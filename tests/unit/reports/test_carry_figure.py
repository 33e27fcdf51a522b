"""The pictures of carry: true numbers and places, both hands, any numbers, nothing cut off."""

from __future__ import annotations

import itertools
import math
import re
import xml.etree.ElementTree as ET

import pytest

from nextpair.domain.carry import CarryMap
from nextpair.domain.entry import CONTACT_BOARDS, offset_boards_of
from nextpair.domain.lane import BOARD_M, pin_position_m
from nextpair.reports.carry_figure import (
    PAGE_PX,
    carry_figure,
    ladder_figure,
    strike_map_figure,
)
from nextpair.reports.palette import STRIKE_STEPS, strike_colour
from nextpair.reports.rack_drawing import (
    FALLEN_PX,
    HEAD_PIN_Y_PX,
    METRE_PX,
    RACK_WIDTH_PX,
    STANDING_PX,
    contact_px,
    rack_drawing,
)
from nextpair.reports.strike_map import HEIGHT_PX, HIGHEST_DEG, WIDTH_PX, strike_map
from nextpair.scoring.leaves import MIRROR_IMAGES, parse_leave, standing_pins
from unit.reports.carry_factory import RUNGS, a_carry_map

SVG = "{http://www.w3.org/2000/svg}"
FIGURES = {"both": carry_figure, "map": strike_map_figure, "ladder": ladder_figure}
WIDE_LETTER = 0.57
"""Mean width of a letter over the size of the text, in a wide screen face."""
HANDS = ("right", "left")


def parsed(drawn: str) -> ET.Element:
    return ET.fromstring(f'<svg xmlns="http://www.w3.org/2000/svg">{drawn}</svg>')


def words(svg: ET.Element) -> list[str]:
    return [text.text or "" for text in svg.iter(f"{SVG}text")]


def of_class(svg: ET.Element, name: str) -> list[ET.Element]:
    return [element for element in svg.iter() if element.get("class") == name]


def points(path: ET.Element) -> list[tuple[float, float]]:
    found = re.findall(r"[ML]([-\d.]+) ([-\d.]+)", path.get("d", ""))
    return [(float(x), float(y)) for x, y in found]


def boxes(svg: ET.Element):
    """Left, right, baseline and size of every text, where it stands on the page."""

    def walk(element: ET.Element, x: float, y: float, size: float):
        moved = re.match(r"translate\(([-\d.]+) ([-\d.]+)\)", element.get("transform", ""))
        if moved:
            x, y = x + float(moved[1]), y + float(moved[2])
        size = float(element.get("font-size", size))
        if element.tag == f"{SVG}text":
            wide = WIDE_LETTER * size * len(element.text or "")
            anchor = {"middle": 0.5, "end": 1.0}.get(element.get("text-anchor", ""), 0.0)
            left = x + float(element.get("x", 0)) - anchor * wide
            yield left, left + wide, y + float(element.get("y", 0)), size, element.text
        for child in element:
            yield from walk(child, x, y, size)

    yield from walk(svg, 0.0, 0.0, 11.0)


@pytest.mark.parametrize("name", FIGURES)
@pytest.mark.parametrize("hand", HANDS)
def test_every_text_stands_inside_the_picture(name, hand):
    svg = ET.fromstring(FIGURES[name](a_carry_map(hand, impact=(2.5, 7.0), pinfall="string")))
    left, top, width, height = map(float, (svg.get("viewBox") or "").split())
    assert (left, top, width) == (0.0, 0.0, PAGE_PX)
    told = list(boxes(svg))
    assert len(told) > 30
    for begin, end, baseline, size, text in told:
        assert begin >= 0, text
        assert end <= width, text
        assert size <= baseline <= height, text


@pytest.mark.parametrize("name", FIGURES)
def test_texts_keep_clear_of_one_another_and_can_be_read_on_a_phone(name):
    told = list(boxes(ET.fromstring(FIGURES[name](a_carry_map()))))
    assert min(size for *_, size, _ in told) >= 11
    for one, other in itertools.combinations(told, 2):
        beside = one[1] <= other[0] + 8 or other[1] <= one[0] + 8
        apart = abs(one[2] - other[2]) >= 0.8 * min(one[3], other[3])
        assert beside or apart, (one, other)


@pytest.mark.parametrize("name", FIGURES)
def test_a_picture_says_in_words_what_it_shows(name):
    svg = ET.fromstring(FIGURES[name](a_carry_map("left")))
    labels = (svg.get("aria-labelledby") or "").split()
    told = {element.get("id"): element.text or "" for element in svg}
    assert all(told[label] for label in labels)
    assert "14.5 lb at 16.5 mph, left-handed" in told[labels[0]]
    assert "flush, board 17.5:" in told[labels[1]]


@pytest.mark.parametrize("hand", HANDS)
def test_the_ladder_has_the_chances_and_pins_of_its_impacts(hand):
    carry = a_carry_map(hand)
    rungs = of_class(ET.fromstring(ladder_figure(carry)), "rung")
    assert len(rungs) == len(carry.ladder)
    for drawn, rung in zip(rungs, carry.ladder, strict=True):
        texts = words(drawn)
        assert " ".join(texts).startswith(rung.name)
        for impact in rung.impacts:
            whole = f"{100 * impact.strike_probability:.0f} %"
            assert f"X {whole}" in texts or 0 < impact.strike_probability < 0.005
            assert f"{impact.mean_pins:.1f}" in texts
        leaves = [
            f"{pins} {100 * chance:.0f} %"
            for impact in rung.impacts
            for pins, chance in impact.leaves[:2]
            if chance >= 0.005
        ]
        titles = [title.text for title in drawn.iter(f"{SVG}title")]
        assert titles == leaves
        assert len(of_class(drawn, "rack")) == len(leaves)


def dots(drawn: ET.Element) -> dict[int, float]:
    """Radius of the dot on each pin's spot."""
    found = {}
    for pin in range(1, 11):
        x_m, beyond_m = pin_position_m(pin)
        spot = (0.5 * RACK_WIDTH_PX + x_m * METRE_PX, HEAD_PIN_Y_PX - beyond_m * METRE_PX)
        for circle in drawn.iter(f"{SVG}circle"):
            place = (float(circle.get("cx", 0)), float(circle.get("cy", 0)))
            if math.dist(place, spot) < 0.1:
                found[pin] = float(circle.get("r", 0))
    return found


@pytest.mark.parametrize("pins", ["10", "1-2-4-10", "4-6-7-10", "1-2-3-4-5-6-7-8-9-10"])
def test_dark_dots_stand_on_the_spots_of_the_pins_that_stand(pins):
    impact = a_carry_map().ladder[0].impacts[0]
    found = dots(parsed(rack_drawing(impact, pins, "right")))
    standing = standing_pins(parse_leave(pins))
    expected = {pin: STANDING_PX if pin in standing else FALLEN_PX for pin in range(1, 11)}
    assert found == pytest.approx(expected, abs=0.06)
    assert STANDING_PX > 1.5 * FALLEN_PX


@pytest.mark.parametrize("hand", HANDS)
def test_ball_and_head_pin_touch_or_pass_in_true_scale(hand):
    sign = 1 if hand == "right" else -1
    for rung, (_, level, _) in zip(a_carry_map(hand).ladder, RUNGS, strict=True):
        for impact in rung.impacts:
            x, y = contact_px(impact, hand)
            apart_m = math.dist((x, y), (0.5 * RACK_WIDTH_PX, HEAD_PIN_Y_PX)) / METRE_PX
            boards = max(CONTACT_BOARDS, abs(impact.offset_board))
            assert apart_m == pytest.approx(boards * BOARD_M)
            # Going on straight, it would cross the head pin's row where the rung says.
            slope = math.tan(math.radians(impact.entry_angle_deg))
            crossed = sign * (x - 0.5 * RACK_WIDTH_PX) - slope * (y - HEAD_PIN_Y_PX)
            assert crossed / METRE_PX / BOARD_M == pytest.approx(level, abs=1e-9)


def test_a_left_handers_racks_are_mirror_images():
    right, left = (
        of_class(ET.fromstring(ladder_figure(a_carry_map(hand))), "rack") for hand in HANDS
    )
    assert len(left) == len(right) > 5
    for one, other in zip(left, right, strict=True):
        mirrored = {MIRROR_IMAGES[pin]: radius for pin, radius in dots(other).items()}
        assert dots(one) == mirrored


def place_on_map(offset: float, angle_deg: float, hand: str) -> tuple[float, float]:
    across = (offset + 1.0) / 8.0
    return (
        WIDTH_PX * (across if hand == "right" else 1.0 - across),
        HEIGHT_PX * (1 - angle_deg / HIGHEST_DEG),
    )


@pytest.mark.parametrize("hand", HANDS)
def test_the_published_zone_lies_level_with_the_head_pin(hand):
    (zone,) = of_class(parsed(strike_map(a_carry_map(hand), "t")), "zone")
    drawn = points(zone)
    for level, angle_deg in itertools.product((2.0, 3.0), (4.0, 6.0)):
        corner = place_on_map(offset_boards_of(level, angle_deg), angle_deg, hand)
        assert min(math.dist(corner, point) for point in drawn) < 0.1
    said = " ".join(words(parsed(strike_map(a_carry_map(hand), "t"))))
    assert "published best: boards 17 to 18, 4 to 6 degrees" in said


def inside(place: tuple[float, float], path: str) -> bool:
    """Whether a place lies inside a filled path (even-odd)."""
    crossings = 0
    for part in path.split("z"):
        loop = [(float(x), float(y)) for x, y in re.findall(r"([-\d.]+) ([-\d.]+)", part)]
        for (x0, y0), (x1, y1) in zip(loop, loop[1:] + loop[:1], strict=True):
            if (y0 > place[1]) != (y1 > place[1]):
                crossings += place[0] < x0 + (place[1] - y0) / (y1 - y0) * (x1 - x0)
    return crossings % 2 == 1


@pytest.mark.parametrize("hand", HANDS)
def test_the_colour_at_every_node_is_that_of_its_strike_chance(hand):
    carry = a_carry_map(hand)
    svg = parsed(strike_map(carry, "t"))
    shapes = {path.get("fill"): path.get("d", "") for path in svg.iter(f"{SVG}path")}
    checked = 0
    for angle_deg, row in list(zip(carry.entry_angles_deg, carry.strike_probability, strict=True))[
        1:-1
    ]:
        for offset, chance in zip(carry.offset_boards, row, strict=True):
            near_step = min(abs(chance - step) for step in STRIKE_STEPS) < 0.02
            if not -1.0 < offset < 7.0 or near_step:
                continue
            place = place_on_map(offset, angle_deg, hand)
            seen = sum(inside(place, shapes.get(strike_colour(step), "")) for step in STRIKE_STEPS)
            assert seen == sum(chance > step for step in STRIKE_STEPS)
            checked += 1
    assert checked > 300


def test_lines_carry_the_numbers_that_the_key_explains():
    svg = parsed(strike_map(a_carry_map(), "t"))
    (numbers,) = of_class(svg, "numbers")
    assert set(words(numbers)) == {"30", "50", "70", "90"}
    key = words(ET.fromstring(strike_map_figure(a_carry_map())))
    assert {f"{100 * step:.0f}" for step in STRIKE_STEPS} <= set(key)


def test_what_was_not_simulated_is_hatched_and_said():
    carry = a_carry_map()
    said = " ".join(words(ET.fromstring(strike_map_figure(carry))))
    assert "Hatched: beyond the simulated racks." in said
    top = place_on_map(0.0, carry.entry_angles_deg[-1], "right")[1]
    ground = next(
        rect
        for rect in parsed(strike_map(carry, "t")).iter(f"{SVG}rect")
        if rect.get("fill") == strike_colour(0.0)
    )
    assert float(ground.get("y", 0)) == pytest.approx(top, abs=0.06)
    assert top > 10


def test_the_impact_asked_for_is_marked_and_told():
    without, asked = (strike_map_figure(a_carry_map(impact=i)) for i in (None, (2.5, 4.0)))
    assert "Your impact" not in without
    assert "Your impact: 4 degrees, 2.5 boards right of the head pin" in " ".join(
        words(ET.fromstring(asked))
    )
    x, y = place_on_map(2.5, 4.0, "right")
    assert f'cx="{x:.1f}" cy="{y:.1f}" r="5.5"'.replace(".0", "") in asked.replace(".0", "")


def test_an_impact_off_the_map_is_told_and_not_marked():
    for impact in ((-3.0, 4.0), (2.5, 12.0)):
        drawn = strike_map_figure(a_carry_map(impact=impact))
        assert "Your impact, off the map:" in " ".join(words(ET.fromstring(drawn)))
        assert "<circle" not in drawn
    assert "<circle" in strike_map_figure(a_carry_map(impact=(2.5, 4.0)))


@pytest.mark.parametrize("highest_strike", [0.0, 0.004, 0.25, 0.6, 1.0])
def test_any_table_can_be_drawn(highest_strike):
    carry: CarryMap = a_carry_map(highest_strike=highest_strike)
    svg = ET.fromstring(carry_figure(carry))
    lines = of_class(svg, "lines")[0]
    drawn = sum(highest_strike > step for step in (0.3, 0.5, 0.7, 0.9))
    assert (len(list(lines)) > 0) == (drawn > 0)


def test_pictures_on_one_page_share_no_id():
    ids = [
        element.get("id")
        for drawn in (strike_map_figure, ladder_figure, carry_figure)
        for element in ET.fromstring(drawn(a_carry_map())).iter()
        if element.get("id")
    ]
    assert len(ids) == len(set(ids))
