"""Every equation cites a listed source, and every listed source is used."""

from __future__ import annotations

import ast
import re
import tomllib

import pytest

from source_tree import (
    DOCS,
    PACKAGE,
    Function,
    public_functions,
    python_files,
    shown,
    texts,
)

SOURCES = tomllib.loads((DOCS / "sources.toml").read_text("utf-8"))
KINDS = frozenset(
    {"paper", "book", "rulebook", "measurement", "common practice", "assumption", "model"}
)
KEY = r"(?<![\w\])])\[([a-z]+(?:-[a-z0-9]+)+|facts)[\],]"
CITATION = re.compile(rf"Source: (?:closed form|{KEY})")
EQUATION_PARTS = (ast.Mult, ast.Div, ast.Pow, ast.MatMult)
NUMBERS = re.compile(r"\bfloat|Float|Film|Vector|Quaternion")


def shows_an_equation(function: Function) -> bool:
    """Whether it returns numbers made of quantities multiplied, divided or raised to a power."""
    returns = ast.unparse(function.returns) if function.returns else ""
    return NUMBERS.search(returns) is not None and any(
        isinstance(node, ast.BinOp)
        and isinstance(node.op, EQUATION_PARTS)
        and not any(isinstance(side, ast.Constant | ast.List) for side in (node.left, node.right))
        for statement in function.body
        for node in ast.walk(statement)
    )


def equations():
    return [
        (shown(path), function)
        for package in ("physics", "kernel", "carry")
        for path in python_files(PACKAGE / package)
        for function in public_functions(path)
        if shows_an_equation(function)
    ]


def test_every_equation_cites_a_source():
    found = equations()
    assert len(found) > 15, "equations not found: the test looks in the wrong place"
    silent = [
        f"{path}::{function.name}"
        for path, function in found
        if not CITATION.search(ast.get_docstring(function) or "")
    ]
    assert silent == []


def test_every_cited_source_is_listed():
    cited = {
        (path, key)
        for path, text in texts("src")
        for line in text.splitlines()
        if "ource" in line or path.endswith("constants.py")
        for key in re.findall(KEY, line)
    }
    assert len(cited) > 10, "citations not found: the test looks in the wrong place"
    assert {(path, key) for path, key in cited if key not in SOURCES} == set()


@pytest.mark.parametrize("key", SOURCES)
def test_every_listed_source_is_used(key):
    used = [
        path
        for path, text in texts("src", "tests", "docs", "tools")
        if path != "docs/sources.toml" and key in text
    ]
    assert used


@pytest.mark.parametrize("key", SOURCES)
def test_every_source_can_be_found_again(key):
    entry = SOURCES[key]
    assert set(entry) >= {"title", "authors", "year", "where", "kind"}
    assert entry["kind"] in KINDS
    assert 1800 <= entry["year"] <= 2100
    assert all(entry[name].strip() for name in ("title", "authors", "where"))


def test_sources_are_in_alphabetical_order():
    assert list(SOURCES) == sorted(SOURCES)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("def f(a, b) -> float:\n    return a * b", True),
        ("def f(a, b) -> float:\n    return a + b", False),
        ("def f(a, b) -> Path:\n    return a / b", False),
    ],
)
def test_the_rule_knows_an_equation(text, expected):
    function = ast.parse(text).body[0]
    assert isinstance(function, ast.FunctionDef)
    assert shows_an_equation(function) is expected
