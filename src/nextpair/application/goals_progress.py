"""How far goals are, and the chance to reach them with the events that are kept.

Source: [gelman-2013]: a mean to come by Student's t, a count to come by a beta-binomial.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date
from math import isclose

import numpy as np

from nextpair.application.intervals import HALF_COUNT
from nextpair.application.season_events import EventFacts, Tally
from nextpair.application.season_trends import NO_LIMITS, SHARE_LIMITS, estimate_of
from nextpair.domain.goal import ALLOWED, Goal, Measure
from nextpair.domain.record import Record
from nextpair.domain.season import GoalProgress, Point

PERCENT = 100.0
ROUNDING = 1e-9
FEWEST_EVENTS = 3
"""From which a chance to reach a mean is told."""
TALLIES: dict[Measure, Callable[[EventFacts], Tally]] = {
    Measure.STRIKES: lambda event: event.strikes,
    Measure.SPARES: lambda event: event.spares,
    Measure.SINGLE_PINS: lambda event: event.single_pins,
    Measure.FRAMES_FILLED: lambda event: event.frames_filled,
}


def goals_of(records: Iterable[Record]) -> tuple[Goal, ...]:
    """Goals that are kept: the first to end first."""
    goals = (
        Goal(
            name=record.name,
            measure=Measure(record.document["measure"]),
            target=float(record.document["target"]),
            first_day=date.fromisoformat(str(record.document["first_day"])),
            last_day=date.fromisoformat(str(record.document["last_day"])),
        )
        for record in records
    )
    return tuple(sorted(goals, key=lambda goal: (goal.last_day, goal.name)))


def progress_of(goal: Goal, events: Sequence[EventFacts], today: date) -> GoalProgress:
    """How far a goal is by the events of its days, and what those to come can still do."""
    within = [one for one in events if goal.first_day <= one.date <= goal.last_day]
    done = [one for one in within if one.is_bowled]
    coming = [one for one in within if not one.is_bowled and one.date >= today]
    if goal.measure in (Measure.CASHES, Measure.EVENTS):
        return _counted(goal, done, coming, today)
    points = [point for one in done if (point := _point(goal.measure, one)) is not None]
    return _measured(goal, points, coming, done, today)


def _counted(
    goal: Goal, done: Sequence[EventFacts], coming: Sequence[EventFacts], today: date
) -> GoalProgress:
    is_over = today > goal.last_day
    if goal.measure is Measure.EVENTS:
        made, known = len(done), done
        can = made + len(coming)
        chance = 1.0 if made >= goal.target else None
        rest = f"{len(coming)} more kept: {can} in all"
    else:
        known = [one for one in done if one.cashed is not None]
        made = sum(bool(one.cashed) for one in known)
        more = max(int(np.ceil(goal.target)) - made, 0)
        chance = cash_chance(made, len(known), more, len(coming)) if known or not more else None
        rest = f"{len(coming)} more kept" + (
            f", {len(done) - len(known)} without winnings written down"
            if len(known) < len(done)
            else ""
        )
    if is_over:
        chance = None
    words = f"{made} of {goal.target:g} {ALLOWED[goal.measure][2]}; {rest}."
    return GoalProgress(goal, len(known), len(coming), made, None, chance, is_over, words)


def cash_chance(made: int, tried: int, more: int, coming: int) -> float:
    """Chance of `more` cashes or better in so many events to come, after `made` in `tried`:
    beta-binomial with half a success and half a failure added."""
    from scipy import special

    successes, failures = made + HALF_COUNT, tried - made + HALF_COUNT
    counts = np.arange(more, coming + 1)
    logs = (
        special.gammaln(coming + 1)
        - special.gammaln(counts + 1)
        - special.gammaln(coming - counts + 1)
        + special.betaln(counts + successes, coming - counts + failures)
        - special.betaln(successes, failures)
    )
    return float(min(np.exp(logs).sum(), 1.0))


def mean_chance(points: Sequence[Point], weight_to_come: float, target: float) -> float | None:
    """Chance that the mean of everything lies at the target or above in the end, with so much
    weight to come that goes as the events so far; None where they are too few."""
    from scipy import special

    if len(points) < FEWEST_EVENTS or not weight_to_come:
        return None
    values = np.array([point.value for point in points])
    weights = np.array([point.weight for point in points])
    mean, freedom = float(np.average(values, weights=weights)), len(points) - 1
    luck = float(np.average([point.luck for point in points], weights=weights))
    variance = max(float(weights @ (values - mean) ** 2) / freedom, luck)
    so_far = float(weights.sum())
    spread = np.sqrt(variance * weight_to_come / (so_far * (so_far + weight_to_come)))
    if not spread:
        return float(is_reached(mean, target))
    return float(special.stdtr(freedom, (mean - target) / spread))


def is_reached(value: float, target: float) -> bool:
    """Whether a mean lies at its target or above; 29 of 100 in percent are 29, as they are told,
    and not what floating numbers make of it."""
    return value > target or isclose(value, target, rel_tol=ROUNDING, abs_tol=ROUNDING)


def _measured(
    goal: Goal,
    points: Sequence[Point],
    coming: Sequence[EventFacts],
    done: Sequence[EventFacts],
    today: date,
) -> GoalProgress:
    is_share = goal.measure in TALLIES
    scale = PERCENT if is_share else 1.0
    found = estimate_of(points, SHARE_LIMITS if is_share else NO_LIMITS)
    is_over = today > goal.last_day
    value = None if found is None else found.mean * scale
    chance = None
    if found is not None and not is_over:
        games = sum(one.games for one in done)
        to_come = sum(one.planned_games for one in coming)
        weight = sum(point.weight for point in points) / games * to_come if games else 0.0
        chance = mean_chance(points, weight, goal.target / scale)
    interval = None
    if found is not None and found.interval_80 is not None:
        interval = (found.interval_80[0] * scale, found.interval_80[1] * scale)
    words = _measured_words(goal, value, is_over, chance is None and bool(coming))
    return GoalProgress(goal, len(points), len(coming), value, interval, chance, is_over, words)


def _measured_words(goal: Goal, value: float | None, is_over: bool, few: bool) -> str:
    unit = ALLOWED[goal.measure][2]
    if value is None:
        return "Nothing that counts is known yet."
    told = f"{value:.1f} against {goal.target:g} {unit}"
    if is_over:
        return f"{told}: {'reached' if is_reached(value, goal.target) else 'not reached'}."
    return f"{told}; too few events to tell a chance." if few else f"{told}."


def _point(measure: Measure, event: EventFacts) -> Point | None:
    if measure is Measure.FIELD_RELATIVE:
        return event.beside_field
    if measure is Measure.AVERAGE:
        if not event.games:
            return None
        return Point(event.date, event.pins / event.games, event.games, 0.0, event.name)
    return TALLIES[measure](event).point(event.date, event.name)
