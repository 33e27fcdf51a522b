"""Whatever happens to the files of an event: it is read, or it is refused in words."""

from __future__ import annotations

import math
import shutil
import tempfile
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from event_folder import DEMO
from nextpair.domain.errors import InputRefusedError
from nextpair.domain.event import Event
from nextpair.files import load_event, load_pattern

FILES = sorted(path.name for path in DEMO.iterdir() if path.is_file())
CSV_FILES = [name for name in FILES if name.endswith(".csv")]
TOML_FILES = [name for name in FILES if name.endswith(".toml")]
ORIGINALS = {name: (DEMO / name).read_bytes() for name in FILES}

ODD_WORDS = r"""
'' "" nan -inf 1e999 -1e999999999999999999 true -1 0 1 2 39 1_0 17,6 [] [[]] {} {a=1} [1,'a']
2026-02-30 00:00:00 '/' '.' "\u0000" "\u0007" "\u202e" ''' house.toml 'house.toml' 'event.toml'
polished right 13-14 999999-1000000 'library:' 'library:lee-shore-39' 'library:../demo/pattern'
"""
ODD_VALUES = st.one_of(
    st.sampled_from(["", "0x" + "f" * 400, *ODD_WORDS.split()]),
    st.integers().map(str),
    st.floats().map(str),
    st.text(max_size=8),
    st.text(max_size=8).map(lambda text: f'"{text}"'),
)


def load_damaged(name: str, content: bytes) -> Event | None:
    """The event with one file replaced; None when it is refused."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "event"
        shutil.copytree(DEMO, folder)
        (folder / name).write_bytes(content)
        try:
            return load_event(folder / "event.toml")
        except InputRefusedError as refused:
            problems = refused.problems
    assert problems
    for problem in problems:
        assert len(str(problem).splitlines()) == 1
        assert str(folder) in problem.file
        assert 0 < len(problem.found) < 300
        assert problem.place
        assert problem.allowed
    return None


def check(name: str, content: bytes) -> None:
    event = load_damaged(name, content)
    if event is not None:
        assert all(math.isfinite(entrant.likely_release.speed_mps) for entrant in event.squad)
        assert event.money.entry_fee.is_finite()
        assert event.start_pair in event.pairs


def lines_of(name: str) -> list[str]:
    return ORIGINALS[name].decode("utf-8").splitlines()


def joined(lines: list[str]) -> bytes:
    return ("\n".join(lines) + "\n").encode("utf-8", "surrogatepass")


def test_undamaged_it_is_read():
    for name in FILES:
        assert load_damaged(name, ORIGINALS[name]) is not None


@given(st.data())
def test_lines_left_out_or_doubled(data):
    name = data.draw(st.sampled_from(FILES))
    lines = lines_of(name)
    start = data.draw(st.integers(0, len(lines) - 1))
    end = data.draw(st.integers(start, min(start + 3, len(lines))))
    taken = data.draw(st.sampled_from([lines[:start] + lines[end:], lines[:end] + lines[start:]]))
    check(name, joined(taken))


@given(st.data())
def test_one_value_of_a_toml_file_is_another(data):
    name = data.draw(st.sampled_from(TOML_FILES))
    lines = lines_of(name)
    numbers = [number for number, line in enumerate(lines) if "=" in line]
    number = data.draw(st.sampled_from(numbers))
    key, _, _ = lines[number].partition("=")
    lines[number] = f"{key}= {data.draw(ODD_VALUES)}"
    check(name, joined(lines))


@given(st.data())
def test_one_cell_of_a_csv_file_is_another(data):
    name = data.draw(st.sampled_from(CSV_FILES))
    rows = [line.split(",") for line in lines_of(name)]
    row = data.draw(st.integers(0, len(rows) - 1))
    column = data.draw(st.integers(0, len(rows[row]) - 1))
    rows[row][column] = data.draw(ODD_VALUES)
    check(name, joined([",".join(row) for row in rows]))


@given(st.data())
def test_two_columns_of_a_csv_file_change_places(data):
    name = data.draw(st.sampled_from(CSV_FILES))
    header, *rows = [line.split(",") for line in lines_of(name)]
    one, other = (data.draw(st.integers(0, len(header) - 1)) for _ in range(2))
    for row in rows:
        row[one], row[other] = row[other], row[one]
    check(name, joined([",".join(row) for row in [header, *rows]]))


@given(st.data())
def test_bytes_in_the_middle_are_others(data):
    name = data.draw(st.sampled_from(FILES))
    content = ORIGINALS[name]
    start = data.draw(st.integers(0, len(content)))
    end = data.draw(st.integers(start, min(start + 20, len(content))))
    check(name, content[:start] + data.draw(st.binary(max_size=20)) + content[end:])


@given(st.sampled_from(FILES), st.binary(max_size=200))
def test_nothing_but_bytes(name, content):
    check(name, content)


@given(st.sampled_from(FILES), st.sampled_from(FILES))
def test_one_file_in_place_of_another(name, other):
    check(name, ORIGINALS[other])


@given(st.text(max_size=20))
def test_any_name_of_a_file(name):
    for load in (load_event, load_pattern):
        with pytest.raises(InputRefusedError):
            load(Path("/nowhere") / name)


@given(st.text(max_size=20), st.sampled_from(["", "library:", "library: "]))
def test_any_name_of_a_pattern(name, mark):
    with pytest.raises(InputRefusedError) as refused:
        load_pattern(mark + name)
    (problem,) = refused.value.problems
    assert problem.place in ("file", "name")
    assert problem.place == "file" or len(str(problem).splitlines()) == 1
