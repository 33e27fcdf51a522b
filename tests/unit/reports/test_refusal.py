"""A refusal is one line, whatever was found."""

from __future__ import annotations

import pytest

from nextpair.reports.refusal import one_line


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("laydown: found 41, allowed: 1 to 39", "laydown: found 41, allowed: 1 to 39"),
        ("Zoë × −3 “quoted”", "Zoë × −3 “quoted”"),
        ("a\nb\r\x1b[31mc", "a\\nb\\r\\x1b[31mc"),
        ("one\u2028two\u202ethree\ud800", "one\\u2028two\\u202ethree\\ud800"),
        ("x" * 30 + "y" * 30, "xxxx…yyyy"),
    ],
)
def test_whatever_is_found_is_told_on_one_short_line(text, line):
    assert one_line(text, 9 if "x" * 30 in text else 100) == line
