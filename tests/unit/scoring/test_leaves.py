"""Leaves as text, as masks and seen by the other hand."""

from __future__ import annotations

import math

import pytest

from nextpair.domain.errors import InvalidValueError
from nextpair.domain.lane import PIN_SPACING_M, pin_position_m
from nextpair.scoring.leaves import (
    DIRECTLY_BEHIND,
    FULL_RACK,
    GAPS_IN_A_ROW,
    MIRROR_IMAGES,
    NAMES,
    PAIRS_BEHIND,
    LeaveKind,
    is_split,
    is_washout,
    leave_kind,
    leave_name,
    leave_text,
    mirrored_leave,
    parse_leave,
    pin_bit,
    pin_count,
    standing_pins,
)


def test_a_leave_is_a_mask_with_pin_1_lowest():
    assert parse_leave("1") == 0b1
    assert parse_leave("1-2-10") == 0b10_0000_0011
    assert parse_leave("1-2-3-4-5-6-7-8-9-10") == FULL_RACK == 1023


def test_the_order_of_the_pins_does_not_matter():
    assert parse_leave("10-1-2") == parse_leave(" 1 - 2 - 10 ") == parse_leave("1-2-10")


def test_nothing_standing_is_empty_text():
    assert parse_leave("") == 0
    assert leave_text(0) == ""
    assert standing_pins(0) == ()
    assert pin_count(0) == 0


@pytest.mark.parametrize(
    "text", ["0", "11", "1-1", "a", "1--2", "-1", "1,2", "1-", "²", "1.5", "9" * 5000]
)
def test_text_that_is_no_leave_is_refused(text):
    with pytest.raises(InvalidValueError, match="leave"):
        parse_leave(text)


@pytest.mark.parametrize("mask", [-1, 1024])
def test_a_mask_of_other_pins_is_refused(mask):
    with pytest.raises(InvalidValueError, match="0 to 1023"):
        standing_pins(mask)


@pytest.mark.parametrize("pin", [0, 11])
def test_there_are_ten_pins(pin):
    with pytest.raises(InvalidValueError, match="1 to 10"):
        pin_bit(pin)
    with pytest.raises(InvalidValueError, match="1 to 10"):
        pin_position_m(pin)


@pytest.mark.parametrize(
    ("leave", "mirrored"),
    [("3-10", "2-7"), ("4-6-7-10", "4-6-7-10"), ("1-2-8", "1-3-9"), ("5", "5")],
)
def test_a_mirrored_leave_swaps_the_sides(leave, mirrored):
    assert leave_text(mirrored_leave(parse_leave(leave))) == mirrored


def test_the_mirror_image_of_a_pin_stands_as_far_on_the_other_side():
    for pin, image in MIRROR_IMAGES.items():
        x_m, y_m = pin_position_m(pin)
        assert pin_position_m(image) == pytest.approx((-x_m, y_m))


def test_neighbours_are_what_the_triangle_says():
    for ahead, left, right in PAIRS_BEHIND:
        places = [pin_position_m(pin) for pin in (ahead, left, right)]
        for one in range(3):
            assert math.dist(places[one], places[one - 1]) == pytest.approx(PIN_SPACING_M)
        assert places[1][0] < places[0][0] < places[2][0]
        assert places[1][1] == places[2][1] > places[0][1]
    for ahead, behind in DIRECTLY_BEHIND:
        assert pin_position_m(ahead)[0] == pytest.approx(pin_position_m(behind)[0])
        assert pin_position_m(ahead)[1] < pin_position_m(behind)[1]
    for left, between, right in GAPS_IN_A_ROW:
        (left_x, left_y), (x, y), (right_x, right_y) = map(pin_position_m, (left, between, right))
        assert left_y == y == right_y
        assert (right_x - x, x - left_x) == pytest.approx((PIN_SPACING_M, PIN_SPACING_M))


@pytest.mark.parametrize(
    "leave", ["4-6-7-9-10", "3-4-6-7-9-10", "5-7", "8-10", "4-9", "2-10", "4-5-8", "2-4-5-7-9"]
)
def test_pins_with_a_fallen_one_between_or_ahead_are_a_split(leave):
    assert is_split(parse_leave(leave))


@pytest.mark.parametrize("leave", ["2-4-8", "3-6", "5-9", "6-9-10", "2-4-7-8", "7", ""])
def test_pins_that_hang_together_are_no_split(leave):
    assert not is_split(parse_leave(leave))


def test_no_leave_is_both_a_split_and_a_washout():
    assert not any(is_split(mask) and is_washout(mask) for mask in range(FULL_RACK + 1))
    assert not is_split(FULL_RACK)
    assert not is_washout(FULL_RACK)


@pytest.mark.parametrize(
    ("leave", "kind"),
    [
        ("10", LeaveKind.SINGLE_PIN),
        ("1", LeaveKind.SINGLE_PIN),
        ("2-4-5-8", LeaveKind.MAKEABLE),
        ("1-2-3-4-5-6-7-8-9-10", LeaveKind.MAKEABLE),
        ("3-10", LeaveKind.SPLIT),
        ("1-2-10", LeaveKind.WASHOUT),
    ],
)
def test_a_leave_is_of_one_kind_for_both_hands(leave, kind):
    mask = parse_leave(leave)
    assert leave_kind(mask) is leave_kind(mirrored_leave(mask)) is kind


def test_no_pin_is_no_kind_of_leave():
    with pytest.raises(InvalidValueError, match="leave"):
        leave_kind(0)


def test_every_name_stands_for_both_hands_and_the_rest_have_none():
    for text, name in NAMES.items():
        assert leave_name(parse_leave(text)) == name
        assert leave_name(mirrored_leave(parse_leave(text))) == name
    assert leave_name(parse_leave("10")) is None
