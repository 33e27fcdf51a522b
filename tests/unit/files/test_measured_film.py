"""A film that was measured on a lane: film.csv beside pattern.toml."""

from __future__ import annotations

import pytest

from nextpair.domain.errors import InputRefusedError
from nextpair.domain.units import FOOT_M, OIL_UNIT_UM
from nextpair.files import load_pattern

HEADER = "distance_ft," + ",".join(str(board) for board in range(1, 40))


def reading(distance_ft, units=5.0):
    return f"{distance_ft}," + ",".join(str(units + board / 10) for board in range(1, 40))


@pytest.fixture
def write(tmp_path):
    def write(*rows, header=HEADER):
        toml = 'name = "Tape"\nlength_ft = 40\nviscosity_cp = 30\n[film]\ncsv = "film.csv"\n'
        (tmp_path / "pattern.toml").write_text(toml, "utf-8")
        (tmp_path / "film.csv").write_text("\n".join([header, *rows]), "utf-8")
        return tmp_path / "pattern.toml"

    return write


def places(path):
    with pytest.raises(InputRefusedError) as refused:
        load_pattern(path)
    return [problem.place for problem in refused.value.problems]


def test_units_become_micrometres_board_by_board(write):
    film = load_pattern(write(reading(2), reading(38, 1.0))).film
    assert film.distance_m == pytest.approx((2 * FOOT_M, 38 * FOOT_M))
    assert film.thickness_um[0][0] == pytest.approx(5.1 * OIL_UNIT_UM)
    assert film.thickness_um[0][38] == pytest.approx(8.9 * OIL_UNIT_UM)
    assert film.thickness_um[1][0] == pytest.approx(1.1 * OIL_UNIT_UM)


def test_columns_in_any_order_are_the_same_film(write):
    rows = [reading(2), reading(38, 1.0)]
    before = load_pattern(write(*rows))
    turned = [",".join(reversed(row.split(","))) for row in (HEADER, *rows)]
    assert load_pattern(write(*turned[1:], header=turned[0])) == before


def test_every_wrong_cell_is_told(write):
    rows = [reading(2), reading(8).replace("5.3", "-1"), reading(8), reading(61)]
    rows[0] = rows[0].replace("6.2", "oil").replace("6.4", "")
    assert places(write(*rows)) == [
        "line 2: board 12",
        "line 2: board 14",
        "line 3: board 3",
        "line 4: distance_ft",
        "line 5: distance_ft",
    ]


@pytest.mark.parametrize(
    ("wrong", "place", "found", "allowed"),
    [
        (reading(4).replace("5.3", "-1"), "line 3: board 3", "-1", "0 to 333"),
        (reading(4).replace("5.3", "wet"), "line 3: board 3", "'wet'", "a number with a decimal"),
        (reading(4).replace("5.3", '"5,3"'), "line 3: board 3", "'5,3'", "a decimal point, not"),
        (reading(4).replace(",5.3", ","), "line 3: board 3", "nothing", "units of oil on this"),
        (reading(4) + ",5", "line 3", "41 values", "40 values, one for each column"),
        (reading(61), "line 3: distance_ft", "61", "0 to 60 ft"),
        (reading(2), "line 3: distance_ft", "2", "more than the 2 ft of the row before"),
    ],
    ids=["negative", "a word", "a comma", "empty", "too long", "in the pins", "not further"],
)
def test_a_bad_line_is_told_with_file_place_found_and_allowed(
    write, tmp_path, wrong, place, found, allowed
):
    path = write(reading(2), wrong, reading(38))
    with pytest.raises(InputRefusedError) as refused:
        load_pattern(path)
    (problem,) = refused.value.problems
    assert problem.file == str(tmp_path / "film.csv")
    assert (problem.place, problem.found) == (place, found)
    assert allowed in problem.allowed


def test_a_film_that_is_not_the_same_on_both_sides_stays_so(write):
    film = load_pattern(write(reading(2), reading(38, 1.0))).film
    slopes = [[row[board] - row[38 - board] for board in range(19)] for row in film.thickness_um]
    for slope in slopes:
        expected = [-(38 - 2 * board) / 10 * OIL_UNIT_UM for board in range(19)]
        assert slope == pytest.approx(expected)


def test_a_brush_has_nothing_to_do_with_a_measured_film(write):
    path = write(reading(2), reading(38))
    path.write_text("buff_ft = 3\n" + path.read_text("utf-8"), "utf-8")
    assert places(path) == ["buff_ft"]


def test_thicker_than_any_film(write):
    assert places(write(reading(2), reading(4, 400.0)))[0] == "line 3: board 1"


def test_one_row_is_no_film(write):
    assert places(write(reading(2))) == ["file"]


def test_a_board_too_few(write):
    assert places(write(reading(2), reading(4), header=HEADER.replace(",39", ""))) == ["line 1"]


def test_a_film_that_is_not_there(write, tmp_path):
    path = write(reading(2), reading(4))
    (tmp_path / "film.csv").unlink()
    assert places(path) == ["film.csv"]
