"""A season for a terminal."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby

from nextpair.domain.season import Figure, Season, SeasonGroup
from nextpair.reports.ink import Ink, fitted
from nextpair.reports.season_words import (
    KIND_NAMES,
    NAMES,
    cell_words,
    days_words,
    goal_words,
    target_words,
    trend_words,
    use_words,
)
from nextpair.reports.wording import counted, date_words

NOTHING_KEPT = (
    "No event with a score or shot of yours is kept: name event files, or keep some with nextpair "
    "import, their scores.csv or shots.csv beside them."
)
EVENT_COLUMNS = 7
NAME_COLUMNS = (16, 32)
"""Least and most that the longest name of goals or balls has."""
GAP_COLUMNS = 4
"""Two columns before a name and two behind it."""
CELL_COLUMNS = {Figure.STRIKES: 17, Figure.SPARES: 17, Figure.FIELD_RELATIVE: 24}
BY_LUCK = "* the luck of single balls alone: events could not be told apart."


def render_season_text(season: Season, columns: int = 80, *, colour: bool = False) -> str:
    """A season: what is due, goals, trends, tables by condition, and balls."""
    page = Ink(columns, colour, label_columns=20)
    games = f"{counted(season.events, 'event')}, {counted(season.games, 'game')}"
    lines = [
        page.strong(f"Season of {games}"),
        f"as of {date_words(season.today.isoformat())}",
    ]
    if not season.events and not season.deadlines:
        lines += ["", *page.indented("", 0, NOTHING_KEPT)]
    lines += _deadlines(season, page)
    lines += _goals(season, page)
    if season.events:
        lines += page.section("TRENDS")
        for trend in season.trends:
            lines += page.labelled(NAMES[trend.figure], trend_words(trend))
        lines += _groups(season.groups, page)
    lines += _balls(season, page)
    for words in season.notes if season.events else ():
        lines += ["", *page.indented("  - ", 4, words)]
    if season.left_out:
        told = f"Not in order, and so left out: {', '.join(season.left_out)}."
        lines += ["", *page.indented("  - ", 4, told)]
    return "\n".join(lines) + "\n"


def _beside(names: Sequence[str], told: Sequence[str], page: Ink) -> list[str]:
    """Texts beside names that may be long: there is always room between the two."""
    least, most = NAME_COLUMNS
    columns = min(max(least, *map(len, names)), most)
    wide = replace(page, label_columns=columns + GAP_COLUMNS)
    return [
        line
        for name, text in zip(names, told, strict=True)
        for line in wide.labelled(fitted(name, columns), text)
    ]


def _deadlines(season: Season, page: Ink) -> list[str]:
    if not season.deadlines:
        return []
    lines = page.section("WHAT IS DUE")
    for one in season.deadlines:
        label = f"{one.day.isoformat()}"
        lines += page.labelled(label, f"{days_words(one)}: {one.words}")
    return lines


def _goals(season: Season, page: Ink) -> list[str]:
    if not season.goals:
        return []
    names = [one.goal.name for one in season.goals]
    told = [f"{target_words(one)}. {goal_words(one)}" for one in season.goals]
    return page.section("GOALS") + _beside(names, told, page)


def _groups(groups: Sequence[SeasonGroup], page: Ink) -> list[str]:
    lines: list[str] = []
    for kind, of_kind in groupby(groups, key=lambda group: group.kind):
        lines += page.section(f"BY {KIND_NAMES[kind].upper()}")
        figures = [one for one in Figure if kind != "ball" or one is not Figure.FIELD_RELATIVE]
        heads = "".join(NAMES[figure].rjust(CELL_COLUMNS[figure]) for figure in figures)
        lines.append(page.strong(f"{_started('', 'events', page)}{heads}"))
        lines += [_row(group, figures, page) for group in of_kind]
    if any("*" in line for line in lines):
        lines.append(page.faint(f"  {BY_LUCK}"))
    return lines


def _row(group: SeasonGroup, figures: Sequence[Figure], page: Ink) -> str:
    estimates = {
        Figure.STRIKES: group.strikes,
        Figure.SPARES: group.spares,
        Figure.FIELD_RELATIVE: group.field_relative,
    }
    cells = "".join(
        cell_words(figure, estimates[figure]).rjust(CELL_COLUMNS[figure]) for figure in figures
    )
    return f"{_started(group.name, str(group.events), page)}{cells}".rstrip()


def _started(name: str, events: str, page: Ink) -> str:
    """The beginning of a row: what is left of the page's width is for the name."""
    columns = page.columns - 2 - EVENT_COLUMNS - sum(CELL_COLUMNS.values())
    return f"  {fitted(name, columns)}{events:>{EVENT_COLUMNS}}"


def _balls(season: Season, page: Ink) -> list[str]:
    if not season.balls:
        return []
    lines = page.section("BALLS")
    lines += _beside([use.ball for use in season.balls], list(map(use_words, season.balls)), page)
    said = dict.fromkeys(words for use in season.balls for words in use.words)
    for words in said:
        lines += page.indented("  - ", 4, words, faint=True)
    return lines
