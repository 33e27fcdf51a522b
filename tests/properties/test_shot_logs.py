"""A log that is written reads the same again; what is no log is refused in words."""

from __future__ import annotations

import json
import tempfile
from functools import cache, partial
from pathlib import Path
from unicodedata import normalize

from hypothesis import given
from hypothesis import strategies as st

from event_folder import DEMO
from nextpair.application.shot_jottings import payload_of, shot_of
from nextpair.domain.errors import InputRefusedError
from nextpair.domain.event import Event
from nextpair.domain.shot_log import LoggedShot
from nextpair.files import load_event, load_shots, shots_text
from nextpair.files.shots_file import COLUMNS
from nextpair.files.spreadsheet import plain_spaces

CELLS = st.one_of(
    st.sampled_from(
        [
            "",
            "?",
            "0",
            "1-2-10",
            "1-1",
            "11",
            "13",
            "14",
            "Slate Weir",
            "slate weir",
            "nan",
            "17,6",
        ]
    ),
    st.integers(-3, 40).map(str),
    st.text(max_size=6),
    st.uuids().map(str),
)
# In the composed form and with plain spaces, as every text of a file is kept; composing makes some
# texts longer.
WORDS = (
    st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Zl", "Zp")), max_size=30)
    .map(plain_spaces)
    .map(str.strip)
    .map(partial(normalize, "NFC"))
)


@cache
def event() -> Event:
    return load_event(DEMO / "event.toml")


def read(content: bytes) -> tuple[LoggedShot, ...] | None:
    """The shots of a file with this content; None when it is refused, in words."""
    with tempfile.TemporaryDirectory() as place:
        path = Path(place) / "shots.csv"
        path.write_bytes(content)
        try:
            return load_shots(path, event())
        except InputRefusedError as refused:
            problems = refused.problems
    assert problems
    for problem in problems:
        assert len(str(problem).splitlines()) == 1
        assert all((problem.file, problem.place, problem.found, problem.allowed))
    return None


@st.composite
def shots(draw: st.DrawFn) -> LoggedShot:
    """Any shot that may be logged at the event."""
    game = draw(st.integers(0, event().games))
    pair = event().pair_in_game(event().start_pair, max(game, 1))
    pins = st.frozensets(st.integers(1, 10), min_size=1)
    before = draw(st.none() | pins)
    after = st.frozensets(st.sampled_from(sorted(before or range(1, 11))))
    board = st.none() | st.floats(0, 40)
    return LoggedShot(
        id=draw(st.uuids()),
        time=draw(st.just("") | st.datetimes().map(lambda moment: moment.isoformat())),
        game=game,
        frame=draw(st.integers(1, 10)),
        delivery=draw(st.integers(1, 3)),
        lane=draw(st.sampled_from(pair.lanes)),
        ball=draw(st.sampled_from([ball.name for ball in event().locker])),
        laydown_board=draw(board),
        target_board=draw(board),
        speed_mph=draw(st.none() | st.floats(5, 30)),
        breakpoint_board=draw(board),
        entry_board=draw(st.none() | st.floats(-9, 49)),
        standing_before=before,
        standing_after=draw(st.none() | after),
        note=draw(WORDS),
        meant_laydown_board=draw(board),
        meant_target_board=draw(board),
        surface_grit=draw(st.none() | st.just("polished") | st.integers(360, 5000)),
    )


LOGS = st.lists(shots(), min_size=1, max_size=4, unique_by=lambda shot: shot.id)


@given(shots())
def test_a_shot_is_the_same_from_what_is_written_down_of_it(shot):
    payload = json.loads(json.dumps(payload_of(shot)), parse_int=float)
    assert shot_of(shot.id, shot.time, payload) == shot


@given(LOGS)
def test_what_is_written_is_read_again(log):
    assert read(shots_text(log).encode()) == tuple(log)


@given(LOGS)
def test_a_log_sent_twice_is_one_log(log):
    text = shots_text(log)
    again = text + text.split("\n", 1)[1]
    assert read(again.encode()) == tuple(log)


@given(LOGS, st.data())
def test_one_cell_is_another(log, data):
    rows = [line.split(",") for line in shots_text(log[:1]).splitlines()]
    row = data.draw(st.integers(0, len(rows) - 1))
    rows[row][data.draw(st.integers(0, len(rows[row]) - 1))] = data.draw(CELLS)
    read("\n".join(",".join(cells) for cells in rows).encode("utf-8", "surrogatepass"))


@given(st.lists(st.lists(CELLS, max_size=len(COLUMNS)), max_size=3))
def test_any_rows_below_the_header(rows):
    lines = [",".join(COLUMNS), *(",".join(cells) for cells in rows)]
    read("\n".join(lines).encode("utf-8", "surrogatepass"))


@given(st.binary(max_size=200) | st.text(max_size=200).map(str.encode))
def test_nothing_but_bytes(content):
    assert read(content) is None
