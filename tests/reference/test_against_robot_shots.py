"""One lane fitted to a robot's published shots, from the numbers on file; see tools/robot.py."""

from __future__ import annotations

import tomllib
from functools import cache

import pytest

from reference.robot_fit import Problem, Solution
from reference.robot_lane import (
    AUTHORITY,
    FAMILY,
    FITTED,
    HELD,
    NAMES,
    RobotShots,
    entries,
    published_shots,
    rolled,
)
from source_tree import DOCS

NUMBERS = DOCS / "validation" / "robot.toml"
EVEN = {"edge_board": -100.0}
"""Holds the edge of the crown off the lane: the film inside is everywhere."""


def on_file() -> Solution:
    problem = Problem(published_shots())
    return Solution(problem, problem.shares(tomllib.loads(NUMBERS.read_text("utf-8"))))


@cache
def fitted() -> Solution:
    filed = on_file()
    return filed.problem.solved(filed.shares)


def test_one_lane_explains_the_shots(record):
    boards, degrees = fitted().rms
    record.published(AUTHORITY, "one_lane", rms_boards=boards, rms_deg=degrees)


def test_the_numbers_on_file_are_at_the_minimum():
    assert on_file().settled, "the model has moved: run `make robot`"


def test_few_numbers_are_fitted_and_all_lie_within_their_ranges():
    assert len(FITTED) <= 8
    values = fitted().values
    assert all(number.low <= values[number.name] <= number.high for number in FAMILY)


def test_every_fitted_path_stays_on_the_lane():
    assert (rolled(fitted().row, published_shots()).status == 0).all()


def test_a_lane_with_the_same_film_on_every_board_cannot_explain_them():
    free = tuple(name for name in FITTED if name not in ("edge_board", "outside_um"))
    even = Problem(published_shots(), (*free, "inside_um", "dry_factor"), EVEN).best(3)
    assert even.rms[0] > 3.0


def test_shots_of_a_known_lane_give_its_numbers_back():
    shots = published_shots()
    truth = HELD.copy()
    truth[NAMES.index("viscosity_cp")] = 20.0
    board, angle_deg = entries(truth[None], shots)[0].T
    settings = (shots.laydown_board, shots.trajectory_deg, shots.speed_mph)
    found = Problem(RobotShots(*settings, board, angle_deg)).best(4)
    assert found.squares < 0.01
    assert list(found.values.values()) == pytest.approx(truth, rel=0.03)
