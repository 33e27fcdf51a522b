"""What files may be called, and words that no file of the checkout holds.

Forbidden words are put together from parts here, so that this file holds none of them itself.
"""

from __future__ import annotations

import re

import pytest

from source_tree import PACKAGE, ROOT, functions, python_files, shown, texts

DRAWER_NAMES = frozenset(
    {"utils", "util", "helpers", "helper", "common", "manager", "misc", "stuff"}
)

REGISTRY_HOSTS = (
    ("pypi", ".org"),
    ("python", "hosted.org"),
    ("pypi", ".python.org"),
    ("registry.", "npmjs.org"),
    ("registry.", "yarnpkg.com"),
    ("conda.", "anaconda.org"),
    ("crates", ".io"),
    ("--index", "-url"),
    ("--extra-index", "-url"),
    ("--find", "-links"),
)

UNFINISHED = (
    ("TO", "DO"),
    ("FIX", "ME"),
    ("XX", "X"),
    ("place", "holder"),
    ("NotImplemented", "Error"),
)

STAFFING = (
    (r"\bsub", "agents?\\b"),
    (r"\bseed ", r"documents?\b"),
    (r"\blanguage ", r"models?\b"),
    (r"\bco-", r"authored-by\b"),
    (r"\bissue ", r"#?\d"),
    (r"\(#", r"\d+\)"),
)


def test_no_module_is_a_drawer_for_everything():
    named = {
        shown(path)
        for folder in ("src", "tests", "tools", "benchmarks")
        for path in python_files(ROOT / folder)
        if DRAWER_NAMES & {path.stem, *path.relative_to(ROOT).parts}
    }
    assert named == set()


def test_a_function_is_named_by_what_it_gives_or_does():
    assert [
        f"{shown(path)}::{function.name}"
        for path in python_files(PACKAGE)
        for function in functions(path)
        if function.name.lstrip("_").startswith(("compute_", "calculate_", "do_", "handle_"))
    ] == []


@pytest.mark.parametrize("parts", REGISTRY_HOSTS, ids="".join)
def test_no_file_names_a_package_registry(parts):
    host = "".join(parts)
    assert [name for name, text in texts() if host in text] == []


@pytest.mark.parametrize("parts", UNFINISHED, ids="".join)
def test_the_source_has_no_unfinished_places(parts):
    word = re.compile(rf"\b{''.join(parts)}s?\b", re.IGNORECASE)
    assert [
        shown(path) for path in python_files(PACKAGE) if word.search(path.read_text("utf-8"))
    ] == []


@pytest.mark.parametrize("parts", STAFFING, ids="".join)
def test_files_speak_of_the_game_and_the_program_only(parts):
    word = re.compile("".join(parts), re.IGNORECASE)
    assert [name for name, text in texts() if word.search(text)] == []
