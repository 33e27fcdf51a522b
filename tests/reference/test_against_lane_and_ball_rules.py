"""Lane, pin spots, ball limits and speed arithmetic against published rules and measures."""

from __future__ import annotations

import math

import pytest

from nextpair.domain.ball import (
    BALL_RADIUS_M,
    LARGEST_DIFFERENTIAL_M,
    LARGEST_MASS_KG,
    LARGEST_RG_M,
    SMALLEST_RG_M,
    Ball,
    Cover,
    Layout,
    Surface,
)
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.house import LaneSurface
from nextpair.domain.lane import (
    BOARD_M,
    BOARDS,
    HEAD_PIN_M,
    LANE_WIDTH_M,
    board_to_x_m,
    pin_position_m,
    x_to_board,
)
from nextpair.domain.units import FOOT_M, INCH_M, MPH_MPS, POUND_KG
from nextpair.physics.friction import dry_friction
from nextpair.physics.reference import roll
from reference.record import load_entry
from reference.releases import B, straight, two_zones, uniform

RULES = "lane_and_ball_rules"
PINS = range(1, 11)


LIMITS = load_entry(RULES, "ball_limits")


def limit(name: str) -> float:
    value: float = LIMITS[name]["value"]
    return value


def ball(weight_lb=15.0, rg_in=2.50, differential_in=0.040, intermediate_in=0.0) -> Ball:
    return Ball(
        name="Kestrel",
        mass_kg=weight_lb * POUND_KG,
        rg_m=rg_in * INCH_M,
        differential_m=differential_in * INCH_M,
        intermediate_m=intermediate_in * INCH_M,
        cover=Cover.SOLID,
        surface=Surface(2000),
        layout=Layout(0.1, 1.0, 0.5),
    )


def test_the_lane_has_its_length_width_and_boards(record):
    record.published(
        RULES,
        "lane",
        foul_line_to_head_pin_ft=HEAD_PIN_M / FOOT_M,
        width_in=LANE_WIDTH_M / INCH_M,
        boards=BOARDS,
        board_width_cm=BOARD_M * 100,
    )
    record.published(
        RULES,
        "lane_arithmetic",
        board_width_in=BOARD_M / INCH_M,
        board_width_mm=BOARD_M * 1000,
        board_17_5_from_centre_in=board_to_x_m(17.5) / INCH_M,
    )


def test_the_pin_spots_stand_as_the_rules_say(record):
    neighbours = {
        (1, 2), (1, 3), (2, 3), (2, 4), (2, 5), (3, 5), (3, 6), (4, 5), (5, 6), (4, 7), (4, 8),
        (5, 8), (5, 9), (6, 9), (6, 10), (7, 8), (8, 9), (9, 10),
    }  # fmt: skip
    record.published(
        RULES,
        "pin_spots",
        neighbours_apart_in=[
            math.dist(pin_position_m(a), pin_position_m(b)) / INCH_M for a, b in neighbours
        ],
        corner_pin_to_edge_in=[
            (LANE_WIDTH_M / 2 - abs(pin_position_m(pin)[0])) / INCH_M for pin in (7, 10)
        ],
        last_row_m=HEAD_PIN_M + pin_position_m(7)[1],
        triangle_side_m=math.dist(pin_position_m(1), pin_position_m(10)),
    )
    places = [pin_position_m(pin) for pin in PINS]
    record.published(
        RULES,
        "pin_triangle",
        right_of_centre_in=[x_m / INCH_M for x_m, _ in places],
        board_from_right=[x_to_board(x_m) for x_m, _ in places],
        foul_line_ft=[(HEAD_PIN_M + y_m) / FOOT_M for _, y_m in places],
    )


def test_the_limits_of_a_ball_are_the_published_ones(record):
    record.published(
        RULES,
        "ball_limits",
        largest_weight_lb=LARGEST_MASS_KG / POUND_KG,
        smallest_rg_in=SMALLEST_RG_M / INCH_M,
        largest_rg_in=LARGEST_RG_M / INCH_M,
        largest_differential_in=LARGEST_DIFFERENTIAL_M / INCH_M,
    )


@pytest.mark.parametrize(
    "at_the_limit",
    [
        {"weight_lb": limit("largest_weight_lb")},
        {"rg_in": limit("smallest_rg_in")},
        {"rg_in": limit("largest_rg_in"), "differential_in": 0.0},
        {"rg_in": 2.74, "differential_in": limit("largest_differential_in")},
        {"differential_in": limit("largest_differential_in"), "intermediate_in": 0.060},
    ],
    ids=str,
)
def test_a_ball_exactly_at_a_limit_is_accepted(at_the_limit):
    made = ball(**at_the_limit)
    low, high, middle = (k / INCH_M for k in made.radii_of_gyration_m)
    expected = {"rg_in": 2.50, "differential_in": 0.040, "intermediate_in": 0.0} | at_the_limit
    assert low == pytest.approx(expected["rg_in"])
    assert high == pytest.approx(expected["rg_in"] + expected["differential_in"])
    assert middle == pytest.approx(high - expected["intermediate_in"])


@pytest.mark.parametrize(
    ("field", "beyond_the_limit"),
    [
        ("weight_lb", {"weight_lb": limit("largest_weight_lb") + 0.01}),
        ("weight_lb", {"weight_lb": 5.9}),
        ("rg_in", {"rg_in": limit("smallest_rg_in") - 0.001}),
        ("rg_in", {"rg_in": limit("largest_rg_in") + 0.001, "differential_in": 0.0}),
        ("rg_in + differential_in", {"rg_in": 2.77, "differential_in": 0.031}),
        ("differential_in", {"differential_in": limit("largest_differential_in") + 0.001}),
        ("differential_in", {"differential_in": -0.001}),
        ("intermediate_in", {"differential_in": 0.030, "intermediate_in": 0.031}),
        ("rg_in", {"rg_in": math.nan}),
    ],
    ids=str,
)
def test_a_ball_beyond_a_limit_is_refused_by_name(field, beyond_the_limit):
    with pytest.raises(InvalidValueError) as refused:
        ball(**beyond_the_limit)
    assert refused.value.field == field
    assert refused.value.allowed in str(refused.value)


def test_the_ball_of_the_model_has_a_legal_diameter():
    diameter_in = 2 * BALL_RADIUS_M / INCH_M
    assert LIMITS["smallest_diameter_in"] <= diameter_in <= LIMITS["largest_diameter_in"]


def test_no_cover_is_stickier_than_the_rules_allow():
    stickiest = max(
        dry_friction(cover, lane, age_years=50.0) for cover in Cover for lane in LaneSurface
    )
    assert stickiest <= LIMITS["largest_friction"]


def test_speed_is_length_over_time(record):
    free = roll(straight(20.45 * MPH_MPS, 2.5 * INCH_M), uniform(0.0), end_m=HEAD_PIN_M)
    record.published(
        RULES,
        "speed",
        mph_at_2_0_s=HEAD_PIN_M / 2.0 / MPH_MPS,
        mph_at_2_4_s=HEAD_PIN_M / 2.4 / MPH_MPS,
        seconds_of_a_ball_free_of_friction_at_20_45_mph=free.end.time_s,
    )


def test_a_ball_loses_two_to_three_miles_an_hour(record):
    rolled = roll(B.start(), two_zones)
    record.published(
        RULES,
        "speed_loss",
        loss_mph=(rolled.moments[0].speed_mps - rolled.end.speed_mps) / MPH_MPS,
    )
