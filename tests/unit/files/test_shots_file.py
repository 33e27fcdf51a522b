"""shots.csv: what its cells mean, and what of it is refused."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from event_folder import DEMO
from nextpair.domain.errors import InputRefusedError
from nextpair.domain.event import Event
from nextpair.domain.shot_log import LoggedShot
from nextpair.files import load_event, load_shots
from nextpair.files.shots_file import COLUMNS, MAY_LACK

ONE = "6f1c1d0e-5b0a-4b57-9d5e-3a2f3c1b9a01"
OTHER = "6f1c1d0e-5b0a-4b57-9d5e-3a2f3c1b9a02"
CONTRACT = (
    "id,time,game,frame,delivery,lane,ball,laydown_board,target_board,speed_mph,"
    "breakpoint_board,entry_board,standing_before,standing_after,note"
)
FULL_RACK = frozenset(range(1, 11))


@cache
def event() -> Event:
    return load_event(DEMO / "event.toml")


def read(folder: Path, *rows: str, header: str = CONTRACT) -> tuple[LoggedShot, ...]:
    path = folder / "shots.csv"
    path.write_text("\n".join((header, *rows)) + "\n", "utf-8")
    return load_shots(path, event())


def problem_of(folder: Path, *rows: str) -> str:
    """The one problem of a file, without the file's name."""
    with pytest.raises(InputRefusedError) as refused:
        read(folder, *rows)
    (problem,) = refused.value.problems
    return f"{problem.place}: {problem.found}; {problem.allowed}"


def row(
    id: str = ONE, game: str = "1", delivery: str = "1", lane: str = "13",
    ball: str = "Slate Weir", before: str = "", after: str = "", note: str = "",
) -> str:  # fmt: skip
    return f"{id},,{game},1,{delivery},{lane},{ball},24.5,,,,,{before},{after},{note}"


def test_the_columns_are_those_of_the_contract():
    assert ",".join(column for column in COLUMNS if column not in MAY_LACK) == CONTRACT


def test_what_was_not_seen_stays_unknown(tmp_path):
    (shot,) = read(tmp_path, row())
    assert shot.laydown_board == 24.5
    unseen = ("target_board", "speed_mph", "breakpoint_board", "entry_board", "standing_before",
              "standing_after", "meant_laydown_board", "meant_target_board")  # fmt: skip
    assert [getattr(shot, name) for name in unseen] == [None] * len(unseen)


def test_what_was_meant_and_put_on_may_be_told(tmp_path):
    header = ",".join((CONTRACT, *MAY_LACK))
    first, second = read(
        tmp_path, f"{row()},25,17.5,1000", f"{row(OTHER)},,,polished", header=header
    )
    assert (first.meant_laydown_board, first.meant_target_board) == (25.0, 17.5)
    assert (first.surface_grit, second.surface_grit) == (1000, "polished")


def test_a_surface_that_nobody_puts_on_is_refused(tmp_path):
    with pytest.raises(InputRefusedError, match="line 2: surface_grit: found 200, allowed: 360"):
        read(tmp_path, f"{row()},200", header=f"{CONTRACT},surface_grit")


@pytest.mark.parametrize(
    ("delivery", "before", "after", "stood"),
    [
        ("1", "", "", (None, None)),
        ("1", "", "0", (FULL_RACK, frozenset())),
        ("1", "", "10", (FULL_RACK, {10})),
        ("1", "1-2-3-4-5-6-7-8-9-10", "", (FULL_RACK, frozenset())),
        ("1", "1-2-3-4-5-6-7-8-9-10", "?", (FULL_RACK, None)),
        ("2", "1-2-10", "", ({1, 2, 10}, frozenset())),
        ("2", "1-2-10", "10", ({1, 2, 10}, {10})),
        ("2", "", "10", (None, {10})),
        ("2", "?", "", (None, None)),
        ("2", "?", "0", (None, frozenset())),
    ],
)
def test_nothing_stands_and_nobody_looked_are_told_apart(tmp_path, delivery, before, after, stood):
    (shot,) = read(tmp_path, row(delivery=delivery, before=before, after=after))
    assert (shot.standing_before, shot.standing_after) == stood


def test_a_ball_is_named_as_the_locker_names_it(tmp_path):
    (shot,) = read(tmp_path, row(ball="slate weir"))
    assert shot.ball == "Slate Weir"


def test_the_same_shot_twice_is_one(tmp_path):
    assert len(read(tmp_path, row(), row(OTHER), row())) == 2


def test_practice_is_on_the_first_pair(tmp_path):
    (shot,) = read(tmp_path, row(game="0", lane="14"))
    assert (shot.game, shot.lane) == (0, 14)


def test_an_id_for_two_shots_is_refused(tmp_path):
    told = problem_of(tmp_path, row(), row(OTHER), row(lane="14"))
    assert told.startswith(f"line 4: id: {ONE} again, as in line 2, with other content")


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        (row(ball="Slate Wier"), 'line 2: ball: \'Slate Wier\'; did you mean "Slate Weir"?'),
        (row(lane="15"), "line 2: lane: 15; a lane of 13-14, the pair of game 1"),
        (row(game="0", lane="17"), "line 2: lane: 17; a lane of 13-14, the pair of practice"),
        (row(game="7"), "line 2: game: 7; 0 (practice) to 6, the games of the event"),
        (row(id="shot 1"), "line 2: id: 'shot 1'; a UUID"),
        (row(delivery="4"), "line 2: delivery: 4; 1 to 3 deliveries"),
        (row(after="1-2-12"), "line 2: standing_after: '1-2-12'; pins 1 to 10 joined by hyphens"),
        (row(before="10", after="7"), "line 2: standing_after: '7'; pins that stood before"),
        (row(before="0", after="0"), "line 2: standing_before: '0'; one pin or more"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(tmp_path, wrong, told):
    assert problem_of(tmp_path, wrong).startswith(told)


def test_a_ball_that_is_not_in_the_locker_is_told_once(tmp_path):
    sold = [row(id=f"{number:032x}", ball="Sold Long Ago") for number in range(1, 4)]
    with pytest.raises(InputRefusedError) as refused:
        read(tmp_path, *sold, row(ball="Given Away"))
    assert [problem.place for problem in refused.value.problems] == [
        "line 2: ball",
        "line 5: ball",
    ]


def test_semicolons_may_part_the_columns(tmp_path):
    header = CONTRACT.replace(",", ";")
    assert read(tmp_path, row().replace(",", ";"), header=header) == read(tmp_path, row())


def test_a_byte_order_mark_is_passed_over(tmp_path):
    assert len(read(tmp_path, row(), header="\ufeff" + CONTRACT)) == 1
