"""What a belief says in trade units and plain words: findings, ties, verdicts on shots."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from nextpair.application.names import lane_of
from nextpair.domain.belief import (
    LIKELY_PROBABILITY,
    TIED_CORRELATION,
    Estimate,
    Finding,
    ShotVerdict,
    Tie,
)
from nextpair.domain.event import Event
from nextpair.domain.shot_log import LoggedShot
from nextpair.domain.units import DEGREE_RAD, FOOT_M, MPH_MPS, RPM_RADPS
from nextpair.domain.unknowns import (
    CARRY_LOG,
    DRY_LOG,
    FILM_LOG,
    FLATTER_LOG,
    INSIDE_BOARDS,
    LONGER_M,
    OF_THE_BOWLER,
    REVS_LOG,
    ROTATION_RAD,
    SPEED_MPS,
    WEAR_LOG,
    unknown_of,
)
from nextpair.reading.update import Reading

FloatArray = NDArray[np.float64]

FOUR_IN_FIVE = 1.2816
"""Deviations to each side of the middle of a normal number that hold it four times in five."""
PERCENTILES = (10.0, 90.0)
MISSED_BOARDS = 1.0
"""At the pins: nearer to where a shot was expected than this, there is nothing to explain."""

NAMES = {
    DRY_LOG.name: "dry friction",
    FILM_LOG.name: "oil",
    WEAR_LOG.name: "wear",
    CARRY_LOG.name: "carrydown",
    FLATTER_LOG.name: "oil at the gutters",
    INSIDE_BOARDS.name: "unexplained turn",
}
"""What the trade calls an unknown, where its own name is another."""

Scale = Callable[[FloatArray], FloatArray]
"""From an unknown's own unit to the one that it is told in."""


@dataclass(frozen=True, slots=True)
class Told:
    """How an unknown is told: its name, unit and scale."""

    name: str
    unit: str
    scale: Scale


def findings_of(event: Event, reading: Reading) -> tuple[Finding, ...]:
    """Every unknown before the shots and after them."""
    return tuple(_finding(event, reading, place) for place in range(len(reading.names)))


def ties_of(event: Event, reading: Reading) -> tuple[Tie, ...]:
    """Pairs of unknowns that the shots leave tied, the tightest first."""
    told = [told_as(event, name).name for name in reading.names]
    own = {reading.names.index(unknown.name) for unknown in OF_THE_BOWLER}
    found = [
        Tie(told[one], told[other], r, _tie_words(told[one], told[other], r, own & {one, other}))
        for one, other in combinations(range(len(told)), 2)
        if abs(r := float(reading.correlation[one, other])) >= TIED_CORRELATION
    ]
    return tuple(sorted(found, key=lambda tie: -abs(tie.correlation)))


def verdicts_of(shots: Sequence[LoggedShot], reading: Reading) -> tuple[ShotVerdict, ...]:
    """What became of each shot that told anything, in the log's order."""
    return tuple(
        _verdict(shots[place], reading, place) for place in np.flatnonzero(reading.used).tolist()
    )


def _finding(event: Event, reading: Reading, place: int) -> Finding:
    name = reading.names[place]
    kind, unknown = told_as(event, name), unknown_of(name)
    mean, sd = float(reading.prior.mean[place]), float(reading.prior.sd[place])
    draws = reading.draws[:, place]
    more = float((draws > mean).mean())
    words = "about as planned"
    if max(more, 1.0 - more) >= LIKELY_PROBABILITY:
        words = unknown.more if more > 0.5 else unknown.less
    sides = kind.scale(mean + sd * np.array([-1.0, 1.0]))
    ends = kind.scale(mean + FOUR_IN_FIVE * sd * np.array([-1.0, 1.0]))
    told = kind.scale(draws)
    return Finding(
        name=kind.name,
        unit=kind.unit,
        words=words,
        planned=Estimate(
            float(kind.scale(np.array([mean]))[0]), float(np.ptp(sides)) / 2, *ends.tolist()
        ),
        found=Estimate(
            float(told.mean()), float(told.std()), *np.percentile(told, PERCENTILES).tolist()
        ),
        more_probability=more,
    )


def told_as(event: Event, name: str) -> Told:
    """How one unknown is told, by its name; what a lane has for itself, with its number."""
    lane, own = lane_of(name), unknown_of(name).name
    if lane is None and own in (absolute := dict(_absolute(event))):
        return absolute[own]
    stem, _, unit = own.rpartition("_")
    said = NAMES.get(own, stem.replace("_", " "))
    if unit != "log":
        return Told(said if lane is None else f"{said} of lane {lane}", unit, _as_it_is)
    if lane is None:
        return Told(said, "% of plan", _percent)
    return Told(f"{said} of lane {lane}", "% of its neighbours", _percent)


def _absolute(event: Event) -> Iterator[tuple[str, Told]]:
    """What is told with the plan's own number in it, and not as a difference from it."""
    release = event.bowler.release
    length_ft = event.left_pattern.length_m / FOOT_M
    yield LONGER_M.name, Told("length of the oil", "ft", lambda x: length_ft + x / FOOT_M)
    yield (
        SPEED_MPS.name,
        Told("speed of the day", "mph", lambda x: (release.speed_mps + x) / MPH_MPS),
    )
    yield (
        REVS_LOG.name,
        Told(
            "rev rate of the day", "rpm", lambda x: release.rev_rate_radps / RPM_RADPS * np.exp(x)
        ),
    )
    yield (
        ROTATION_RAD.name,
        Told(
            "axis rotation of the day",
            "degrees",
            lambda x: (release.axis_rotation_rad + x) / DEGREE_RAD,
        ),
    )


def _as_it_is(number: FloatArray) -> FloatArray:
    return number


def _percent(logarithm: FloatArray) -> FloatArray:
    return np.asarray(100.0 * np.exp(logarithm))


def _tie_words(one: str, other: str, correlation: float, of_the_bowler: Collection[int]) -> str:
    together = (
        "both are more or both less" if correlation > 0 else "where one is more, the other is less"
    )
    apart = "A ball of another surface from the same line, or the same ball slower,"
    if of_the_bowler:
        apart = "Speed and revs measured, from a film of the release for one,"
    return (
        f"{one.capitalize()} and {other}, {together}: these shots tell the two together better "
        f"than either (correlation {correlation:+.2f}). {apart} would tell them apart."
    )


def _verdict(shot: LoggedShot, reading: Reading, place: int) -> ShotVerdict:
    entry_boards = _or_none(reading.entry_off_boards[place])
    release = float(reading.release_probability[place])
    return ShotVerdict(
        id=str(shot.id),
        game=shot.game,
        frame=shot.frame,
        delivery=shot.delivery,
        lane=shot.lane,
        ball=shot.ball,
        breakpoint_miss_boards=_or_none(reading.breakpoint_off_boards[place]),
        entry_miss_boards=entry_boards,
        release_probability=release,
        words=_verdict_words(entry_boards, release, float(reading.bad_probability[place])),
    )


def _verdict_words(miss_boards: float | None, release: float, bad: float) -> str:
    """Whose miss it was, where there was one."""
    if miss_boards is None or abs(miss_boards) < MISSED_BOARDS:
        return ""
    if bad > 0.5:
        return "beyond all scatter: a bad shot, or one seen wrong; it counts for next to nothing"
    if release >= LIKELY_PROBABILITY:
        return "rather the release than the lane"
    if release <= 1.0 - LIKELY_PROBABILITY:
        return "rather the lane than the release"
    return "the lane or the release: it cannot be told"


def _or_none(number: float) -> float | None:
    return float(number) if np.isfinite(number) else None
