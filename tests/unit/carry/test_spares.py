"""Chance of a spare: geometry for one pin, best aim for more."""

from __future__ import annotations

import json
import math
from itertools import pairwise

import numpy as np
import pytest

from nextpair.carry import spares
from nextpair.carry.racks import model_hash
from nextpair.carry.spares import (
    EDGE_BOARDS,
    SPARE_DRIFT_BOARDS,
    best_spare_shot,
    single_pin_window_boards,
    spare_chance,
    spare_chances,
    spare_scatter_boards,
)
from nextpair.carry.table import load_table
from nextpair.domain.bowler import Scatter
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.units import DEGREE_RAD
from nextpair.scoring.leaves import mirrored_leave, parse_leave

CURVES = spares._shipped()
SOME_LEAVES = ("2-8", "3-10", "1-2-10", "2-4-5-8", "6-7-10", "3-6-10", "4-6-7-10")


def test_the_curves_were_made_by_this_model():
    assert json.loads(str(CURVES["settings"]))["model_hash"] == model_hash()


def test_every_leave_has_its_curves_and_none_is_made_from_the_gutter():
    assert CURVES["chances"].shape[0] == 1024
    assert np.all((CURVES["chances"] >= 0.0) & (CURVES["chances"] <= 1.0))
    in_gutter = np.abs(CURVES["offsets_boards"]) > EDGE_BOARDS + 0.25
    assert in_gutter.any()
    assert np.all(CURVES["chances"][:, :, in_gutter] == 0.0)


@pytest.mark.parametrize("pin", range(1, 11))
def test_a_lone_pins_simulated_curve_agrees_with_its_window(pin):
    lowest, highest = single_pin_window_boards(pin - 1)
    straight = CURVES["chances"][1 << (pin - 1), list(CURVES["angles_deg"]).index(0.0)]
    step = CURVES["offsets_boards"][1] - CURVES["offsets_boards"][0]
    # Grazes too soft to topple the pin cost a little of the window.
    assert straight.sum() * step == pytest.approx(highest - lowest, abs=0.3)


def test_a_single_pin_is_aimed_at_in_the_middle_of_its_window():
    assert best_spare_shot(parse_leave("5"), 2.0).offset_boards == pytest.approx(0.0)
    # 10 pin: from 18 in less R + r = 6.655 in, which is 10.66 boards, to the edge at 19.5.
    corner = best_spare_shot(parse_leave("10"), 2.0)
    assert corner.offset_boards == pytest.approx(0.5 * (10.66 + 19.5), abs=0.01)


@pytest.mark.parametrize("leave", SOME_LEAVES)
def test_a_leave_and_its_mirror_image_are_as_hard(leave):
    mask = parse_leave(leave)
    here, there = best_spare_shot(mask, 2.0), best_spare_shot(mirrored_leave(mask), 2.0)
    assert there.chance == pytest.approx(here.chance)


@pytest.mark.parametrize("leave", ["10", "5", *SOME_LEAVES])
def test_more_scatter_never_helps(leave):
    chances = [spare_chance(parse_leave(leave), sd) for sd in (0.5, 1.0, 2.0, 4.0, 8.0)]
    assert all(later <= earlier + 0.005 for earlier, later in pairwise(chances))
    assert 0.0 <= chances[-1] <= chances[0] <= 1.0


def test_many_leaves_at_once_are_as_one_by_one():
    leaves = load_table().leaves
    together = spare_chances(leaves, 2.2)
    assert together.shape == (len(leaves),)
    assert together[0] == 1.0
    one_by_one = [spare_chance(leave, 2.2) for leave in leaves[1:]]
    assert together[1:] == pytest.approx(one_by_one)


@pytest.mark.parametrize("angle_deg", [-2.0, 2.0])
def test_a_slanted_ball_starts_on_the_lane(angle_deg):
    angles_deg, chances = spares._chances_by_aim([parse_leave("1-2-4-10")], 1.0)
    aims = spares.AIMS_BOARDS[chances[0, list(angles_deg).index(angle_deg)] > 0.0]
    laydowns = aims + 60 * 12 / 1.0641 * math.tan(angle_deg * DEGREE_RAD)
    assert aims.size > 0
    assert np.abs(laydowns).max() <= EDGE_BOARDS


def test_scatter_adds_lay_down_launch_and_drift():
    steady = Scatter(0.0, 0.0, 0.1, 5.0)
    assert spare_scatter_boards(steady) == pytest.approx(SPARE_DRIFT_BOARDS)
    # One degree over 60 ft is 720 tan(1 deg) / (41.5/39) = 11.81 boards.
    wild = Scatter(3.0, 1.0 * DEGREE_RAD, 0.1, 5.0)
    assert spare_scatter_boards(wild) == pytest.approx(
        math.sqrt(3.0**2 + 11.81**2 + SPARE_DRIFT_BOARDS**2), rel=1e-3
    )


@pytest.mark.parametrize("leave", [0, 1024, -1])
def test_what_is_no_leave_is_refused(leave):
    with pytest.raises(InvalidValueError, match="leave"):
        spare_chance(leave, 2.0)


@pytest.mark.parametrize("sd_boards", [0.0, -1.0, float("nan")])
def test_a_scatter_of_nothing_is_refused(sd_boards):
    with pytest.raises(InvalidValueError, match="sd_boards"):
        spare_chance(1, sd_boards)
    with pytest.raises(InvalidValueError, match="sd_boards"):
        spare_chances([1], sd_boards)
