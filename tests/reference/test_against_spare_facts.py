"""Spares against what is published: windows of lone pins, and how often professionals make what.

Expected numbers, with their sources, are in data/spares.toml. A tour player throws the bundled
spare ball on the bundled pattern, every path rolled by the kernel.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np

from nextpair.carry.leave_paths import offset_of_place
from nextpair.carry.spares import leave_odds
from nextpair.domain.event import Event
from nextpair.domain.lane import BOARD_M, HEAD_PIN_M
from nextpair.domain.units import DEGREE_RAD, INCH_M
from nextpair.planning.options import packed_spares
from nextpair.planning.spare_shots import Delivery, best_shots, fresh_range
from nextpair.scoring.leaves import PINS, parse_leave, pin_bit
from reference.record import load_entry
from reference.tour_player import tour_release, tour_scatter
from small_event import SEED, small_event

FACTS = "spares"
SEEDS = (SEED, SEED + 2, SEED + 4)
"""Three sets of errors: 768 shots at each leave, half a point of sampling."""


def tour_event() -> Event:
    """The bundled event with a tour player's release and scatter."""
    event = small_event()
    bowler = replace(event.bowler, release=tour_release(), scatter=tour_scatter())
    return replace(event, bowler=bowler)


@cache
def made_percent(*leaves: str, usual: bool = False) -> tuple[float, ...]:
    """How often the spare ball makes each leave, a tour player's or the bundled bowler's."""
    event = small_event() if usual else tour_event()
    masks = [parse_leave(leave) for leave in leaves]
    chances = []
    for seed in SEEDS:
        lanes = fresh_range(event, seed)
        every = lanes.every_line(Delivery(packed_spares(event)[0], flat=True))
        chances.append([shot.chance for shot in best_shots(lanes, every, masks)])
    return tuple((100.0 * np.mean(chances, axis=0)).tolist())


def window_boards(pin: int, angle_deg: float = 0.0) -> float:
    """Across how many boards a ball makes a lone pin: its odds, read in small steps."""
    odds = leave_odds(pin_bit(pin))
    places, step = np.linspace(-8.0, 8.0, 16_001, retstep=True)
    offsets = offset_of_place(odds.leave, places, angle_deg)
    return float(step * odds.made(offsets, angle_deg).sum())


def test_a_lone_pin_is_hit_from_its_whole_window(record):
    whole, corner = window_boards(5), window_boards(10)
    record.published(
        FACTS,
        "lone_pin",
        window_in=whole * BOARD_M / INCH_M,
        corner_window_in=corner * BOARD_M / INCH_M,
    )


def test_a_straight_ball_crosses_the_lane_at_a_corner_pin(record):
    entry = load_entry(FACTS, "straight_corner")
    across_boards = entry["laydown_board"] - entry["aim_board"]
    pin_row_m = HEAD_PIN_M + 3 * 12.0 * INCH_M * math.sqrt(3.0) / 2.0
    angle_deg = -math.atan(across_boards * BOARD_M / pin_row_m) / DEGREE_RAD
    record.published(
        FACTS,
        "straight_corner",
        angle_deg=angle_deg,
        window_boards=window_boards(10, angle_deg),
    )


def test_a_tour_player_makes_single_pins(record):
    ten, seven, nine = made_percent("10", "7", "9")
    record.published(
        FACTS, "single_pins", ten_pin_percent=ten, seven_pin_percent=seven, nine_pin_percent=nine
    )
    record.published(FACTS, "corner_pins", made_percent=(710 * ten + 333 * seven) / 1043)


def test_a_tour_player_makes_a_three_ten_half_the_time(record):
    record.unmet(FACTS, "three_ten", achieved=made_percent("3-10")[0])


def test_nobody_makes_a_seven_ten(record):
    record.published(FACTS, "seven_ten", made_percent=made_percent("7-10")[0])


def test_hardly_anybody_makes_a_four_six_seven_ten(record):
    record.published(FACTS, "four_six_seven_ten", made_percent=made_percent("4-6-7-10")[0])


def test_a_four_six_seven_nine_ten_is_the_hardest(record):
    achieved = made_percent("4-6-7-9-10")[0]
    record.unmet(FACTS, "four_six_seven_nine_ten", achieved=achieved)


def test_a_two_hundred_bowler_misses_one_single_pin_in_eight(record):
    singles = made_percent(*map(str, range(1, PINS + 1)), usual=True)
    record.published(FACTS, "usual_corner", single_pin_percent=float(np.mean(singles)))
    assert min(singles) == min(singles[6], singles[9])
