"""The search over lines: against rolling every line, and against brute force over the scatter."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from nextpair.domain.ball import CONTACT_M
from nextpair.domain.bowler import Hand, Scatter
from nextpair.domain.lane import BOARD_M, BOARDS, CELLS, LANE_WIDTH_M, mirrored_board
from nextpair.domain.units import DEGREE_RAD, FOOT_M
from nextpair.kernel.layout import bodies_of
from nextpair.kernel.roll import Paths, roll
from nextpair.kernel.throws import LaneKind, own_boards_of, release_errors, shots_of
from nextpair.planning.lines import (
    AIM_BOARDS,
    AIM_RAD,
    ALIKE_PINS,
    EDGE_BOARDS,
    FINER,
    LineValues,
    line_grid,
    line_values,
)
from small_event import small_event, values_of

LENGTH_M = 42 * FOOT_M
EVENT = small_event()
BOWLER = EVENT.bowler
BALLS = ("Slate Weir", "Dunlin Flock")
BODIES = bodies_of([ball for ball in EVENT.locker if ball.name in BALLS], EVENT.house)
GRID = line_grid(BOWLER.reach, BOWLER.hand)
SHAPE = (len(BALLS), len(GRID.own_laydown), len(GRID.angle_rad))
SHOTS = 2048
AGREE_PINS = 6.0
"""For lines that lose no shot at the edge. The grid reads carry at one speed, and the parts of the
scatter as if each moved the offset in proportion: that makes good lines 1 to 5 pins too good."""
FEW_LOST = 0.02
NEAR_EDGE_AGREE_PINS = 12.0
"""For the others: there, every shot more or less that is lost weighs 200 pins."""


def smooth_film() -> np.ndarray:
    """A crowned fresh film without steps, thinning out over its last 15 ft; (1, 120, 39) um."""
    across = 0.6 + 2.2 * np.exp(-(((np.arange(BOARDS) - 19) / 11.0) ** 2))
    left = np.clip((84 - np.arange(CELLS)) / 30, 0.0, 1.0)
    return (left**2 * (3 - 2 * left))[None, :, None] * across


FILM = smooth_film()


def rolled(own_laydown, launch_angle_rad, body, **errors) -> Paths:
    shots = shots_of(
        BOWLER.release,
        LaneKind(LENGTH_M),
        own_laydown=own_laydown,
        launch_angle_rad=launch_angle_rad,
        body=body,
        **errors,
    )
    return roll(LaneKind(LENGTH_M).under(FILM), BODIES, shots)


@cache
def values(scatter: Scatter = BOWLER.scatter) -> LineValues:
    _, _, pins = values_of(EVENT)
    return line_values(
        FILM, np.ones(1), BOWLER.release, scatter, LaneKind(LENGTH_M), BODIES, pins, GRID
    )


@cache
def meant() -> Paths:
    """Every line of the fine grid rolled as meant, with every ball."""
    return rolled(
        GRID.own_laydown[None, :, None],
        GRID.angle_rad[None, None, :],
        np.arange(len(BALLS))[:, None, None],
    )


def brute_force(
    ball: int, row: int, column: int, scatter: Scatter = BOWLER.scatter
) -> tuple[float, float]:
    """Mean value of many shots at a line, each rolled with its own error of release and aim, and
    the share of them that is lost at the edge."""
    table, _, pins = values_of(EVENT)
    errors = release_errors(scatter, SHOTS, 5)
    aim = np.random.default_rng(3).normal(size=(2, SHOTS))
    paths = rolled(
        GRID.own_laydown[row] + errors.laydown_boards + AIM_BOARDS * aim[0],
        GRID.angle_rad[column] + errors.launch_angle_rad + AIM_RAD * aim[1],
        ball,
        speed_change_mps=errors.speed_mps,
        rev_change_radps=errors.rev_rate_radps,
        rotation_change_rad=errors.axis_rotation_rad,
    )
    impact = paths.lane_impact
    worth = table.mean_of(
        pins.worth, impact.offset_boards, impact.entry_angle_deg, impact.speed_mps
    )
    lost = paths.break_x_m > LANE_WIDTH_M / 2 - EDGE_BOARDS * BOARD_M
    return float(np.where(lost, pins.gutter, pins.base + worth).mean()), float(lost.mean())


@pytest.mark.parametrize("ball", range(len(BALLS)))
def test_the_value_of_a_line_is_what_brute_force_makes_of_it(ball):
    value = values().mean_value[ball]
    best = np.unravel_index(value.argmax(), value.shape)
    cells = [(int(best[0]), int(best[1]))]
    cells += [(row, column) for row in (0, 6, 18, 30, 42, 48) for column in range(15, 48, 8)]
    from_grid = np.array([value[cell] for cell in cells])
    by_force, lost = np.array([brute_force(ball, *cell) for cell in cells]).T
    safe = lost < FEW_LOST
    assert safe.sum() >= 5
    assert np.ptp(by_force[safe]) > 50.0
    np.testing.assert_allclose(from_grid[safe], by_force[safe], atol=AGREE_PINS)
    np.testing.assert_allclose(from_grid, by_force, atol=NEAR_EDGE_AGREE_PINS)
    # What lines are chosen by is which is better, so the best of the grid is among the best.
    assert by_force[0] > by_force.max() - AGREE_PINS / 2


@pytest.mark.parametrize(
    "more", [{"laydown_boards": 3.0}, {"launch_angle_rad": 0.9 * DEGREE_RAD}, {"speed_mps": 0.6}]
)
def test_each_part_of_the_scatter_costs_what_brute_force_says(more):
    wide = replace(BOWLER.scatter, **more)
    cell = values().best_cell(0)
    cost = values().mean_value[0][cell] - values(wide).mean_value[0][cell]
    by_force = brute_force(0, *cell)[0] - brute_force(0, *cell, wide)[0]
    assert by_force > 5.0
    assert cost == pytest.approx(by_force, rel=0.3)


def test_lines_are_interpolated_to_where_the_kernel_rolls_them():
    coarse = rolled(
        GRID.laydown.rolled[None, :, None],
        GRID.angle.rolled[None, None, :],
        np.arange(len(BALLS))[:, None, None],
    )
    shape = (len(BALLS), len(GRID.laydown.rolled), len(GRID.angle.rolled))
    on_lane = meant().break_x_m.reshape(SHAPE) < LANE_WIDTH_M / 2 - 3 * BOARD_M
    # Offsets have a kink where the head pin is just missed: from the contact to its row.
    misses = np.abs(meant().lane_impact.offset_boards.reshape(SHAPE)) - CONTACT_M / BOARD_M
    smooth = on_lane & (np.abs(misses) > 1.5)
    assert smooth.mean() > 0.5
    for name in ("offset_boards", "entry_angle_deg"):
        read = GRID.within_reach(GRID.refined(getattr(coarse.lane_impact, name).reshape(shape)))
        direct = getattr(meant().lane_impact, name).reshape(SHAPE)
        np.testing.assert_allclose(read[smooth], direct[smooth], atol=0.2)


def test_rolled_lines_are_among_all_lines_and_straight_functions_stay_straight():
    plane = 2.0 * GRID.laydown.rolled[:, None] - 30.0 * GRID.angle.rolled[None, :]
    finer = 2.0 * GRID.own_laydown[:, None] - 30.0 * GRID.angle_rad[None, :]
    np.testing.assert_allclose(GRID.within_reach(GRID.refined(plane)), finer, atol=1e-10)
    for axis in (GRID.laydown, GRID.angle):
        np.testing.assert_allclose(axis.places[::FINER], axis.rolled_within, atol=1e-12)
        for beyond in (axis.places[0] - axis.rolled[0], axis.rolled[-1] - axis.places[-1]):
            assert axis.margin <= beyond + 1e-12 < axis.margin + axis.step


def test_a_line_at_the_end_of_reach_pays_for_straying_beyond_it():
    """Against the same line in the middle of a wider reach, where nothing is cut off."""
    _, _, pins = values_of(EVENT)
    low, end = BOWLER.reach.laydown_boards[0], float(GRID.laydown.rolled_within[-3])
    narrow = line_grid(replace(BOWLER.reach, laydown_boards=(low, end)), BOWLER.hand)
    at_end, within = (
        line_values(
            FILM,
            np.ones(1),
            BOWLER.release,
            BOWLER.scatter,
            LaneKind(LENGTH_M),
            BODIES,
            pins,
            grid,
        ).mean_value[0]
        for grid in (narrow, GRID)
    )
    row = GRID.cell_of(end, 0.0)[0]
    np.testing.assert_allclose(at_end[-1], within[row], atol=3.0)


def test_exit_boards_are_where_the_kernel_leaves_the_oil():
    direct = own_boards_of(meant().exit_x_m).reshape(SHAPE)
    np.testing.assert_allclose(values().exit_board, direct, atol=0.1)


def test_a_line_into_the_gutter_is_worth_what_a_gutter_ball_is():
    _, _, pins = values_of(EVENT)
    assert own_boards_of(meant().break_x_m.reshape(SHAPE)[0, 0, -1]) < -2.0
    assert values().value[0, 0, 0, -1] == pytest.approx(pins.gutter, abs=0.01)


def test_without_scatter_a_line_is_worth_more_and_still_blurred_by_the_aim():
    steady = values(replace(BOWLER.scatter, laydown_boards=0.0, launch_angle_rad=0.0))
    assert np.all(steady.best_value() > values().best_value())
    _, _, pins = values_of(EVENT)
    assert np.all(steady.best_value() < pins.value.max())


@pytest.mark.parametrize("hand", [Hand.RIGHT, Hand.LEFT])
def test_the_grid_covers_what_the_bowler_can_repeat_and_no_more(hand):
    low, high = BOWLER.reach.laydown_boards
    reach = BOWLER.reach
    if hand is Hand.LEFT:
        reach = replace(reach, laydown_boards=(mirrored_board(high), mirrored_board(low)))
    grid = line_grid(reach, hand, 1.5, 0.25 * DEGREE_RAD)
    assert (grid.own_laydown[0], grid.own_laydown[-1]) == (low, high)
    assert np.diff(grid.laydown.rolled_within).max() <= 1.5 + 1e-9
    assert (grid.angle_rad[0], grid.angle_rad[-1]) == reach.launch_angle_rad
    assert np.diff(grid.angle.rolled_within).max() <= 0.25 * DEGREE_RAD + 1e-12


def test_a_reach_of_one_board_still_has_lines():
    reach = replace(BOWLER.reach, laydown_boards=(20.0, 20.0), launch_angle_rad=(0.02, 0.02))
    grid = line_grid(reach, Hand.RIGHT)
    assert list(grid.own_laydown) == [20.0]
    assert list(grid.angle_rad) == [0.02]
    assert grid.within_reach(grid.refined(np.full((5, 5), 7.0))) == pytest.approx(7.0)
    steady = line_grid(reach, Hand.RIGHT, strays=False)
    assert steady.refined(np.array([[7.0]])) == [[7.0]]
    assert steady.blur(0.5, 0.01) == (0.0, 0.0)


def test_the_best_line_is_worth_most_or_alike():
    value = values().mean_value[0]
    assert value.max() == values().best_value()[0]
    assert value[values().best_cell(0)] >= value.max() - ALIKE_PINS


def hills(low_pins: float) -> LineValues:
    """A sharp hill of 200 pins far outside, and a flat one inside."""
    laydown, angle = np.meshgrid(GRID.own_laydown, GRID.angle_rad / DEGREE_RAD, indexing="ij")
    sharp = 200.0 - 10.0 * ((laydown - 14.0) ** 2 + (angle - 1.0) ** 2)
    flat = low_pins - 1.0 * ((laydown - 28.0) ** 2 + (angle - 3.0) ** 2)
    value = np.maximum(np.maximum(sharp, flat), 0.0)
    return LineValues(GRID, value[None, None].astype(np.float32), np.zeros((1, *value.shape)))


@pytest.mark.parametrize(("low_pins", "laydown"), [(199.8, 28.0), (199.0, 14.0)])
@pytest.mark.parametrize("near", [None, (14.0, DEGREE_RAD)])
def test_of_lines_that_score_alike_the_one_with_room_is_taken_first(low_pins, laydown, near):
    row, _ = hills(low_pins).best_cell(0, near)
    assert GRID.own_laydown[row] == pytest.approx(laydown, abs=1.0)


def test_room_is_as_wide_as_a_hill_is_above_a_twentieth_less():
    """Closed form: 10 pins lie sqrt(10) from the top of a parabola of 1 pin a square."""
    cell = GRID.cell_of(28.0, 3.0 * DEGREE_RAD)
    boards, angle_rad = hills(200.0).room(0, cell)
    width = 2 * np.sqrt(10.0)
    assert boards == pytest.approx(width, abs=2 * 0.5)
    most_rad = GRID.angle_rad[-1] - GRID.angle_rad[0]
    assert angle_rad == pytest.approx(min(width * DEGREE_RAD, most_rad), rel=0.25)


@pytest.mark.parametrize("near", [(12.0, 0.03), (20.0, 0.05), (31.0, 0.07)])
def test_among_lines_that_score_alike_the_nearest_to_the_one_before_is_taken(near):
    value = values().mean_value[0]
    row, column = values().best_cell(0, near)
    best_row, best_column = values().best_cell(0)
    assert value[row, column] >= value.max() - ALIKE_PINS

    def away(line: tuple[int, int]) -> float:
        boards = abs(GRID.own_laydown[line[0]] - near[0])
        return boards + 3.0 * abs(GRID.angle_rad[line[1]] - near[1]) / DEGREE_RAD

    assert away((row, column)) <= away((best_row, best_column))


def test_a_line_that_was_best_before_is_kept():
    grid = values().grid
    row, column = values().best_cell(1)
    near = (float(grid.own_laydown[row]), float(grid.angle_rad[column]))
    assert values().best_cell(1, near) == (row, column)
