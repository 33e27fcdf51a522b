"""The shape of a lane's surface: a file that a [[lane]] of house.toml names."""

from __future__ import annotations

import pytest

from event_folder import change, copy_of_demo, problems_of
from nextpair.domain.units import FOOT_M, INCH_M
from nextpair.files import load_event

HEADER = "distance_ft," + ",".join(str(board) for board in range(1, 40))
LANE = "tilt_in = -0.022"


def row(distance_ft: float, *heights_in: float) -> str:
    return ",".join(map(str, (distance_ft, *heights_in)))


@pytest.fixture
def folder(tmp_path):
    folder = copy_of_demo(tmp_path)
    change(folder, "house.toml", LANE, f'{LANE}\nheights = "survey.csv"')
    return folder


def test_inches_become_metres_board_by_board(folder):
    crown = [0.0005 * board for board in range(1, 40)]
    rows = [HEADER, row(0, *[0.0] * 39), row(30, *crown)]
    (folder / "survey.csv").write_text("\n".join(rows), "utf-8")
    traits = load_event(folder / "event.toml").house.traits
    surveyed = [trait.heights for trait in traits if trait.heights is not None]
    assert len(surveyed) == 1
    assert surveyed[0].distance_m == pytest.approx((0.0, 30 * FOOT_M))
    assert surveyed[0].height_m[1][38] == pytest.approx(39 * 0.0005 * INCH_M)


def test_a_file_that_is_not_there_is_told_where_it_is_named(folder):
    (problem,) = problems_of(folder)
    assert "survey.csv" in str(problem)
    assert "heights" in str(problem)


def test_a_step_no_lane_has_is_refused_with_its_line_and_board(folder):
    rows = [HEADER, row(0, *[0.0] * 39), row(30, *[0.0] * 38, 0.7)]
    (folder / "survey.csv").write_text("\n".join(rows), "utf-8")
    (problem,) = problems_of(folder)
    assert problem.file.endswith("survey.csv")
    assert problem.place == "line 3: board 39"
