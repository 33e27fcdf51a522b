"""One line on one lane: against single shots rolled directly."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from nextpair.domain.bowler import Bowler
from nextpair.domain.lane import ARROWS_M, BOARD_M
from nextpair.domain.units import DEGREE_RAD, FOOT_M, MPH_MPS
from nextpair.kernel.layout import NODE_M, Trace
from nextpair.kernel.roll import roll
from nextpair.kernel.throws import own_boards_of, release_errors, shots_of
from nextpair.planning.lines import line_values
from nextpair.planning.study import ANSWERED_SHARE
from nextpair.planning.trial import (
    FEET,
    ROOM_ANGLES_RAD,
    ROOM_ERRORS,
    ROOM_SPEEDS_MPS,
    Trial,
    meant_offset_boards,
    try_line,
)
from small_event import SEED, small_workings

WORK = small_workings()
BOWLER = WORK.event.bowler
CHOICE = WORK.choices[0]
LINE, LANE = CHOICE.lines[0], WORK.study.of_game(1)[0]
ERRORS = 64


@cache
def tried(line=LINE, bowler: Bowler = BOWLER) -> Trial:
    errors = release_errors(bowler.scatter, ERRORS, SEED)
    return try_line(line, LANE, bowler, WORK.table, WORK.pins, errors)


def steadier(share: float) -> Bowler:
    """The bowler with every part of the scatter times a share."""
    scatter = BOWLER.scatter
    return replace(
        BOWLER,
        scatter=replace(
            scatter,
            **{name: share * getattr(scatter, name) for name in scatter.__dataclass_fields__},
        ),
    )


@cache
def direct():
    """The meant shot alone on the film half-way through the game."""
    shots = shots_of(
        BOWLER.release,
        LANE.kind,
        own_laydown=LINE.own_laydown,
        launch_angle_rad=LINE.angle_rad,
        body=LINE.option,
    )
    return roll(LANE.kind.under(LANE.middle), LANE.bodies, shots, record=True)


def test_the_told_shot_is_the_one_that_rolls():
    paths, trial = direct(), tried()
    impact = paths.lane_impact
    assert trial.offset_boards == pytest.approx(impact.offset_boards[0], abs=1e-3)
    assert trial.entry_angle_deg == pytest.approx(impact.entry_angle_deg[0], abs=1e-3)
    assert trial.entry_speed_mps == pytest.approx(impact.speed_mps[0], abs=1e-4)
    assert trial.target == pytest.approx(own_boards_of(paths.arrows_x_m)[0], abs=1e-3)
    assert trial.exit_board == pytest.approx(own_boards_of(paths.exit_x_m)[0], abs=1e-3)
    assert trial.breakpoint_board == pytest.approx(own_boards_of(paths.break_x_m)[0], abs=1e-3)
    assert trial.breakpoint_ft == pytest.approx(paths.break_m[0] / FOOT_M)
    assert meant_offset_boards(LINE, LANE.middle, LANE, BOWLER) == pytest.approx(
        trial.offset_boards, abs=1e-3
    )


def test_the_path_is_told_at_every_foot():
    trace = direct().trace
    assert trace is not None
    boards = own_boards_of(np.interp(FEET * FOOT_M, NODE_M, trace[Trace.X, :, 0]))
    np.testing.assert_allclose(tried().path, boards, atol=1e-3)
    assert tried().path[0] == pytest.approx(LINE.own_laydown, abs=1e-4)
    assert tried().path[15] == pytest.approx(tried().target, abs=0.01)
    assert tried().path.min() == pytest.approx(tried().breakpoint_board, abs=0.05)


def test_the_line_finds_the_pocket():
    assert 0.5 < tried().offset_boards < 4.5
    assert 1.0 < tried().entry_angle_deg < 8.0
    assert tried().target > tried().breakpoint_board
    assert tried().entry_speed_mps < BOWLER.release.speed_mps


def test_the_band_holds_the_path_and_widens_down_the_lane():
    low, high = tried().band.min(axis=1), tried().band.max(axis=1)
    assert np.all((low <= tried().path) & (tried().path <= high))
    width = high - low
    assert 0.0 < width[0] < width[20] < width[40]
    # At the foul line only the lay-down scatters: 80 % of a normal lies within 1.2816 deviations.
    assert width[0] == pytest.approx(2 * 1.2816 * BOWLER.scatter.laydown_boards, rel=0.15)


def test_strikes_are_chances_and_leaves_add_up():
    trial = tried()
    assert trial.strike_by_draw.shape == (len(WORK.study.doubt),)
    assert np.all((trial.strike_by_draw > 0.0) & (trial.strike_by_draw < 1.0))
    assert trial.leaves_by_draw.min() >= 0.0
    np.testing.assert_allclose(trial.leaves_by_draw.sum(axis=1), 1.0)
    strikes = trial.leaves_by_draw[:, WORK.table.leaves.index(0)]
    np.testing.assert_array_equal(trial.strike_by_draw, strikes)


def test_the_rolled_shots_are_worth_what_the_map_says_that_lines_are_chosen_by():
    """Chosen by a blurred map, told by rolled shots, some of them from answered lines."""
    row = int(np.flatnonzero(LANE.values.grid.own_laydown == LINE.own_laydown)[0])
    column = int(np.flatnonzero(LANE.values.grid.angle_rad == LINE.angle_rad)[0])
    planned = LANE.values.value[LINE.option, :, row, column].mean()
    answered = LANE.values.value[LINE.option].max(axis=(1, 2)).mean()
    by_map = (1 - ANSWERED_SHARE) * planned + ANSWERED_SHARE * answered
    rolled = WORK.pins.base + tried().leaves_by_draw.mean(axis=0) @ WORK.pins.worth
    assert rolled == pytest.approx(by_map, abs=8.0)


def test_a_line_has_room_on_both_counts():
    assert 0.2 < tried().room_boards < 6.0
    assert 0.1 < tried().room_mph < 4.0
    assert 0.0 < tried().room_laydown_boards < 15.0
    assert 0.0 < tried().room_angle_rad < 3.0 * DEGREE_RAD


def test_a_steadier_bowler_strikes_more():
    steady = tried(bowler=steadier(0.3))
    assert steady.strike_by_draw.mean() > tried().strike_by_draw.mean() + 0.05
    assert np.ptp(steady.band, axis=1).max() < np.ptp(tried().band, axis=1).max()


def pins_of(angle_rad: float, speed_mps: float) -> float:
    """Mean value of the line with some change of angle or speed under the usual scatter."""
    errors = release_errors(BOWLER.scatter, ROOM_ERRORS, SEED)
    shots = shots_of(
        BOWLER.release,
        LANE.kind,
        own_laydown=LINE.own_laydown + errors.laydown_boards[None],
        launch_angle_rad=LINE.angle_rad + angle_rad + errors.launch_angle_rad[None],
        speed_change_mps=speed_mps + errors.speed_mps[None],
        body=LINE.option,
        film=np.arange(len(LANE.films))[:, None],
        dry_factor=LANE.dry_factor[:, None],
    )
    films = LANE.films
    impact = roll(LANE.kind.under(films), LANE.bodies, shots).impact
    worth = WORK.table.mean_of(
        WORK.pins.worth, impact.offset_boards, impact.entry_angle_deg, impact.speed_mps
    )
    return float(WORK.pins.base + worth.mean())


@pytest.mark.parametrize(("angle_rad", "speed_mps"), [(0.02 * DEGREE_RAD, 0.0), (0.0, 0.02)])
def test_room_ends_where_a_twentieth_of_the_score_is_lost(angle_rad, speed_mps):
    """Walked out in small steps to both sides; boards are boards at the arrows."""
    least = 0.95 * pins_of(0.0, 0.0)
    width = 0
    for side in (-1, 1):
        step = side
        while pins_of(step * angle_rad, step * speed_mps) >= least:
            step += side
        width += abs(step)
    boards, mph = width * angle_rad * ARROWS_M / BOARD_M, width * speed_mps / MPH_MPS
    expected, told = (boards, tried().room_boards) if angle_rad else (mph, tried().room_mph)
    assert told == pytest.approx(expected, rel=0.2)


@pytest.mark.parametrize("base", [0.0, -300.0])
def test_a_line_into_the_gutter_has_all_the_room_that_was_looked_at(base):
    """Nothing that the bowler changes makes it worse, whatever a gutter ball is worth."""
    lost = replace(LINE, own_laydown=3.0, angle_rad=8.0 * DEGREE_RAD)
    errors = release_errors(BOWLER.scatter, ERRORS, SEED)
    trial = try_line(lost, LANE, BOWLER, WORK.table, replace(WORK.pins, base=base), errors)
    looked_at_rad = ROOM_ANGLES_RAD[-1] - ROOM_ANGLES_RAD[0]
    assert trial.room_boards == pytest.approx(looked_at_rad * ARROWS_M / BOARD_M)
    assert trial.room_mph == pytest.approx((ROOM_SPEEDS_MPS[-1] - ROOM_SPEEDS_MPS[0]) / MPH_MPS)


@pytest.mark.parametrize("shift_deg", [-1.5, 1.5])
def test_a_line_beside_the_pocket_strikes_less(shift_deg):
    off = replace(LINE, angle_rad=LINE.angle_rad + shift_deg * DEGREE_RAD)
    assert tried(off).strike_by_draw.mean() < tried().strike_by_draw.mean() - 0.05


def test_the_lane_was_studied_with_the_balls_that_are_tried():
    again = line_values(
        LANE.films[:1],
        LANE.dry_factor[:1],
        BOWLER.release,
        WORK.study.scatter(),
        LANE.kind,
        LANE.bodies,
        WORK.pins,
        LANE.values.grid,
    )
    np.testing.assert_allclose(again.value[:, 0], LANE.values.value[:, 0], atol=0.05)
