"""Patterns of the library by their names: alone, in an event, and when the name is not known."""

from __future__ import annotations

from pathlib import Path

import pytest

from event_folder import change, copy_of_demo, problems_of
from nextpair.domain.errors import InputRefusedError
from nextpair.files import load_event, load_library, load_pattern
from source_tree import PACKAGE

NAMES = [pattern.name for pattern in load_library()]


def refusal_of(name):
    with pytest.raises(InputRefusedError) as refused:
        load_pattern(name)
    (problem,) = refused.value.problems
    return problem


def test_every_file_of_the_library_is_found_under_the_name_inside_it():
    stems = {path.stem for path in (PACKAGE / "library").iterdir()}
    assert stems == {"-".join(name.lower().split()) for name in NAMES}
    assert len(NAMES) == len(set(NAMES))


def test_short_patterns_come_first():
    lengths_m = [pattern.length_m for pattern in load_library()]
    assert lengths_m == sorted(lengths_m)


@pytest.mark.parametrize("name", NAMES)
def test_a_pattern_is_loaded_by_its_name_however_it_is_typed(name):
    loaded = load_pattern(name)
    assert loaded.name == name
    assert loaded.description
    for typed in (name.upper(), "-".join(name.lower().split()), f"library: {name}"):
        assert load_pattern(typed) == loaded
    assert load_pattern(Path(name)) == loaded


def test_a_file_comes_before_the_library(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    text = (PACKAGE / "demo" / "pattern.toml").read_text("utf-8")
    Path(NAMES[0]).write_text(text, "utf-8")
    assert load_pattern(NAMES[0]).name == "Slow Estuary 41"
    assert load_pattern(f"library: {NAMES[0]}").name == NAMES[0]


@pytest.mark.parametrize(
    ("asked", "hint"),
    [
        ("mill rase 35", 'did you mean "Mill Race 35"? '),
        ("quay", 'did you mean "Winter Quay 43"? '),
        ("40", 'did you mean "Harbour Bar 40" or "Wet Slipway 40"? '),
        ("zzz", ""),
        ("library: ../demo/pattern", ""),
        ("library:", ""),
    ],
)
def test_an_unknown_name_gets_one_line_with_the_nearest_names(asked, hint):
    problem = refusal_of(asked)
    assert problem.allowed == f"{hint}a pattern that `nextpair patterns` lists"
    assert str(problem).startswith("library: name: found ")
    assert str(problem).count("\n") == 0


@pytest.mark.parametrize("asked", ["nothing.toml", "folder/Mill Race 35", "x" * 300, ".", ""])
def test_what_looks_like_a_file_is_one(asked):
    assert refusal_of(asked).place == "file"


def test_an_event_may_be_bowled_on_a_library_pattern(tmp_path):
    folder = copy_of_demo(tmp_path)
    change(folder, "event.toml", '"pattern.toml"', '"library: Lee Shore 39"')
    event = load_event(folder / "event.toml")
    assert event.left_pattern == event.right_pattern == load_pattern("Lee Shore 39")
    assert not any("lee-shore" in guessed for guessed in event.guessed)


def test_a_pair_may_carry_a_library_pattern_beside_one_of_its_own(tmp_path):
    folder = copy_of_demo(tmp_path)
    two = 'left_pattern = "library: long-fetch-45"\nright_pattern = "pattern.toml"'
    change(folder, "event.toml", 'pattern = "pattern.toml"', two)
    event = load_event(folder / "event.toml")
    assert [event.pattern_of(lane).name for lane in (13, 14)] == [
        "Long Fetch 45",
        "Slow Estuary 41",
    ]


def test_an_event_that_names_an_unknown_library_pattern_is_refused_at_its_key(tmp_path):
    folder = copy_of_demo(tmp_path)
    change(folder, "event.toml", '"pattern.toml"', '"library: Lea Shore"')
    (problem,) = problems_of(folder)
    assert problem.file == str(folder / "event.toml")
    assert (problem.place, problem.found) == ("pattern", "'Lea Shore'")
    assert problem.allowed.startswith('did you mean "Lee Shore 39"? ')
