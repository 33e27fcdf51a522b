"""A bowler's chart of conditions for a terminal."""

from __future__ import annotations

from collections.abc import Sequence

from nextpair.application.what_worked import LEAST_RACKS
from nextpair.domain.condition_chart import Band, ChartRow, ConditionChart
from nextpair.reports.ink import Ink
from nextpair.reports.outing_words import ball_words, interval_words, line_words
from nextpair.reports.wording import counted

NOTHING_BOWLED = (
    "No event with scores is kept: keep some with nextpair import, their scores.csv beside them."
)
LABEL_COLUMNS = 16
HOW_COUNTED = (
    "Each event counts once, by the mean of its games: games of one event share their lanes. "
    "Likely: the mean of many such events would lie there four times in five. One event alone "
    "settles nothing.",
    "Against the field: how much more a game than the mean of everybody else in the same game, "
    "handicap left out.",
    f"Balls and lines: racks struck, of {LEAST_RACKS} thrown at or more; lay-down over target at "
    "the arrows, counted from your own side.",
)


def render_conditions_text(
    chart: ConditionChart, columns: int = 80, *, colour: bool = False
) -> str:
    """The chart as text, at most `columns` wide; boards by the bowler's own side."""
    page = Ink(columns, colour, LABEL_COLUMNS)
    if not chart.rows:
        return "\n".join([*page.indented("", 0, NOTHING_BOWLED), *_left_out(chart, page)]) + "\n"
    lines = [page.strong(f"Conditions of {chart.bowler}")]
    for words in chart.words:
        lines += page.indented("", 0, words)
    for row in chart.rows:
        lines += _row(row, chart.hand.value, page)
    lines += page.section("HOW THIS IS COUNTED")
    for note in HOW_COUNTED:
        lines += page.indented("  - ", 4, note)
    return "\n".join([*lines, *_left_out(chart, page)]) + "\n"


def band_words(band: Band, unit: str) -> str:
    """'short (under 36.5 ft)'."""
    if band.low is None:
        return f"{band.name} (under {band.high:g} {unit})"
    if band.high is None:
        return f"{band.name} ({band.low:g} {unit} and more)"
    return f"{band.name} ({band.low:g} to {band.high:g} {unit})"


def _row(row: ChartRow, hand: str, page: Ink) -> list[str]:
    title = ", ".join(
        (row.surface.value, band_words(row.length, "ft"), band_words(row.volume, "mL"))
    )
    bowled = f"{counted(row.events, 'event')}, {counted(row.games, 'game')}: "
    lines = page.section(title)
    lines += page.labelled("bowled", bowled + ", ".join(row.names))
    lines += page.labelled("a game", interval_words(row.score))
    lines += page.labelled("against field", interval_words(row.field_pins, "+.1f"))
    lines += _listed("balls", [ball_words(one) for one in row.balls], page)
    lines += _listed("lines", [line_words(one, hand) for one in row.lines], page)
    return lines


def _listed(label: str, told: Sequence[str], page: Ink) -> list[str]:
    lines = []
    for number, words in enumerate(told):
        lines += page.labelled(label if number == 0 else "", words)
    return lines


def _left_out(chart: ConditionChart, page: Ink) -> list[str]:
    lines = []
    for words, names in (
        ("Not bowled yet, or without a score of yours", chart.not_bowled),
        ("Not in order, and so left out", chart.left_out),
    ):
        if names:
            lines += page.indented("  - ", 4, f"{words}: {', '.join(names)}.")
    return lines
