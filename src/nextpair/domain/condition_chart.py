"""Where a bowler scored: by the kind of lanes, and the length and the volume of the pattern.

Documents for people and programs outside, as docs/guide/json.md lists them.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass

from nextpair.domain.bowler import Hand
from nextpair.domain.house import LaneSurface
from nextpair.domain.outing import BallThrown, LinePlayed
from nextpair.domain.statistics import MeanPins


@dataclass(frozen=True, slots=True)
class Band:
    """What is called by one name: from `low` on and below `high`; open where one is None."""

    name: str
    low: float | None
    high: float | None


def bands(names: tuple[str, ...], edges: tuple[float, ...]) -> tuple[Band, ...]:
    """Bands in order, each from one edge to the next."""
    return tuple(
        Band(name, low, high)
        for name, low, high in zip(names, (None, *edges), (*edges, None), strict=True)
    )


LENGTH_EDGES_FT = (36.5, 41.5)
LENGTH_BANDS = bands(("short", "medium", "long"), LENGTH_EDGES_FT)
"""Short up to 36 ft, long from 42 ft on. [facts] section 4, length classes: from memory."""
VOLUME_EDGES_ML = (22.0, 25.0)
VOLUME_BANDS = bands(("light", "middling", "heavy"), VOLUME_EDGES_ML)
"""Thirds, rounded, of the 19 to 27.6 mL of championship patterns: [facts] section 4."""


def length_band(length_ft: float) -> Band:
    """What a pattern is called by its length."""
    return LENGTH_BANDS[bisect_right(LENGTH_EDGES_FT, length_ft)]


def volume_band(volume_ml: float) -> Band:
    """What a pattern is called by its volume."""
    return VOLUME_BANDS[bisect_right(VOLUME_EDGES_ML, volume_ml)]


@dataclass(frozen=True, slots=True)
class ChartRow:
    """One condition as it was met.

    score : over the means of its events, so that one of many games counts once. field_pins : the
    same of how much more a game than the field. Both without an interval for a single event: its
    games shared their lanes. balls, lines : best first, of those thrown often enough to be told.
    """

    surface: LaneSurface
    length: Band
    volume: Band
    events: int
    games: int
    score: MeanPins
    field_pins: MeanPins
    balls: tuple[BallThrown, ...]
    lines: tuple[LinePlayed, ...]
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ConditionChart:
    """A bowler's conditions, those met in most games first; and what stays out of them.

    hand : whose boards lines are counted by on screens.
    left_out : names of events that are not in order. not_bowled : of those without a score.
    """

    bowler: str | None
    hand: Hand
    rows: tuple[ChartRow, ...]
    words: tuple[str, ...]
    not_bowled: tuple[str, ...]
    left_out: tuple[str, ...]
