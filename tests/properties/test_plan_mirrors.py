"""A left-hander's sheet is the mirror image of the right-hander's, whatever the event.

Both hands, every pattern pass, the reach and every lane's tilt change sides. Errors are drawn in
the bowler's own frame, so nothing but the rounding of boards may differ.
"""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import Any

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from nextpair.application.sheets import plan
from nextpair.domain.bowler import Hand
from nextpair.domain.event import Event
from nextpair.domain.house import LaneTrait
from nextpair.domain.lane import mirrored_board
from nextpair.domain.pattern import Pattern
from nextpair.domain.units import INCH_M
from small_event import SEED, mirror_image, small_event, small_sheet

BOARD_NAMES = frozenset(
    {
        "laydown_board",
        "slide_board",
        "target_board",
        "breakpoint_board",
        "exit_board",
        "path_boards",
        "rule_of_31_exit_board",
    }
)
ACROSS_NAMES = frozenset({"film_units", "film_units_at"})
WORDS = frozenset({"hand", "why", "when", "second_opinion", "cautions", "bowler"})
"""Sentences name sides; tests of cards hold them against each other."""


def plain(value: Any, name: str = "") -> Any:
    """A sheet as nested dictionaries and lists without its words."""
    if is_dataclass(value):
        return {
            field.name: plain(getattr(value, field.name), field.name)
            for field in fields(value)
            if field.name not in WORDS
        }
    if isinstance(value, dict):
        return {key: plain(item, name) for key, item in value.items()}
    return [plain(item) for item in value] if isinstance(value, tuple) else value


def in_a_mirror(value: Any, name: str = "") -> Any:
    """The same with every board on the other side."""
    if isinstance(value, dict):
        return {
            key: in_a_mirror(item, name if name in ACROSS_NAMES else key)
            for key, item in value.items()
        }
    if name == "band_boards":
        return [[mirrored_board(high), mirrored_board(low)] for low, high in value]
    if name == "film_units":
        return [row[::-1] for row in value]
    if name == "film_units_at":
        return value[::-1]
    if name in BOARD_NAMES:
        return (
            [mirrored_board(b) for b in value]
            if isinstance(value, list)
            else (mirrored_board(value))
        )
    return [in_a_mirror(item) for item in value] if isinstance(value, list) else value


def assert_alike(ours: Any, theirs: Any, place: str = "sheet") -> None:
    """Equal, numbers to a millionth."""
    if isinstance(ours, dict):
        assert ours.keys() == theirs.keys(), place
        for key in ours:
            assert_alike(ours[key], theirs[key], f"{place}.{key}")
    elif isinstance(ours, list):
        assert len(ours) == len(theirs), place
        for number, (one, other) in enumerate(zip(ours, theirs, strict=True)):
            assert_alike(one, other, f"{place}[{number}]")
    elif isinstance(ours, float):
        assert theirs == pytest.approx(ours, abs=1e-6), place
    else:
        assert ours == theirs, place


def test_the_small_events_sheet_is_mirrored_board_by_board():
    left = plain(small_sheet(Hand.LEFT))
    assert_alike(in_a_mirror(plain(small_sheet(Hand.RIGHT))), left)
    assert left["games"][0]["line"]["exit_board"] > 20.0


def test_a_mirror_twice_is_the_event_itself():
    assert mirror_image(mirror_image(small_event())) == small_event()


@st.composite
def lopsided(draw: st.DrawFn, name: str) -> Pattern:
    """The bundled pattern with more oil on some boards of one side, brushed on or not."""
    pattern = small_event().left_pattern
    first = draw(st.integers(2, 34))
    more = replace(
        pattern.passes[0], from_board=first, to_board=draw(st.integers(first, first + 5)), loads=6
    )
    return replace(
        pattern,
        name=name,
        passes=(*pattern.passes, replace(more, taper_end_m=draw(st.floats(0.0, 3.0)))),
        buff_m=draw(st.sampled_from((0.0, 0.8))),
    )


@st.composite
def events(draw: st.DrawFn) -> Event:
    """One game of the small event on lanes and patterns, and with a release, of its own."""
    event = small_event()
    tilts = st.floats(-0.1, 0.1).map(lambda inches: inches * INCH_M)
    traits = tuple(LaneTrait(lane, draw(tilts), draw(st.floats(0.9, 1.1))) for lane in (13, 14))
    people = draw(st.lists(st.sampled_from(event.squad[1:]), max_size=5, unique=True))
    hands = [draw(st.sampled_from(Hand)) for _ in people]
    squad = [replace(p, pair=event.start_pair, hand=h) for p, h in zip(people, hands, strict=True)]
    release = event.bowler.release
    revs = draw(st.floats(0.6, 1.5)) * release.rev_rate_radps
    return replace(
        event,
        games=1,
        left_pattern=draw(lopsided("left lanes")),
        right_pattern=draw(lopsided("right lanes")),
        house=replace(event.house, traits=traits),
        squad=(event.squad[0], *squad),
        bowler=replace(event.bowler, release=replace(release, rev_rate_radps=revs)),
    )


@settings(max_examples=4, phases=(Phase.explicit, Phase.reuse, Phase.generate))
@given(events())
def test_any_events_sheet_is_mirrored(event):
    right, left = plan(event, SEED), plan(mirror_image(event), SEED)
    assert_alike(in_a_mirror(plain(right)), plain(left))
