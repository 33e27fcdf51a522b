"""Slopes of a shot: closed forms for a straight ball, and balls that differ in one number."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from nextpair.domain.ball import Ball, Cover, Layout, Surface
from nextpair.domain.house import House, LaneSurface
from nextpair.domain.lane import ARROWS_M, BOARD_M, CELLS, HEAD_PIN_M
from nextpair.domain.units import DEGREE_RAD, FOOT_M, INCH_M, MPH_MPS, POUND_KG, RPM_RADPS
from nextpair.kernel.derivatives import (
    STEPS,
    Derivatives,
    changed,
    derivatives,
    marks_of,
    one_batch,
)
from nextpair.kernel.layout import Shots, bodies_of
from nextpair.kernel.roll import roll
from unit.kernel.straight_ball import DRY_LANE, lanes_under, straight_ball, straight_shots

LENGTH_M = 40 * FOOT_M
HOUSE = House("test", 24, LaneSurface.SYNTHETIC, 9)
STRONG = Ball(
    name="strong",
    mass_kg=15 * POUND_KG,
    rg_m=2.50 * INCH_M,
    differential_m=0.045 * INCH_M,
    intermediate_m=0.015 * INCH_M,
    cover=Cover.SOLID,
    surface=Surface(2000),
    layout=Layout(4.0 * INCH_M, 60 * DEGREE_RAD, 40 * DEGREE_RAD),
)
OILED = np.zeros_like(DRY_LANE)
OILED[:, : round(CELLS * 2 / 3)] = 2.0


def usual_shots(n: int = 3, **others) -> Shots:
    usual = {
        "launch_angle_rad": 2 * DEGREE_RAD,
        "speed_mps": 17.5 * MPH_MPS,
        "rev_rate_radps": 360 * RPM_RADPS,
        "axis_rotation_rad": 50 * DEGREE_RAD,
        "axis_tilt_rad": 13 * DEGREE_RAD,
    }
    return straight_shots(np.linspace(-0.2, 0.1, n), **(usual | others))


def slope(slopes: Derivatives, mark: str, parameter: str) -> np.ndarray:
    return getattr(slopes.slopes, mark)[slopes.parameters.index(parameter)]


def test_a_straight_ball_goes_where_it_is_sent():
    angle_rad = 1.5 * DEGREE_RAD
    sent = derivatives(
        lanes_under(DRY_LANE, LENGTH_M), straight_ball(), straight_shots([0.0, 0.1], angle_rad)
    )
    per_rad = 1 / math.cos(angle_rad) ** 2
    for mark, distance_m in (
        ("arrows_boards", ARROWS_M),
        ("exit_boards", LENGTH_M),
        ("head_pin_boards", HEAD_PIN_M),
    ):
        np.testing.assert_allclose(slope(sent, mark, "x_m"), 1 / BOARD_M, rtol=2e-4)
        np.testing.assert_allclose(
            slope(sent, mark, "launch_angle_rad"), distance_m * per_rad / BOARD_M, rtol=2e-3
        )
    np.testing.assert_allclose(
        slope(sent, "entry_angle_deg", "launch_angle_rad"), -1 / DEGREE_RAD, rtol=1e-3
    )
    assert np.abs(slope(sent, "head_pin_boards", "dry_friction")).max() < 0.01


def test_every_parameter_has_its_slopes_for_every_shot():
    shots = usual_shots(5)
    known = derivatives(lanes_under(OILED, LENGTH_M), bodies_of([STRONG], HOUSE), shots)
    assert known.parameters == tuple(STEPS)
    for mark in ("offset_boards", "entry_angle_deg", "exit_boards", "break_boards"):
        slopes = getattr(known.slopes, mark)
        assert slopes.shape == (len(STEPS), 5)
        assert np.isfinite(slopes).all()
    assert np.abs(known.slopes.offset_boards).min(axis=1).min() > 0.0


@pytest.mark.parametrize(
    ("parameter", "change", "ball"),
    [
        ("rg_m", 0.01 * INCH_M, lambda d: replace(STRONG, rg_m=STRONG.rg_m + d)),
        (
            "differential_m",
            0.003 * INCH_M,
            lambda d: replace(STRONG, differential_m=STRONG.differential_m + d),
        ),
        (
            "intermediate_m",
            0.003 * INCH_M,
            lambda d: replace(STRONG, intermediate_m=STRONG.intermediate_m + d),
        ),
        ("pin_to_pap_m", 0.15 * INCH_M, lambda d: laid_out(pin_to_pap_m=d)),
        ("drilling_angle_rad", 4 * DEGREE_RAD, lambda d: laid_out(drilling_angle_rad=d)),
        ("val_angle_rad", 3 * DEGREE_RAD, lambda d: laid_out(val_angle_rad=d)),
    ],
)
def test_slopes_to_a_core_are_those_of_balls_that_differ_in_it(parameter, change, ball):
    bodies = bodies_of([STRONG, ball(change), ball(-change)], HOUSE)
    shots = usual_shots()
    more, less = (
        marks_of(roll(lanes_under(OILED, LENGTH_M), bodies, replace(shots, body=np.full(3, body))))
        for body in (1, 2)
    )
    known = derivatives(lanes_under(OILED, LENGTH_M), bodies, shots)
    for mark, noise in (("head_pin_boards", 4e-4), ("entry_angle_deg", 4e-4)):
        moved = 2 * change * slope(known, mark, parameter)
        between = getattr(more, mark) - getattr(less, mark)
        np.testing.assert_allclose(moved, between, rtol=0.03, atol=noise)
    assert np.abs(more.entry_angle_deg - less.entry_angle_deg).max() > 4e-3


def laid_out(**changes: float) -> Ball:
    layout = STRONG.layout
    moved = {name: getattr(layout, name) + change for name, change in changes.items()}
    return replace(STRONG, layout=replace(layout, **moved))


def test_a_pin_on_the_spin_axis_still_has_a_slope():
    on_axis = replace(STRONG, layout=replace(STRONG.layout, pin_to_pap_m=0.0))
    known = derivatives(lanes_under(OILED, LENGTH_M), bodies_of([on_axis], HOUSE), usual_shots())
    assert np.isfinite(slope(known, "offset_boards", "pin_to_pap_m")).all()


def test_changes_add_up():
    bodies = bodies_of([STRONG], HOUSE)
    known = derivatives(lanes_under(OILED, LENGTH_M), bodies, usual_shots())
    both = known.moved({"speed_mps": -0.2, "x_m": 0.05})
    apart = known.moved({"speed_mps": -0.2}), known.moved({"x_m": 0.05})
    np.testing.assert_allclose(both.offset_boards, apart[0].offset_boards + apart[1].offset_boards)
    shots = usual_shots()
    changed = replace(shots, speed_mps=shots.speed_mps - 0.02, x_m=shots.x_m + 0.01)
    before, after = (
        marks_of(roll(lanes_under(OILED, LENGTH_M), bodies, both_shots))
        for both_shots in (shots, changed)
    )
    np.testing.assert_allclose(
        known.moved({"speed_mps": -0.02, "x_m": 0.01}).head_pin_boards,
        after.head_pin_boards - before.head_pin_boards,
        atol=5e-3,
    )


def test_a_wide_step_gives_the_mean_slope_over_it():
    shots, bodies = usual_shots(), bodies_of([STRONG], HOUSE)
    wide = derivatives(lanes_under(OILED, LENGTH_M), bodies, shots, {"speed_mps": 0.5 * MPH_MPS})
    assert wide.parameters == ("speed_mps",)
    fast, slow = (
        marks_of(
            roll(
                lanes_under(OILED, LENGTH_M),
                bodies,
                replace(shots, speed_mps=shots.speed_mps + change),
            )
        )
        for change in (0.5 * MPH_MPS, -0.5 * MPH_MPS)
    )
    np.testing.assert_allclose(
        wide.moved({"speed_mps": MPH_MPS}).offset_boards,
        fast.offset_boards - slow.offset_boards,
        rtol=1e-4,
    )


def test_a_shot_that_cannot_be_rolled_has_no_slopes():
    shots = usual_shots(2, speed_mps=[8.0, np.nan])
    known = derivatives(lanes_under(OILED, LENGTH_M), bodies_of([STRONG], HOUSE), shots)
    assert np.isfinite(known.slopes.offset_boards[:, 0]).all()
    assert np.isnan(known.slopes.offset_boards[:, 1]).all()


def test_slopes_go_on_beyond_the_gutter():
    """A reading of shots must not lose its way where a guess of the lane has one in the gutter."""
    bodies, lanes = bodies_of([STRONG], HOUSE), lanes_under(OILED, LENGTH_M)
    shots = usual_shots(launch_angle_rad=6 * DEGREE_RAD)
    assert np.isfinite(roll(lanes, bodies, shots).gutter_m).all()
    known = derivatives(lanes, bodies, shots)
    assert np.isfinite(known.slopes.head_pin_boards).all()
    assert (slope(known, "head_pin_boards", "x_m") * BOARD_M > 0.5).all()


def test_a_ball_that_is_laid_down_has_the_slope_to_loft_of_one_lofted_a_little():
    bodies, lanes = bodies_of([STRONG], HOUSE), lanes_under(OILED, LENGTH_M)
    laid, lofted = (usual_shots(loft_m=loft_m) for loft_m in (0.0, STEPS["loft_m"]))
    np.testing.assert_array_equal(
        *(
            slope(derivatives(lanes, bodies, shots), "head_pin_boards", "loft_m")
            for shots in (laid, lofted)
        )
    )


def test_one_batch_keeps_a_lane_once_and_rolls_every_variant_as_alone():
    bodies, shots = bodies_of([STRONG], HOUSE), usual_shots()
    lanes = lanes_under(OILED, LENGTH_M)
    variants = [
        (lanes, bodies, shots),
        changed(lanes, bodies, shots, "speed_mps", 0.3),
        changed(lanes, bodies, shots, "oil_friction", 0.01),
        changed(lanes, bodies, shots, "rg_m", 0.02 * INCH_M),
        changed(lanes, bodies, shots, "cross_mps2", 0.02),
    ]
    together = one_batch(variants)
    assert len(together[0]) == 3 * len(lanes)
    alone = np.concatenate([roll(*variant).x_m for variant in variants])
    np.testing.assert_allclose(roll(*together).x_m, alone, atol=1e-3 * BOARD_M)
    assert np.abs(np.diff(alone.reshape(5, -1), axis=0)).min() > 1e-3
