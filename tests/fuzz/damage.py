"""Strategies: what can become of a file, a document or a text on its way to the program."""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator, Sequence
from typing import Any

from hypothesis import strategies as st

HUGE = ("9" * 400, "9" * 5000, "x" * 3000, "-" * 2000, "1e999999999", "0x" + "f" * 400)
ODD_WORDS = (
    "", " ", "''", '""', "nan", "-inf", "1e999", "-1", "0", "1", "2", "39", "40", "300", "301",
    "1_0", "17,6", "1.234,5", "1,500", "[]", "[[]]", "{}", "{a=1}", "2026-02-30", "00:00:00", "/",
    ".", "..", "../..", '"\\u0000"', '"\\u0007"', '"\\u202e"', "'''", "house.toml",
    "'event.toml'", "polished", "right", "13-14", "999999-1000000", "14-13", "'library:'",
    "'library:lee-shore-39'", "true", "X", "7/", "9-", "/", "-", "F", "XXX", "1-2-10", "0-0",
    "11", "?", "\x00", "\x07", "\x1b[31m", "\u202e", "\u2028", "\x85", "\ufeff", "\xe9",
    "e\u0301", "\U0001f600", "=1+1", "@x", "\u0663", "\xbd", "\ufdfd", "\ud800",
)  # fmt: skip
TEXTS = st.one_of(
    st.sampled_from(ODD_WORDS),
    st.sampled_from(HUGE),
    st.integers().map(str),
    st.floats().map(str),
    st.text(max_size=8),
    st.text(max_size=8).map(lambda text: f'"{text}"'),
)
VALUES = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.floats(),
    st.sampled_from(ODD_WORDS),
    st.sampled_from(HUGE),
    st.text(max_size=8),
    st.lists(st.integers(), max_size=3),
    st.dictionaries(st.text(max_size=4), st.integers(), max_size=2),
    st.sampled_from(
        [
            [[]],
            {},
            [None],
            10**400,
            -(10**30),
            2**53 + 1,
            1e308,
            -0.0,
            [[[[[]]]]],
            {"a": {"b": []}},
        ]
    ),
)
ENCODINGS = ("utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252", "utf-32", "cp037")
LINE_ENDS = ("\n", "\r\n", "\r", "\n\n", "\r\r\n", "\u2028", "\x0b")
SEPARATORS = (";", "\t", "|", " ", ", ", '","')
PIECES = ("'", '"', ",", ";", "\t", "=", "[", "]", "[[", "#", "\\", "\n", "\0")


@st.composite
def damaged_bytes(draw: st.DrawFn, originals: Sequence[str]) -> bytes:
    """One of some files with its text damaged up to three times, in any encoding; or bytes."""
    if draw(st.integers(0, 19)) == 0:
        return draw(st.binary(max_size=300))
    content = _encoded(draw, draw(damaged_texts(originals)))
    if draw(st.integers(0, 3)) == 0:
        start = draw(st.integers(0, len(content)))
        end = draw(st.integers(start, min(start + 20, len(content))))
        return content[:start] + draw(st.binary(max_size=20)) + content[end:]
    return content


def _encoded(draw: st.DrawFn, text: str) -> bytes:
    encoding = "utf-8"
    if draw(st.integers(0, 5)) == 0:
        encoding = draw(st.sampled_from(ENCODINGS))
    wild = "surrogatepass" if encoding.startswith("utf") else "replace"
    return text.encode(encoding, wild)


@st.composite
def damaged_texts(draw: st.DrawFn, originals: Sequence[str]) -> str:
    """One of some texts, damaged up to three times."""
    text = draw(st.sampled_from(originals))
    for _ in range(draw(st.integers(0, 3))):
        text = draw(st.sampled_from(_WAYS))(draw, text)
    return text


def _lines(draw: st.DrawFn, text: str) -> str:
    """Lines left out, doubled or moved."""
    lines = text.splitlines()
    if not lines:
        return text
    start = draw(st.integers(0, len(lines) - 1))
    end = draw(st.integers(start, min(start + 3, len(lines))))
    goes = (
        lines[:start] + lines[end:],
        lines[:end] + lines[start:],
        lines[start:] + lines[:start],
    )
    return "\n".join(draw(st.sampled_from(goes))) + "\n"


def _value(draw: st.DrawFn, text: str) -> str:
    """What stands behind a key, or in a cell, is something else."""
    lines = text.splitlines()
    if not lines:
        return text
    number = draw(st.integers(0, len(lines) - 1))
    key, sign, _ = lines[number].partition("=")
    if sign:
        lines[number] = f"{key}= {draw(TEXTS)}"
    else:
        cells = lines[number].split(",")
        cells[draw(st.integers(0, len(cells) - 1))] = draw(TEXTS)
        lines[number] = ",".join(cells)
    return "\n".join(lines) + "\n"


def _columns(draw: st.DrawFn, text: str) -> str:
    """Two columns of a table change places, in its rows or its header."""
    rows = [line.split(",") for line in text.splitlines()]
    if not rows:
        return text
    width = len(rows[0])
    one, other = draw(st.integers(0, width - 1)), draw(st.integers(0, width - 1))
    for row in rows[draw(st.integers(0, 1)) :]:
        if max(one, other) < len(row):
            row[one], row[other] = row[other], row[one]
    return "\n".join(",".join(row) for row in rows) + "\n"


def _piece(draw: st.DrawFn, text: str) -> str:
    """A sign more, or some letters less."""
    start = draw(st.integers(0, len(text)))
    end = draw(st.integers(start, min(start + 5, len(text))))
    return text[:start] + draw(st.sampled_from(PIECES) | TEXTS) + text[end:]


def _ends(draw: st.DrawFn, text: str) -> str:
    """Other line ends."""
    return text.replace("\n", draw(st.sampled_from(LINE_ENDS)))


def _separators(draw: st.DrawFn, text: str) -> str:
    """Other separators, and decimal commas."""
    parted = text.replace(",", draw(st.sampled_from(SEPARATORS)))
    return parted.replace(".", ",") if draw(st.booleans()) else parted


def _cut(draw: st.DrawFn, text: str) -> str:
    """The end is missing."""
    return text[: draw(st.integers(0, len(text)))]


_WAYS = (_lines, _value, _value, _value, _columns, _piece, _ends, _separators, _cut)


@st.composite
def damaged_documents(draw: st.DrawFn, originals: Sequence[Any]) -> Any:
    """One of some JSON documents with up to three of its values others, gone or more."""
    document = copy.deepcopy(draw(st.sampled_from(originals)))
    for _ in range(draw(st.integers(0, 3))):
        inside = list(places(document))
        if not inside:
            break
        container, key = inside[draw(st.integers(0, len(inside) - 1))]
        way = draw(st.integers(0, 9))
        if way == 0 and isinstance(container, dict):
            del container[key]
        elif way == 1 and isinstance(container, dict):
            container[draw(st.sampled_from(ODD_WORDS) | st.text(max_size=6))] = _drawn(draw)
        elif way == 2 and isinstance(container, list):
            container.extend(copy.deepcopy(container[:3]))
        else:
            container[key] = _drawn(draw)
    return document


def _drawn(draw: st.DrawFn) -> Any:
    """A value of its own: what is put into a document may be damaged there."""
    return copy.deepcopy(draw(VALUES))


def places(value: Any) -> Iterator[tuple[Any, Any]]:
    """Every container in a document with each of its keys."""
    if isinstance(value, dict | list):
        for key, item in list(value.items() if isinstance(value, dict) else enumerate(value)):
            yield value, key
            yield from places(item)


def plain(value: Any) -> Any:
    """A document of lists and dictionaries alone, as JSON has them."""
    return json.loads(json.dumps(value))
