"""A bowler's own chart of conditions: what was scored by lanes, length and volume, and with what.

Scores of one event hang together by its lanes, so an event counts once however many games it had,
and one event alone has no interval.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import sqrt

from nextpair.application.intervals import HALF_OF_80, mean_of
from nextpair.application.outings import Outings
from nextpair.application.what_worked import best_balls, best_lines
from nextpair.domain.condition_chart import (
    Band,
    ChartRow,
    ConditionChart,
    length_band,
    volume_band,
)
from nextpair.domain.house import LaneSurface
from nextpair.domain.outing import Outing
from nextpair.domain.statistics import MeanPins
from nextpair.domain.typical import HAND
from nextpair.scoring.frames import HIGHEST_SCORE
from nextpair.tournament.form import GAME_SD_PINS

MOST_TOLD = 3
"""Balls, and lines, of one condition."""
Condition = tuple[LaneSurface, Band, Band]


def chart_of(outings: Outings) -> ConditionChart:
    """The chart of the own ones among some outings."""
    met: dict[Condition, list[Outing]] = {}
    for outing in outings.own:
        met.setdefault(_condition(outing), []).append(outing)
    rows = sorted(
        (_row(condition, some) for condition, some in met.items()),
        key=lambda row: (-row.games, row.length.name, row.volume.name),
    )
    return ConditionChart(
        bowler=outings.bowler,
        hand=next((outing.hand for outing in outings.own), HAND),
        rows=tuple(rows),
        words=tuple(_words(rows)),
        not_bowled=outings.not_bowled,
        left_out=outings.left_out,
    )


def condition_name(row: ChartRow) -> str:
    """'synthetic, medium, heavy'."""
    return f"{row.surface.value}, {row.length.name}, {row.volume.name}"


def _condition(outing: Outing) -> Condition:
    return outing.surface, length_band(outing.length_ft), volume_band(outing.volume_ml)


def _row(condition: Condition, outings: Sequence[Outing]) -> ChartRow:
    surface, length, volume = condition
    means = [(one.mean_pins, one.games) for one in outings if one.mean_pins is not None]
    against = [(one.field_pins, one.games) for one in outings if one.field_pins is not None]
    return ChartRow(
        surface=surface,
        length=length,
        volume=volume,
        events=len(outings),
        games=sum(one.games for one in outings),
        score=_told(means, HIGHEST_SCORE, 0.0),
        field_pins=_told(against, HIGHEST_SCORE, -HIGHEST_SCORE),
        balls=best_balls(outings)[:MOST_TOLD],
        lines=best_lines(outings)[:MOST_TOLD],
        names=tuple(dict.fromkeys(one.event for one in outings)),
    )


def _told(means: Sequence[tuple[float, int]], most_pins: float, least_pins: float) -> MeanPins:
    """The mean over events, by theirs and how many games each had. The interval is no narrower
    than the luck of the games alone makes it, however near each other two events happen to lie.

    Source: [facts] section 9, the standard deviation of one game about a bowler's own level.
    """
    told = mean_of([mean for mean, _ in means], most_pins, least_pins)
    if told.mean_pins is None or len(means) < 2:
        return told
    luck = GAME_SD_PINS * sqrt(sum(1.0 / games for _, games in means)) / len(means)
    half = HALF_OF_80 * luck
    low, high = told.pins_interval_80 or (told.mean_pins, told.mean_pins)
    return replace(
        told,
        pins_interval_80=(
            max(min(low, told.mean_pins - half), least_pins),
            min(max(high, told.mean_pins + half), most_pins),
        ),
    )


def _words(rows: Sequence[ChartRow]) -> Iterator[str]:
    """What stands out against the field, and that nothing does where it is so."""
    if not rows:
        return
    claimed = False
    for row in rows:
        mean, interval = row.field_pins.mean_pins, row.field_pins.pins_interval_80
        if mean is None or interval is None or interval[0] <= 0.0 <= interval[1]:
            continue
        claimed = True
        side = "over" if mean > 0 else "under"
        yield (
            f"On {condition_name(row)} you are {abs(mean):.0f} pins a game {side} the field "
            f"({row.field_pins.count} events)."
        )
    if not claimed:
        yield "No condition stands out beyond doubt: too few events, or too much alike."
