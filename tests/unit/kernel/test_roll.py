"""What goes into a batch and what comes out: straight balls, whose geometry is a closed form."""

from __future__ import annotations

import math

import numpy as np
import pytest

from nextpair.domain.ball import CONTACT_M
from nextpair.domain.lane import (
    ARROWS_M,
    BOARD_M,
    BOARDS,
    CELL_M,
    CELLS,
    END_PLANE_M,
    HEAD_PIN_M,
    LANE_WIDTH_M,
    board_to_x_m,
)
from nextpair.domain.units import DEGREE_RAD, FOOT_M
from nextpair.kernel.layout import Shots, Trace
from nextpair.kernel.outcome import Status
from nextpair.kernel.roll import STOPPED_MPS, Paths, roll
from unit.kernel.straight_ball import DRY_LANE, lanes_under, straight_ball, straight_shots

LENGTH_M = 42 * FOOT_M
EDGE_M = LANE_WIDTH_M / 2
ROLLING_SHARE = 5 / 7
"""Speed that a uniform sphere keeps from pure sliding to pure rolling."""


def rolled(shots: Shots, films=DRY_LANE, pull_mps2=0.0, **options) -> Paths:
    return roll(lanes_under(films, LENGTH_M, pull_mps2), straight_ball(), shots, **options)


def first_contact(x_m: float, angle_rad: float) -> float:
    """Sideways place of the centre of a straight ball where it is CONTACT_M from the head pin,
    in boards; where it never is, its place level with that pin."""
    slope = math.tan(angle_rad)
    level_m = x_m + slope * HEAD_PIN_M
    # (level + slope y)^2 + y^2 = CONTACT_M^2, y counted from the head pin.
    a, b, c = 1 + slope**2, 2 * slope * level_m, level_m**2 - CONTACT_M**2
    root = b * b - 4 * a * c
    y = (-b - math.sqrt(root)) / (2 * a) if root > 0 else 0.0
    return (level_m + slope * y) / BOARD_M


@pytest.mark.parametrize("angle_deg", [-3.0, -1.0, 0.0, 0.7, 2.0])
@pytest.mark.parametrize("level_boards", [-8.5, -4.0, -0.5, 0.0, 2.5, 6.0])
def test_a_straight_ball_meets_the_head_pin_where_geometry_says(angle_deg, level_boards):
    angle_rad = angle_deg * DEGREE_RAD
    x_m = level_boards * BOARD_M - math.tan(angle_rad) * HEAD_PIN_M
    impact = rolled(straight_shots(x_m, angle_rad)).lane_impact
    assert impact.offset_boards[0] == pytest.approx(first_contact(x_m, angle_rad), abs=2e-3)
    assert impact.entry_angle_deg[0] == pytest.approx(-angle_deg, abs=1e-3)


def test_a_ball_that_misses_the_head_pin_is_read_level_with_it():
    reach_boards = CONTACT_M / BOARD_M
    angle_rad = 2.0 * DEGREE_RAD
    levels = np.array([-reach_boards - 1.0, reach_boards + 1.0])
    x_m = levels * BOARD_M - math.tan(angle_rad) * HEAD_PIN_M
    impact = rolled(straight_shots(x_m, angle_rad)).lane_impact
    np.testing.assert_allclose(impact.offset_boards, levels, atol=2e-3)


def test_arrows_exit_and_breakpoint_of_a_straight_ball():
    x_m, angle_rad = -0.2, 1.5 * DEGREE_RAD
    paths = rolled(straight_shots(x_m, angle_rad))
    slope = math.tan(angle_rad)
    assert paths.arrows_x_m[0] == pytest.approx(x_m + slope * ARROWS_M, abs=1e-4)
    assert paths.exit_x_m[0] == pytest.approx(x_m + slope * LENGTH_M, abs=1e-4)
    # It runs toward the bowler's side all the way, so it is closest to that gutter at the end.
    assert paths.break_m[0] == pytest.approx(HEAD_PIN_M, abs=1.1 * CELL_M)
    away = rolled(straight_shots(x_m, -angle_rad))
    assert away.break_m[0] == 0.0
    assert away.break_x_m[0] == pytest.approx(x_m)


@pytest.mark.parametrize("length_ft", [20.0, 59.4, 59.5, 60.0])
def test_an_exit_is_read_however_long_the_oil(length_ft):
    x_m, angle_rad, length_m = -0.2, 1.5 * DEGREE_RAD, length_ft * FOOT_M
    paths = roll(lanes_under(DRY_LANE, length_m), straight_ball(), straight_shots(x_m, angle_rad))
    reached_m = min(length_m, END_PLANE_M)
    assert paths.exit_x_m[0] == pytest.approx(x_m + math.tan(angle_rad) * reached_m, abs=1e-4)


@pytest.mark.parametrize(
    ("side", "status"), [(1, Status.GUTTER_OWN_SIDE), (-1, Status.GUTTER_FAR_SIDE)]
)
@pytest.mark.parametrize("angle_deg", [1.0, 2.5, 5.0])
def test_a_gutter_is_reached_where_the_line_crosses_the_edge(side, status, angle_deg):
    x_m, angle_rad = side * 0.25, side * angle_deg * DEGREE_RAD
    paths = rolled(straight_shots(x_m, angle_rad))
    assert Status(int(paths.status[0])) is status
    crossed_m = (EDGE_M - abs(x_m)) / math.tan(abs(angle_rad))
    assert 0.0 <= paths.gutter_m[0] - crossed_m <= CELL_M + 1e-3
    assert np.isnan(paths.impact.offset_boards[0])
    assert np.isfinite(paths.lane_impact.offset_boards[0])


def test_a_ball_on_the_edge_board_stays_on_the_lane():
    paths = rolled(straight_shots([board_to_x_m(0.6), board_to_x_m(39.4)]))
    assert list(paths.status) == [Status.PINS, Status.PINS]
    assert np.isnan(paths.gutter_m).all()


def test_a_ball_laid_down_beyond_the_edge_is_in_the_gutter_at_once():
    paths = rolled(straight_shots([board_to_x_m(0.4), board_to_x_m(39.6)]))
    assert list(paths.status) == [Status.GUTTER_OWN_SIDE, Status.GUTTER_FAR_SIDE]


def test_a_slow_ball_counts_as_stopped():
    fast, slow = 1.1 * STOPPED_MPS / ROLLING_SHARE, 0.9 * STOPPED_MPS / ROLLING_SHARE
    paths = rolled(straight_shots(0.0, speed_mps=[fast, slow]))
    assert list(paths.status) == [Status.PINS, Status.STOPPED]
    assert paths.v_y_mps == pytest.approx(ROLLING_SHARE * np.array([fast, slow]), rel=0.02)


@pytest.mark.parametrize("value", [math.nan, math.inf])
@pytest.mark.parametrize("field", [f for f in Shots.__slots__ if f not in ("body", "film")])
def test_what_is_not_a_number_is_bad_input_and_leaves_its_neighbours_alone(field, value):
    good = straight_shots(np.linspace(-0.3, 0.3, 9), 0.5 * DEGREE_RAD, rev_rate_radps=30.0)
    columns = {name: getattr(good, name).copy() for name in Shots.__slots__}
    columns[field][4] = value
    expected, paths = rolled(good), rolled(Shots(**columns))
    assert Status(int(paths.status[4])) is Status.BAD_INPUT
    assert np.isnan(paths.impact.offset_boards[4])
    others = np.arange(9) != 4
    np.testing.assert_array_equal(paths.status[others], expected.status[others])
    np.testing.assert_allclose(paths.x_m[others], expected.x_m[others], atol=1e-6)
    np.testing.assert_allclose(paths.v_x_mps[others], expected.v_x_mps[others], atol=1e-5)


@pytest.mark.parametrize("speed_mps", [0.0, -8.0, STOPPED_MPS])
def test_a_ball_that_does_not_leave_the_hand_is_bad_input(speed_mps):
    paths = rolled(straight_shots(0.0, speed_mps=[8.0, speed_mps]))
    assert list(paths.status) == [Status.PINS, Status.BAD_INPUT]


def test_a_ball_thrown_backwards_is_bad_input():
    assert list(rolled(straight_shots(0.0, math.pi)).status) == [Status.BAD_INPUT]


def test_finite_numbers_that_no_arithmetic_survives_are_bad_input_not_a_crash():
    rng = np.random.default_rng(4)
    count = 4000

    def wild(scale: float) -> np.ndarray:
        usual, size = rng.normal(0.0, scale, count), 10.0 ** rng.uniform(-6, 12, count)
        return np.where(rng.random(count) < 0.5, usual, rng.normal(0.0, 1.0, count) * size)

    wild_shots = straight_shots(
        wild(0.3),
        wild(0.1),
        speed_mps=np.abs(wild(8.0)),
        rev_rate_radps=wild(40.0),
        axis_rotation_rad=wild(1.0),
        axis_tilt_rad=wild(0.2),
        dry_factor=wild(1.0),
        film_factor=wild(1.0),
        loft_m=wild(0.1),
    )
    paths = rolled(wild_shots, np.ones((1, CELLS, BOARDS)))
    answered = paths.status != Status.BAD_INPUT
    assert 0.05 < answered.mean() < 0.95
    assert np.isfinite(paths.x_m[answered]).all()
    assert np.isfinite(paths.v_y_mps[answered]).all()


def test_no_shots_are_no_error():
    paths = rolled(straight_shots(np.empty(0)))
    assert len(paths.status) == 0
    assert len(paths.impact.offset_boards) == 0


def test_shots_on_mixed_films_are_as_if_each_film_were_rolled_alone():
    rng = np.random.default_rng(5)
    films = rng.uniform(0.0, 3.0, (4, CELLS, BOARDS))
    lengths_m = np.array([36.0, 39.0, 42.0, 45.0]) * FOOT_M
    shots = straight_shots(
        rng.uniform(-0.3, 0.3, 400),
        rng.normal(0.0, 1.0, 400) * DEGREE_RAD,
        rev_rate_radps=35.0,
        axis_rotation_rad=0.8,
        film=rng.integers(0, 4, 400),
    )
    mixed = roll(lanes_under(films, lengths_m), straight_ball(), shots)
    for film in range(4):
        here = shots.film == film
        assert here.sum() > 64
        fields = {name: getattr(shots, name)[here] for name in Shots.__slots__}
        fields["film"] = np.zeros(here.sum(), np.int64)
        alone = roll(
            lanes_under(films[film : film + 1], lengths_m[film]),
            straight_ball(),
            Shots(**fields),
        )
        np.testing.assert_allclose(mixed.x_m[here], alone.x_m, atol=1e-5)
        np.testing.assert_allclose(mixed.exit_x_m[here], alone.exit_x_m, atol=1e-5)
        np.testing.assert_array_equal(mixed.status[here], alone.status)


def test_oil_lies_under_the_board_that_it_is_written_on():
    film = np.zeros((1, CELLS, BOARDS))
    film[0, :, 9] = 10.0  # board 10 from the right edge
    boards = np.array([8.0, 9.0, 10.0, 11.0, 12.0, 30.0])
    speed = rolled(straight_shots([board_to_x_m(b) for b in boards]), film, record=True).trace
    assert speed is not None
    half_way = speed[Trace.V_Y, 40]
    assert boards[half_way.argmax()] == 10.0
    dry = half_way[[0, 1, 3, 4, 5]]
    np.testing.assert_allclose(dry, dry[0], rtol=1e-4)
    assert half_way[2] > dry[0] + 0.1


def test_a_mirrored_lane_gives_the_mirrored_path():
    rng = np.random.default_rng(8)
    film = rng.uniform(0.0, 3.0, (1, CELLS, BOARDS))
    x_m, angle_rad = rng.uniform(-0.3, 0.3, 20), rng.normal(0.0, 0.02, 20)
    here = rolled(straight_shots(x_m, angle_rad), film, 0.03)
    there = rolled(straight_shots(-x_m, -angle_rad), film[..., ::-1].copy(), -0.03)
    np.testing.assert_allclose(there.x_m, -here.x_m, atol=2e-6)
    np.testing.assert_allclose(there.v_x_mps, -here.v_x_mps, atol=2e-6)
    # Not trivial: the pull and the angles carry them across the lane.
    assert np.ptp(here.x_m - x_m) > 0.2


def test_a_lane_that_falls_to_the_own_side_pulls_the_ball_there():
    films = np.repeat(DRY_LANE, 3, axis=0)
    paths = rolled(straight_shots(0.0, film=[0, 1, 2]), films, np.array([-0.02, 0.0, 0.02]))
    assert paths.x_m[0] < -0.01
    assert abs(paths.x_m[1]) < 1e-6
    assert paths.x_m[2] == pytest.approx(-paths.x_m[0], rel=1e-4)
    assert paths.x_m[2] < 0.5 * 0.02 * paths.time_s[2] ** 2
