"""How the figures of a season are said: shares in percent, distances in the field's deviations."""

from __future__ import annotations

from nextpair.domain.goal import ALLOWED
from nextpair.domain.season import BallUse, Deadline, Estimate, Figure, GoalProgress, Trend
from nextpair.reports.wording import counted, percent, surface_words

NAMES: dict[Figure, str] = {
    Figure.STRIKES: "strikes",
    Figure.SPARES: "spares",
    Figure.FIELD_RELATIVE: "beside the field",
}
KIND_NAMES = {"length": "pattern length", "surface": "lanes", "house": "house", "ball": "ball"}


def estimate_words(figure: Figure, found: Estimate | None) -> str:
    """'43 % (40 to 46)', or '+0.42 sd (0.10 to 0.74)'; a dash where nothing is known."""
    if found is None:
        return "-"
    told = value_words(figure, found.mean)
    if found.interval_80 is None:
        return told
    return f"{told} ({_span(figure, found.interval_80)}){'*' * found.by_luck_alone}"


def cell_words(figure: Figure, found: Estimate | None) -> str:
    """An estimate in a column that says what it is."""
    return estimate_words(figure, found).replace(" sd", "")


def value_words(figure: Figure, value: float) -> str:
    """'43 %', or '+0.42 sd'."""
    return f"{value:+.2f} sd" if figure is Figure.FIELD_RELATIVE else percent(value)


def trend_words(trend: Trend) -> str:
    """The mean, the change in 30 days, and what can be told of it."""
    told = [] if trend.all is None else [f"{estimate_words(trend.figure, trend.all)}."]
    if trend.change is not None and trend.change_interval_80 is not None:
        low, high = trend.change_interval_80
        if trend.figure is Figure.FIELD_RELATIVE:
            change = f"{trend.change:+.2f} sd in 30 days ({low:+.2f} to {high:+.2f})"
        else:
            change = (
                f"{100 * trend.change:+.1f} points in 30 days "
                f"({100 * low:+.1f} to {100 * high:+.1f})"
            )
        told.append(f"{change}.")
    return " ".join([*told, trend.words])


def use_words(use: BallUse) -> str:
    """What is on a ball, for how many games, and what it asks for."""
    now = use.finishes[-1]
    since = f" since {now.on.isoformat()}" if now.on is not None else ""
    limit = f" of about {use.limit_games:.0f}" if use.limit_games is not None else ""
    told = f"{surface_words(now.surface_grit)}{since}: {now.games:.1f} games{limit}"
    return f"{told}; {use.games:.1f} in all. Now: {use.advice.value}."


def days_words(deadline: Deadline) -> str:
    """'today', 'in 3 days', '2 days ago'."""
    days = deadline.days_left
    if not days:
        return "today"
    return f"in {counted(days, 'day')}" if days > 0 else f"{counted(-days, 'day')} ago"


def goal_words(progress: GoalProgress) -> str:
    """How far a goal is, with interval and chance where they can be told."""
    told = [progress.words]
    if progress.interval_80 is not None:
        low, high = progress.interval_80
        told.append(f"Likely {low:.1f} to {high:.1f}.")
    if progress.chance is not None:
        told.append(f"Chance to reach it by {progress.goal.last_day}: {percent(progress.chance)}.")
    return " ".join(told)


def target_words(progress: GoalProgress) -> str:
    """'strikes: 45 % of first balls, 2026-01-01 to 2026-12-31'."""
    goal = progress.goal
    unit = ALLOWED[goal.measure][2]
    return f"{goal.measure.value}: {goal.target:g} {unit}, {goal.first_day} to {goal.last_day}"


def _span(figure: Figure, ends: tuple[float, float]) -> str:
    low, high = ends
    if figure is Figure.FIELD_RELATIVE:
        return f"{low:+.2f} to {high:+.2f}"
    return f"{100 * low:.0f} to {100 * high:.0f}"
