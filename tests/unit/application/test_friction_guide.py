"""What the guide says each input of friction does is what a shot does."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest

from event_folder import DEMO
from nextpair.application.one_path import roll_one
from nextpair.domain.ball import Ball, Cover, Surface, Tool
from nextpair.domain.event import Event
from nextpair.domain.house import LaneSurface
from nextpair.domain.pattern import Pattern
from nextpair.files import load_event
from small_event import mirror_image
from source_tree import DOCS

BALL = "Slate Weir"
SPUN = Surface(2000)
EVENT = load_event(DEMO / "event.toml")
TOLERANCE_BOARDS = 0.3
"""The model may move by less without a new page."""

Change = Callable[[Event], Event]


def ball(**changes: object) -> Change:
    def changed(kept: Ball) -> Ball:
        return replace(kept, **changes) if kept.name == BALL else kept

    return lambda event: replace(event, locker=tuple(map(changed, event.locker)))


def house(**changes: object) -> Change:
    return lambda event: replace(event, house=replace(event.house, **changes))


def warmer(degrees_c: float) -> Change:
    return lambda event: house(temperature_c=event.house.temperature_c + degrees_c)(event)


def oil(viscosity_cp: float) -> Change:
    def changed(pattern: Pattern) -> Pattern:
        return replace(pattern, viscosity_pas=viscosity_cp * 1e-3)

    return lambda event: replace(
        event,
        left_pattern=changed(event.left_pattern),
        right_pattern=changed(event.right_pattern),
    )


CHANGES: dict[str, Change] = {
    "500 on a spinner": ball(surface=Surface(500)),
    "1000 on a spinner": ball(surface=Surface(1000)),
    "500 pad by hand, on the 2000": ball(surface=Surface(500, by=Tool.HAND, under=SPUN)),
    "1000 pad by hand, on the 2000": ball(surface=Surface(1000, by=Tool.HAND, under=SPUN)),
    "4000 on a spinner": ball(surface=Surface(4000)),
    "polished": ball(surface=Surface(None)),
    "three games on the 2000": ball(surface=Surface(2000, 3)),
    "twelve games on the 2000": ball(surface=Surface(2000, 12)),
    "pearl cover": ball(cover=Cover.PEARL),
    "urethane cover": ball(cover=Cover.URETHANE),
    "wood lane": house(surface=LaneSurface.WOOD),
    "new synthetic lane": house(surface_age_years=0.0),
    "5 degrees warmer": warmer(5.0),
    "5 degrees cooler": warmer(-5.0),
    "oil of 20 cP": oil(20.0),
    "oil of 60 cP": oil(60.0),
}


@cache
def offset_boards(change: Change, mirrored: bool = False) -> float:
    """Where the shot arrives, positive to the bowler's pocket side: less hook."""
    event = change(ball(surface=SPUN)(mirror_image(EVENT) if mirrored else EVENT))
    shot = roll_one(event, BALL, 16.0 if mirrored else 24.0, 3.0)
    assert shot.entry is not None
    return shot.entry.offset_board


def unchanged(event: Event) -> Event:
    return event


def more_hook_boards(name: str, mirrored: bool = False) -> float:
    return offset_boards(unchanged, mirrored) - offset_boards(CHANGES[name], mirrored)


def told() -> dict[str, float]:
    """Rows of the guide's table: the change, and how many boards more it hooks."""
    page = (DOCS / "guide" / "friction.md").read_text("utf-8")
    rows = re.findall(r"^\| ([^|]+) \| ([+-]) ([\d.]+) \|$", page, re.MULTILINE)
    return {name: float(size) * (1 if sign == "+" else -1) for name, sign, size in rows}


def test_the_guide_tells_every_change():
    assert list(told()) == list(CHANGES)


@pytest.mark.parametrize("name", CHANGES)
def test_a_change_is_worth_what_the_guide_says(name):
    assert more_hook_boards(name) == pytest.approx(told()[name], abs=TOLERANCE_BOARDS)


@pytest.mark.parametrize("name", ["5 degrees warmer", "oil of 60 cP", "1000 on a spinner"])
def test_a_left_hander_gets_the_same_change(name):
    assert more_hook_boards(name, mirrored=True) == pytest.approx(more_hook_boards(name), abs=1e-2)


def test_cool_or_heavy_oil_hooks_a_ball_more_and_warm_or_light_oil_less():
    assert more_hook_boards("5 degrees warmer") < -0.3
    assert more_hook_boards("5 degrees cooler") > 0.3
    assert more_hook_boards("oil of 20 cP") < -0.3
    assert more_hook_boards("oil of 60 cP") > 0.3


def test_a_pad_by_hand_does_part_of_what_a_spinner_does():
    for grit in (500, 1000):
        by_hand = more_hook_boards(f"{grit} pad by hand, on the 2000")
        spun = more_hook_boards(f"{grit} on a spinner")
        assert 0.0 < by_hand < 0.5 * spun
