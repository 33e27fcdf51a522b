"""Pin carry against what is published about the pocket, strikes and leaves.

All expected numbers, with their sources, are in data/carry.toml. What the racks do not reach is
recorded as not met, and told in docs/adr/0011-rigid-body-racks.md.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter1d

from nextpair.carry.leave_paths import level_boards, offset_at
from nextpair.carry.racks import KEPT
from nextpair.carry.rolls import Rolls, load_rolls
from nextpair.carry.table import load_table
from nextpair.domain.lane import BOARD_M, CENTRE_BOARD
from nextpair.domain.units import MPH_MPS
from nextpair.files.pattern_library import load_library
from nextpair.scoring.leaves import parse_leave
from reference.record import load_entry
from reference.tour_player import best_impacts
from source_tree import ROOT

FACTS = "carry"
TABLE = load_table()
SPEED_MPS = 17.0 * MPH_MPS
STEP_BOARDS = 0.05
BOARDS_TRIED = np.arange(14.5, 20.01, STEP_BOARDS)
STANDING = np.array(TABLE.leaves)


def strikes_by_board(entry_deg: float, boards=BOARDS_TRIED):
    offsets = offset_at(CENTRE_BOARD - boards, entry_deg)
    return TABLE.strike_probability(offsets, entry_deg, SPEED_MPS)


def boards_above(share: float, entry_deg: float) -> float:
    return float(np.sum(strikes_by_board(entry_deg) > share) * STEP_BOARDS)


def chance_of(leaves: list[str], offset, entry_deg):
    worth = np.isin(STANDING, [parse_leave(leave) for leave in leaves])
    return TABLE.mean_of(worth, offset, entry_deg, SPEED_MPS)


@cache
def tour_impacts():
    """Level offsets, and offset at contact, angle and speed of the assumed mix."""
    count, rng = 100_000, np.random.default_rng(1)
    level, entry_deg = rng.normal(2.5, 1.2, count), rng.normal(5.0, 0.8, count)
    speed_mps = MPH_MPS * rng.normal(17.3, 0.7, count)
    return level, (offset_at(level, entry_deg), entry_deg, speed_mps)


def percent_of_leaves(leave: str) -> float:
    _, impacts = tour_impacts()
    strikes = TABLE.strike_probability(*impacts).mean()
    with_leave = TABLE.mean_of(parse_leave(leave) == STANDING, *impacts).mean()
    return 100.0 * float(with_leave / (1.0 - strikes))


def pocket_carry_percent(level, strikes) -> float:
    entry = load_entry(FACTS, "pocket")
    pocket = (level > entry["least_boards"]) & (level < entry["most_boards"])
    return 100.0 * float(strikes[pocket].mean())


@pytest.mark.parametrize("entry_deg", [4.0, 5.0, 6.0, 6.5])
def test_the_best_hit_is_in_the_pocket(record, entry_deg):
    best = BOARDS_TRIED[np.argmax(strikes_by_board(entry_deg))]
    record.published(FACTS, "best_hit", best_board=best)


def test_the_angle_that_strikes_most(record):
    boards, angles_deg = np.arange(10.0, 25.0, STEP_BOARDS), np.arange(2.0, 9.01, 0.5)
    blur = load_entry(FACTS, "best_angle")["sd_boards"] / STEP_BOARDS
    strikes = [gaussian_filter1d(strikes_by_board(a, boards), blur).max() for a in angles_deg]
    record.unmet(FACTS, "best_angle", achieved=float(angles_deg[np.argmax(strikes)]))
    assert np.all(np.diff(strikes) > -0.005)


def test_more_angle_carries_from_more_boards(record):
    straight_entry = load_entry(FACTS, "strike_window_straight")
    angled_entry = load_entry(FACTS, "strike_window")
    straight = boards_above(0.9, straight_entry["entry_deg"])
    angled = boards_above(0.9, angled_entry["entry_deg"])
    record.published(FACTS, "strike_window_straight", boards=straight)
    record.unmet(FACTS, "strike_window", achieved=angled)
    assert angled >= angled_entry["wider_than_straight_at_least"] * straight > 0.0


def test_a_tour_player_strikes_as_often_and_leaves_what_was_counted(record):
    level, impacts = tour_impacts()
    strikes = TABLE.strike_probability(*impacts)
    record.published(
        FACTS,
        "tour",
        strike_percent=100.0 * strikes.mean(),
        ten_pin_percent_of_leaves=percent_of_leaves("10"),
        seven_pin_percent_of_leaves=percent_of_leaves("7"),
        nine_pin_percent_of_leaves=percent_of_leaves("9"),
        four_six_seven_ten_percent_of_leaves=percent_of_leaves("4-6-7-10"),
    )
    record.published(FACTS, "pocket", carry_percent=pocket_carry_percent(level, strikes))


def test_a_tour_player_leaves_fewer_splits_than_counted(record):
    record.unmet(FACTS, "tour_seven_ten", achieved=percent_of_leaves("7-10"))
    record.unmet(FACTS, "tour_three_ten", achieved=percent_of_leaves("3-10"))


def test_the_ten_pin_is_what_a_tour_player_leaves_most():
    _, impacts = tour_impacts()
    some = (column[:20_000] for column in impacts)
    by_chance = np.argsort(TABLE.leave_probability(*some).mean(axis=0))[::-1]
    assert STANDING[by_chance[:2]].tolist() == [0, parse_leave("10")]


def test_a_tour_players_scatter_of_release_strikes_as_often_as_counted(record):
    names = load_entry(FACTS, "tour_thrown")["patterns"]
    fresh = [pattern for pattern in load_library() if pattern.name in names]
    assert len(fresh) == len(names)
    thrown = [best_impacts(pattern, TABLE, shots=512) for pattern in fresh]
    strikes = [TABLE.strike_probability(*impacts).mean() for impacts in thrown]
    pocket = [
        pocket_carry_percent(impacts.level, TABLE.strike_probability(*impacts))
        for impacts in (impacts.at_pins for impacts in thrown)
    ]
    record.published(
        FACTS,
        "tour_thrown",
        strike_percent=100.0 * np.mean(strikes),
        carry_percent=np.mean(pocket),
    )


@cache
def kept_racks() -> Rolls:
    return load_rolls(ROOT / KEPT / "racks.npz")[0]


def near(board: float, entry_deg: float) -> Rolls:
    """Racks that were rolled that close to it: 0.15 board level with the head pin, 0.7 degrees."""
    racks = kept_racks()
    racks = racks.taken(np.abs(racks.angle_deg - entry_deg) < 0.7)
    level = level_boards(racks.offset_boards, racks.angle_deg)
    return racks.taken(np.abs(CENTRE_BOARD - board - level) < 0.15)


def exit_board(racks: Rolls) -> float:
    assert len(racks.exit_x_m) >= 150
    return float(CENTRE_BOARD - np.nanmedian(racks.exit_x_m) / BOARD_M)


def test_a_flush_ball_goes_out_further_right_than_told(record):
    entry = load_entry(FACTS, "flush_exit")
    racks = near(entry["entry_board"], entry["entry_deg"])
    record.unmet(FACTS, "flush_exit", achieved=exit_board(racks))


def test_a_light_ball_goes_out_right_and_leaves_the_ten_pin(record):
    entry = load_entry(FACTS, "light_ten")
    racks = near(entry["entry_board"], entry["entry_deg"])
    record.published(FACTS, "light_ten", exit_board=exit_board(racks))
    left, times = np.unique(racks.standing[racks.standing != 0], return_counts=True)
    assert left[np.argmax(times)] == parse_leave("10")


@pytest.mark.parametrize("entry_deg", [2.0, 4.0, 6.0])
def test_high_hits_leave_the_four_and_its_splits_and_light_hits_do_not(entry_deg):
    high = load_entry(FACTS, "leaves_by_hit")["high"]
    assert chance_of(high, 1.0, entry_deg) > 0.4
    assert chance_of(high, 3.5, entry_deg) < 0.05
    assert TABLE.mean_of(STANDING & parse_leave("4") != 0, 1.0, entry_deg, SPEED_MPS) > 0.6


@pytest.mark.parametrize("entry_deg", [3.0, 4.0, 5.0, 6.0])
def test_slightly_light_hits_leave_the_ten_pin_most(entry_deg):
    offset = offset_at(CENTRE_BOARD - 17.0, entry_deg)
    row = TABLE.leave_probability(offset, entry_deg, SPEED_MPS)
    ten = parse_leave(load_entry(FACTS, "leaves_by_hit")["slightly_light"])
    assert STANDING[STANDING != 0][np.argmax(row[STANDING != 0])] == ten


@pytest.mark.parametrize("entry_deg", [2.0, 4.0])
def test_light_hits_leave_what_light_hits_leave_and_high_hits_do_not(entry_deg):
    """5-7, 8-10 and 5-10, or the 2 pin without the head pin: what light hits leave, by the source.

    It gives no share, so the two sides of the pocket are held against each other.
    """
    light = [parse_leave(leave) for leave in load_entry(FACTS, "leaves_by_hit")["light"]]
    two_based = (STANDING & parse_leave("1-2")) == parse_leave("2")
    of_a_light_hit = np.isin(STANDING, light) | two_based
    by_light_hits = TABLE.mean_of(of_a_light_hit, np.arange(3.5, 6.1, 0.25), entry_deg, SPEED_MPS)
    by_high_hits = TABLE.mean_of(of_a_light_hit, np.arange(0.0, 1.6, 0.25), entry_deg, SPEED_MPS)
    assert by_light_hits.mean() > 10.0 * by_high_hits.mean()
    assert by_light_hits.max() > 0.9
    assert chance_of(load_entry(FACTS, "leaves_by_hit")["light"], 1.0, entry_deg) < 0.02
    assert TABLE.mean_of(two_based, 1.0, entry_deg, SPEED_MPS) < 0.1


@pytest.mark.parametrize("entry_deg", [2.0, 4.0, 6.0])
def test_a_wide_ball_that_misses_the_head_pin_leaves_a_washout_or_bucket(entry_deg):
    for pin in ("1", "2"):
        stands = STANDING & parse_leave(pin) != 0
        assert TABLE.mean_of(stands, 7.0, entry_deg, SPEED_MPS) > 0.9


def test_too_much_angle_leaves_the_nine():
    assert chance_of(["9"], 2.0, 7.0) > 0.1
    assert chance_of(["9"], 2.0, 7.0) > 2.0 * chance_of(["9"], 2.0, 4.0)
