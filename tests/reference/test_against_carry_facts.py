"""Pin carry against what is published about the pocket, strikes and leaves.

All expected numbers, with their sources, are in data/carry.toml. What the plane model does not
reach is listed with its figures in docs/adr/0005-first-carry-table.md.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from nextpair.carry.discs import RackResult, roll_into

from nextpair.carry.deck import PIT_Y_M, Bodies, exact_racks, spotted_racks
from nextpair.carry.table import load_table
from nextpair.domain.lane import BOARD_M, CENTRE_BOARD
from nextpair.domain.units import DEGREE_RAD, MPH_MPS, POUND_KG
from nextpair.kernel.roll import CONTACT_M
from nextpair.scoring.leaves import parse_leave
from reference.record import load_entry

FACTS = "carry"
TABLE = load_table()
SPEED_MPS = 17.0 * MPH_MPS
BOARDS_TRIED = np.arange(14.5, 20.01, 0.05)


def offset_of(board, entry_deg: float):
    """Offset at first contact of a ball that would cross that board level with the head pin."""
    level = CENTRE_BOARD - np.asarray(board, float)
    offset = level
    for _ in range(30):
        before_m = np.sqrt(np.maximum(CONTACT_M**2 - (offset * BOARD_M) ** 2, 0.0))
        offset = level + before_m / BOARD_M * math.tan(entry_deg * DEGREE_RAD)
    return offset


def strikes_by_board(entry_deg: float):
    return TABLE.strike_probability(offset_of(BOARDS_TRIED, entry_deg), entry_deg, SPEED_MPS)


def boards_above(share: float, entry_deg: float) -> float:
    return float(np.mean(strikes_by_board(entry_deg) > share) * np.ptp(BOARDS_TRIED))


def tour_impacts(count: int = 200_000):
    rng = np.random.default_rng(1)
    return rng.normal(2.5, 1.2, count), rng.normal(5.0, 0.8, count), rng.normal(17.3, 0.7, count)


def chance_of(leave: str, offset, entry_deg):
    worth = [mask == parse_leave(leave) for mask in TABLE.leaves]
    return TABLE.mean_of(worth, offset, entry_deg, SPEED_MPS)


def alone(offsets, entries_deg, speed_mps: float, bodies: Bodies, **options) -> RackResult:
    """Balls into exact racks."""
    count = len(offsets)
    return roll_into(
        exact_racks(count, bodies),
        np.array(offsets, float),
        np.array(entries_deg, float),
        np.full(count, speed_mps),
        bodies,
        **options,
    )


def test_the_ball_alone_leaves_the_deck_where_the_impulse_law_says(record):
    entry = load_entry(FACTS, "deck_exit")
    frictionless = Bodies(ball_grip=0.0, ball_friction=0.0)
    entries_deg, offsets = zip(*entry["shots"], strict=True)
    result = alone(offsets, entries_deg, entry["speed_mps"], frictionless, ball_only=True)
    assert set(result.touched.tolist()) == {parse_leave(entry["touched"])}
    record.published(FACTS, "deck_exit", exit_board=CENTRE_BOARD - result.exit_x_m / BOARD_M)


def heading_after_head_pin_deg(board: float, entries_deg, bodies: Bodies):
    """Direction of the ball after the head pin alone, positive toward the left."""
    offset = CENTRE_BOARD - board
    result = alone([offset] * len(entries_deg), entries_deg, SPEED_MPS, bodies, pins=1)
    contact_y_m = -math.sqrt(CONTACT_M**2 - (offset * BOARD_M) ** 2)
    return np.degrees(np.arctan((offset * BOARD_M - result.exit_x_m) / (PIT_Y_M - contact_y_m)))


def test_the_head_pin_turns_the_ball_as_two_bodies_do(record):
    entry = load_entry(FACTS, "deflection")
    bodies = Bodies(
        pin_kg=entry["pin_lb"] * POUND_KG,
        ball_restitution=entry["restitution"],
        ball_grip=0.0,
        ball_friction=0.0,
    )
    headings = {
        name: heading_after_head_pin_deg(board, entry["entry_deg"], bodies)
        for name, board in (
            ("out_of_17_deg", 17.0),
            ("out_of_17_half_deg", 17.5),
            ("out_of_18_deg", 18.0),
        )
    }
    record.published(FACTS, "deflection", **headings)


@pytest.mark.parametrize("entry_deg", [4.0, 5.0, 6.0, 6.5])
def test_the_best_hit_is_in_the_pocket(record, entry_deg):
    best = BOARDS_TRIED[np.argmax(strikes_by_board(entry_deg))]
    record.published(FACTS, "best_hit", best_board=best)


def test_more_angle_carries_from_more_boards():
    entry = load_entry(FACTS, "strike_window")
    straight = boards_above(0.9, entry["near_straight_deg"])
    angled = boards_above(0.9, entry["angled_deg"])
    assert 0.0 < straight <= entry["near_straight_at_most_boards"]
    assert angled >= entry["wider_at_least"] * straight


def test_a_tour_player_strikes_as_often_and_leaves_what_was_counted(record):
    offset, entry_deg, speed_mph = tour_impacts()
    impacts = (offset, entry_deg, speed_mph * MPH_MPS)
    strikes = TABLE.strike_probability(*impacts).mean()

    def share(leave: str) -> float:
        worth = [mask == parse_leave(leave) for mask in TABLE.leaves]
        return 100.0 * float(TABLE.mean_of(worth, *impacts).mean() / (1.0 - strikes))

    record.published(
        FACTS,
        "tour",
        strike_percent=100.0 * strikes,
        ten_pin_percent_of_leaves=share("10"),
        seven_pin_percent_of_leaves=share("7"),
        nine_pin_percent_of_leaves=share("9"),
        seven_ten_percent_of_leaves=share("7-10"),
    )


def test_the_ten_pin_is_what_a_tour_player_leaves_most():
    offset, entry_deg, speed_mph = tour_impacts(20_000)
    mean = TABLE.leave_probability(offset, entry_deg, speed_mph * MPH_MPS).mean(axis=0)
    by_chance = np.argsort(mean)[::-1]
    assert [TABLE.leaves[place] for place in by_chance[:2]] == [0, parse_leave("10")]


def test_pocket_hits_carry(record):
    offset, entry_deg, speed_mph = tour_impacts()
    strikes = TABLE.strike_probability(offset, entry_deg, speed_mph * MPH_MPS)
    carry = strikes[(offset > 1.5) & (offset < 4.0)].mean()
    record.published(FACTS, "pocket", carry_percent=100.0 * carry)


def test_a_light_flush_hit_goes_out_right_and_leaves_the_ten_pin(record):
    entry = load_entry(FACTS, "light_ten")
    count, bodies = 600, Bodies()
    offset = float(offset_of(entry["entry_board"], entry["entry_deg"]))
    result = roll_into(
        spotted_racks(np.random.default_rng(1), count, bodies),
        np.full(count, offset),
        np.full(count, entry["entry_deg"]),
        np.full(count, entry["speed_mps"]),
        bodies,
    )
    record.published(
        FACTS, "light_ten", exit_board=CENTRE_BOARD - np.nanmedian(result.exit_x_m) / BOARD_M
    )
    left, racks = np.unique(result.standing[result.standing != 0], return_counts=True)
    assert left[np.argmax(racks)] == parse_leave("10")


def test_high_hits_leave_the_four_and_its_splits_and_light_hits_do_not():
    high = load_entry(FACTS, "leaves_by_hit")["high"]
    for entry_deg in (2.0, 4.0, 6.0):
        on_high, on_light = (
            sum(chance_of(leave, offset, entry_deg) for leave in high) for offset in (1.0, 4.0)
        )
        assert on_high > 0.4
        assert on_light < 0.05


def test_slightly_light_hits_leave_the_ten_pin_most():
    ten = load_entry(FACTS, "leaves_by_hit")["slightly_light"]
    for entry_deg in (4.0, 5.0, 6.0):
        rows = TABLE.leave_probability(4.0, entry_deg, SPEED_MPS)
        assert TABLE.leaves[1 + int(np.argmax(rows[1:]))] == parse_leave(ten)


def test_light_hits_leave_what_light_hits_leave_and_high_hits_do_not():
    light = load_entry(FACTS, "leaves_by_hit")["light"]
    for entry_deg in (2.0, 4.0):
        wide = np.array([4.5, 5.0, 5.5, 6.0])
        on_light = np.mean(sum(chance_of(leave, wide, entry_deg) for leave in light))
        on_high = sum(chance_of(leave, 1.0, entry_deg) for leave in light)
        assert on_light > 0.2
        assert on_high < 0.02


def test_a_wide_ball_that_misses_the_head_pin_leaves_a_washout_or_bucket():
    head_pin_stands = [bool(mask & 1) for mask in TABLE.leaves]
    two_stands = [bool(mask & 2) for mask in TABLE.leaves]
    for entry_deg in (2.0, 4.0, 6.0):
        assert TABLE.mean_of(head_pin_stands, 7.0, entry_deg, SPEED_MPS) > 0.95
        assert TABLE.mean_of(two_stands, 7.0, entry_deg, SPEED_MPS) > 0.9


def test_too_much_angle_leaves_the_nine():
    assert chance_of("9", 2.0, 7.0) > 1.5 * chance_of("9", 2.0, 2.0)
