"""Slopes of a shot against the model sheet's table and against differences of the slow oracle."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from nextpair.domain.ball import BALL_RADIUS_M, Ball
from nextpair.domain.house import House, LaneSurface
from nextpair.domain.lane import (
    BOARD_M,
    BOARDS,
    CELL_M,
    CELLS,
    END_PLANE_M,
    HEAD_PIN_M,
    PIN_RADIUS_M,
)
from nextpair.domain.units import DEGREE_RAD, FOOT_M, INCH_M, MPH_MPS, RPM_RADPS
from nextpair.kernel.derivatives import STEPS, Derivatives, derivatives, marks_of
from nextpair.kernel.layout import Bodies, Lanes, Shots, bodies_of
from nextpair.kernel.roll import roll
from nextpair.physics.constants import OIL_FRICTION
from reference.random_shots import balls, oracle_end
from reference.record import Record
from reference.releases import NO_TURN, B

RG_M = 2.50 * INCH_M
DRY_FRICTION = 0.20
ON_OIL = 0.04
EDGE_M = 12.192
SHARE_OF_DRY = (ON_OIL - OIL_FRICTION.value) / (DRY_FRICTION - OIL_FRICTION.value)
FILM_RATIO = (-math.log(SHARE_OF_DRY)) ** (2 / 3)
"""Film times its gain at which friction is 0.04, by the law mu_f + (mu_d - mu_f) exp(-r**1.5)."""


def one(value: float) -> NDArray[np.float64]:
    return np.array([value])


def release_b(x_m: float = 0.0) -> Shots:
    return Shots(
        x_m=one(x_m),
        launch_angle_rad=one(B.angle_deg * DEGREE_RAD),
        speed_mps=one(B.speed_mps),
        rev_rate_radps=one(B.rev_rate_rpm * RPM_RADPS),
        axis_rotation_rad=one(B.rotation_deg * DEGREE_RAD),
        axis_tilt_rad=one(B.tilt_deg * DEGREE_RAD),
        body=np.array([0]),
        film=np.array([0]),
        dry_factor=one(1.0),
        film_factor=one(1.0),
        loft_m=one(0.0),
    )


def two_zones() -> tuple[Lanes, Bodies]:
    """Friction 0.04 and 0.20 with the edge at 12.192 m, which the film's own grid spreads over
    0.15 m, and a uniform core."""
    film = np.zeros((1, CELLS, BOARDS))
    film[:, : round(EDGE_M / CELL_M)] = FILM_RATIO
    ball = Bodies.by_friction_alone(
        k2_m2=np.full((1, 3), RG_M**2),
        core=np.array([NO_TURN]),
        film_gain_per_um=one(1.0),
        dry_friction=one(DRY_FRICTION),
    )
    return Lanes(film, one(EDGE_M), one(OIL_FRICTION.value)), ball


def of(slopes: Derivatives, parameter: str) -> NDArray[np.float64]:
    """Slopes of the place at the head pin's row [boards] and of the entry angle [deg]."""
    row = slopes.parameters.index(parameter)
    return np.array([slopes.slopes.head_pin_boards[row, 0], slopes.slopes.entry_angle_deg[row, 0]])


def test_a_shot_moves_as_the_model_sheet_says(record: Record) -> None:
    slopes = derivatives(*two_zones(), release_b())
    launch = of(slopes, "launch_angle_rad") * DEGREE_RAD
    speed = of(slopes, "speed_mps") * MPH_MPS
    revs = of(slopes, "rev_rate_radps") * RPM_RADPS
    rotation = of(slopes, "axis_rotation_rad") * DEGREE_RAD
    tilt = of(slopes, "axis_tilt_rad") * DEGREE_RAD
    # c = (k / R)**2 rises by 0.01 where k rises by 0.01 R**2 / (2 k).
    inertia = of(slopes, "rg_m") * 0.01 * BALL_RADIUS_M**2 / (2 * RG_M)
    # Only the oil's friction feels the film's gain, and both feel the cover's dry friction.
    friction_per_gain = (DRY_FRICTION - OIL_FRICTION.value) * (
        -1.5 * math.sqrt(FILM_RATIO) * FILM_RATIO * SHARE_OF_DRY
    )
    oil = of(slopes, "film_gain_per_um") / friction_per_gain * 0.01
    dry = of(slopes, "dry_friction") * 0.01 - SHARE_OF_DRY * oil
    record.published(
        "model_sheet",
        "sensitivities",
        boards_per_degree_of_launch=launch[0],
        boards_per_board_of_laydown=of(slopes, "x_m")[0] * BOARD_M,
        boards_per_mph=speed[0],
        boards_per_rpm=revs[0],
        boards_per_degree_of_rotation=rotation[0],
        boards_per_degree_of_tilt=tilt[0],
        boards_per_hundredth_of_oil_friction=oil[0],
        boards_per_hundredth_of_dry_friction=dry[0],
        boards_per_hundredth_of_inertia_ratio=inertia[0],
        degrees_per_degree_of_launch=launch[1],
        degrees_per_mph=speed[1],
        degrees_per_rpm=revs[1],
        degrees_per_degree_of_rotation=rotation[1],
        degrees_per_hundredth_of_friction=[oil[1], dry[1]],
    )


def first_contact_boards(head_pin_boards: float, entry_angle_deg: float) -> float:
    """Where a straight line past the head pin first comes within both radii of its centre."""
    reach = (BALL_RADIUS_M + PIN_RADIUS_M) / BOARD_M
    slope = -math.tan(math.radians(entry_angle_deg))
    past = np.roots([1 + slope**2, 2 * slope * head_pin_boards, head_pin_boards**2 - reach**2])
    return head_pin_boards + slope * float(past.min())


def test_the_offset_moves_as_the_geometry_of_first_contact_says() -> None:
    """The sheet's place is where the path crosses the head pin's row; ball and pin meet before."""
    lane = two_zones()
    pocket = release_b(x_m=(12.41 + 2.5) * BOARD_M)
    marks, slopes = marks_of(roll(*lane, pocket)), derivatives(*lane, pocket)
    there = float(marks.head_pin_boards[0]), float(marks.entry_angle_deg[0])
    assert 1.5 < there[0] < 3.5
    assert marks.offset_boards[0] == pytest.approx(first_contact_boards(*there), abs=1e-3)
    for parameter in ("x_m", "launch_angle_rad", "speed_mps", "rev_rate_radps"):
        boards, degrees = of(slopes, parameter)
        size = 0.01 / abs(boards)
        expected = [
            first_contact_boards(there[0] + side * boards * size, there[1] + side * degrees * size)
            for side in (1, -1)
        ]
        row = slopes.parameters.index(parameter)
        achieved = float(slopes.slopes.offset_boards[row, 0])
        assert achieved == pytest.approx((expected[0] - expected[1]) / (2 * size), rel=0.005)


HOUSE = House("test", 24, LaneSurface.SYNTHETIC, 9)
SHOTS = 4
LENGTH_M = 42 * FOOT_M
LARGEST_SHARE = {"boards": 0.01, "degrees": 0.03}
LARGEST_SHARE_OF_LAYOUT = {"boards": 0.04, "degrees": 0.03}
"""Errors, of the largest slope. A layout moves the place by some thousandths of a board in a step,
where float32 is good to one ten-thousandth."""
LARGEST_SHARE_OF_LOFT = {"boards": 0.1, "degrees": 0.1}
"""An inch of loft, down to one way and up to the other, moves the place by some hundredths."""
LAYOUT = ("pin_to_pap_m", "drilling_angle_rad", "val_angle_rad")


def varied(
    parameter: str, change: float, lanes: Lanes, ball: Ball, bodies: Bodies, shots: Shots
) -> tuple[Lanes, Bodies, Shots]:
    """The same shots with one parameter changed, built from the ball itself where it is one of
    the ball's numbers."""
    if hasattr(shots, parameter):
        return lanes, bodies, replace(shots, **{parameter: getattr(shots, parameter) + change})
    if hasattr(bodies, parameter):
        value = getattr(bodies, parameter)
        return lanes, replace(bodies, **{parameter: value * (1 + change)}), shots
    if parameter == "oil_friction":
        return replace(lanes, oil_friction=lanes.oil_friction + change), bodies, shots
    if parameter == "cross_mps2":
        pull = np.zeros((len(lanes), 2, CELLS, BOARDS))
        pull[:, 0] = change
        return replace(lanes, pull_mps2=pull), bodies, shots
    if hasattr(ball, parameter):
        ball = replace(ball, **{parameter: getattr(ball, parameter) + change})
    else:
        layout = ball.layout
        layout = replace(layout, **{parameter: getattr(layout, parameter) + change})
        ball = replace(ball, layout=layout)
    return lanes, bodies_of([ball], HOUSE), shots


def crowned_film() -> NDArray[np.float64]:
    """Most oil inside, tapering off to 42 ft: without edges, at which a slope changes suddenly."""
    across = 0.6 + 2.2 * np.exp(-(((np.arange(BOARDS) - 19) / 11.0) ** 2))
    return np.outer(np.clip((84 - np.arange(CELLS)) / 30, 0, 1), across)


@pytest.fixture(scope="module")
def rolled() -> tuple[Lanes, Ball, Bodies, Shots, Derivatives]:
    rng = np.random.default_rng(11)
    films = crowned_film()[None]
    ball = balls()[0]
    n = SHOTS
    shots = Shots(
        x_m=rng.uniform(-0.3, 0.0, n),
        launch_angle_rad=rng.uniform(1.0, 3.0, n) * DEGREE_RAD,
        speed_mps=rng.normal(17.5, 1.0, n) * MPH_MPS,
        rev_rate_radps=rng.normal(380, 60, n) * RPM_RADPS,
        axis_rotation_rad=rng.normal(48, 10, n) * DEGREE_RAD,
        axis_tilt_rad=rng.normal(13, 4, n) * DEGREE_RAD,
        body=np.zeros(n, np.int64),
        film=np.zeros(n, np.int64),
        dry_factor=np.ones(n),
        film_factor=np.ones(n),
        loft_m=np.full(n, 0.1),
    )
    bodies = bodies_of([ball], HOUSE)
    lanes = Lanes(films, one(LENGTH_M), one(OIL_FRICTION.value))
    return lanes, ball, bodies, shots, derivatives(lanes, bodies, shots)


@pytest.mark.parametrize("parameter", STEPS)
def test_slopes_are_the_slow_oracles(
    record: Record,
    rolled: tuple[Lanes, Ball, Bodies, Shots, Derivatives],
    parameter: str,
) -> None:
    """The oracle's own step is half as long, so that the length of the step is tested with it."""
    lanes, ball, bodies, shots, known = rolled
    step = STEPS[parameter] / 2

    def ends(change: float) -> NDArray[np.float64]:
        moved = varied(parameter, change, lanes, ball, bodies, shots)
        moments = [oracle_end(*moved, shot) for shot in range(SHOTS)]
        sideways = np.array([end.velocity_mps[0] / end.velocity_mps[1] for end in moments])
        crossing = [end.x_m for end in moments] + sideways * (HEAD_PIN_M - END_PLANE_M)
        return np.array([crossing / BOARD_M, -np.degrees(np.arctan(sideways))])

    row = known.parameters.index(parameter)
    # Of a share of the value: what the oracle is changed by is a share there too.
    unit = getattr(bodies, parameter)[0] if hasattr(bodies, parameter) else 1.0
    expected = (ends(step) - ends(-step)) / (2 * step)
    achieved = unit * np.array(
        [known.slopes.head_pin_boards[row], known.slopes.entry_angle_deg[row]]
    )
    largest = LARGEST_SHARE_OF_LAYOUT if parameter in LAYOUT else LARGEST_SHARE
    largest = LARGEST_SHARE_OF_LOFT if parameter == "loft_m" else largest
    for quantity, want, got in zip(largest, expected, achieved, strict=True):
        record.agreement(
            "Slow oracle",
            f"slopes of {SHOTS} shots to {parameter}",
            f"largest error of {quantity}, of the largest slope",
            error=float(np.abs(got - want).max() / np.abs(want).max()),
            tolerance=largest[quantity],
            source="[hairer-1993] by SciPy, physics/reference.py",
        )
