"""nextpair for programs: quick to import, and what the guide's example promises."""

from __future__ import annotations

import subprocess
import sys

import pytest

import nextpair
from event_folder import DEMO

EXAMPLE = f"""
import sys
import nextpair as npair
assert not {{"numpy", "numba", "scipy"}} & set(sys.modules), "importing must be quick"
event = npair.load_event({str(DEMO / "event.toml")!r})
releases = npair.Releases.by(event.bowler, [20.0, 24.0, 28.0, float("nan")], launch_angle_deg=2.4)
paths = npair.roll(event.lane(13), event.locker[0], releases)
assert paths.status[3] == 4 and (paths.status[:3] < 4).all(), "one status a shot"
impact = paths.impact
assert impact.offset_boards.shape == (4,)
assert (impact.offset_boards[:2] > impact.offset_boards[1:3]).all(), "further inside, further left"
odds = npair.carry(impact, seed=7)
assert odds.strike_probability.shape == (4,)
assert odds.leave_probability.shape == (4, len(odds.leaves))
assert abs(odds.leave_probability.sum(axis=1) - 1).max() < 1e-9
assert odds.leaves[odds.drawn[3]] == "1-2-3-4-5-6-7-8-9-10", "no pins reached: all stand"
again = npair.carry(impact, seed=7)
assert (again.drawn == odds.drawn).all()

import nextpair.carry.table
assert npair.carry(impact, seed=7).leaves == odds.leaves, "still a function beside its package"
mirrored = npair.carry(impact, seed=7, hand="left")
from nextpair.scoring.leaves import mirrored_leave, parse_leave
seen = [parse_leave(leave) for leave in mirrored.leaves]
assert seen == [mirrored_leave(parse_leave(leave)) for leave in odds.leaves]
assert (mirrored.leave_probability == odds.leave_probability).all()

import numpy as np
from dataclasses import replace
lefty = npair.Releases(
    hand="left", laydown_board=40 - np.array([20.0, 24.0]), launch_angle_deg=2.4, speed_mph=17.4,
    rev_rate_rpm=380, axis_rotation_deg=45, axis_tilt_deg=12)
righty = npair.Releases(
    hand="right", laydown_board=[20.0, 24.0], launch_angle_deg=2.4, speed_mph=17.4,
    rev_rate_rpm=380, axis_rotation_deg=45, axis_tilt_deg=12)
from nextpair.domain.pattern import Direction, Pass, Pattern
even = Pattern("Even", 12.0, passes=(Pass(Direction.FORWARD, 1, 39, 4, 50.0, 0.0, 12.0),))
lane = replace(event.lane(1), pattern=even)
both = [npair.roll(lane, event.locker[:2], r).x_m for r in (lefty, righty)]
assert (both[0] == both[1]).all(), "left and right are mirror images"

from nextpair.domain.house import LaneSurface
other = replace(lane, house=replace(lane.house, surface=LaneSurface.WOOD))
by_lane = [npair.roll(one, event.locker[0], righty).x_m for one in (lane, other)]
assert by_lane[0][1] != by_lane[1][1], "two kinds of lane"
together = npair.roll([lane, other], event.locker[0], righty).x_m
assert together[0] == by_lane[0][0] and together[1] == by_lane[1][1], "one lane a shot"

shots = npair.load_shots({str(DEMO / "shots.csv")!r}, event)
read = npair.read(event, shots, seed=7)
assert read.shots == 12 and len(read.draws.column("dry_log")) == len(read.draws)
assert npair.read(event, {str(DEMO / "shots.csv")!r}, seed=7) == read, "a file or its shots"

from nextpair.domain.errors import InvalidValueError
try:
    npair.roll(lane, event.locker[:3], righty)
except InvalidValueError as error:
    assert "same number" in str(error)
else:
    raise SystemExit("three balls for two shots were taken")
"""


def test_the_example_of_the_guide_runs():
    run = subprocess.run([sys.executable, "-c", EXAMPLE], capture_output=True, text=True)
    assert run.returncode == 0, run.stderr


def test_every_public_name_is_there():
    assert set(nextpair.__all__) >= {"load_event", "load_shots", "plan", "read", "roll", "carry"}
    with pytest.raises(AttributeError, match="no attribute 'lode_event'"):
        _ = nextpair.lode_event
