"""A bowler's own chart of conditions: what was scored by lanes, length and volume, and with what.

Scores of one event hang together by its lanes, so an event counts once however many games it had,
and one event alone has no interval.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from nextpair.application.intervals import mean_of
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
from nextpair.domain.typical import HAND
from nextpair.scoring.frames import HIGHEST_SCORE

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
    """'medium, heavy, synthetic'."""
    return f"{row.length.name}, {row.volume.name}, {row.surface.value}"


def _condition(outing: Outing) -> Condition:
    return outing.surface, length_band(outing.length_ft), volume_band(outing.volume_ml)


def _row(condition: Condition, outings: Sequence[Outing]) -> ChartRow:
    surface, length, volume = condition
    means = [one.mean_pins for one in outings if one.mean_pins is not None]
    against = [one.field_pins for one in outings if one.field_pins is not None]
    return ChartRow(
        surface=surface,
        length=length,
        volume=volume,
        events=len(outings),
        games=sum(one.games for one in outings),
        score=mean_of(means, HIGHEST_SCORE),
        field_pins=mean_of(against, HIGHEST_SCORE, -HIGHEST_SCORE),
        balls=best_balls(outings)[:MOST_TOLD],
        lines=best_lines(outings)[:MOST_TOLD],
        names=tuple(dict.fromkeys(one.event for one in outings)),
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
