"""Names that would steer a terminal, on the screen."""

from __future__ import annotations

import json
import re
import unicodedata

from hypothesis import given, settings
from hypothesis import strategies as st

from nextpair.reports.ink import Ink
from nextpair.reports.refusal import on_screen

ESCAPES = ("\x1b]0;owned\x07", "\x1b[2J", "\x9b31m", "\x1b[8m", "\r", "\u202e", "\u2066", "\u200f")
"""Source: ECMA-48 for OSC, CSI (also as one C1 character), concealing; UAX 9 for the turns."""
NAMES = st.lists(st.sampled_from(ESCAPES) | st.characters(exclude_categories=["Cs"])).map("".join)
OWN = re.compile("\x1b\\[(?:0|1|2|1;36)m")


@given(NAMES)
@settings(max_examples=200, deadline=None)
def test_a_name_on_the_screen_gives_a_terminal_no_orders(name):
    shown = OWN.sub("", on_screen(Ink(80, colour=True).strong(name) + "\nBallé\n"))
    found = {
        unicodedata.category(letter) for letter in shown.replace("\n", "") if ord(letter) < 0x10000
    }
    assert not found & {"Cc", "Cf", "Zl", "Zp"}
    assert shown.endswith("\nBallé\n")


@given(NAMES)
@settings(max_examples=200, deadline=None)
def test_json_on_the_screen_says_the_same(name):
    page = json.dumps({"name": name}, ensure_ascii=False)
    assert json.loads(on_screen(page)) == {"name": name}
