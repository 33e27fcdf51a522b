"""A pattern's page of the book for a terminal: notes, results, and the nearest relatives."""

from __future__ import annotations

from collections.abc import Iterable

from nextpair.application.pattern_book import NEAR_FT
from nextpair.domain.outing import Outing
from nextpair.domain.pattern_book import PatternPage, Relative
from nextpair.reports.film_text import opening_words
from nextpair.reports.ink import Ink
from nextpair.reports.outing_words import line_words, outing_words, who_words
from nextpair.reports.wording import date_words, pattern_words

LINES_TOLD = 3
"""Of an outing; all are in the JSON."""
HOW_FAR = (
    "Feet away: patterns that are alike but for their length are as far apart as one is longer. "
    "Most of it is grip, the feet of lane, board by board, that slide on one and grip on the "
    "other; to it comes half a foot for each board by which the oil lies elsewhere across, and a "
    f"tenth for each millilitre that does. Up to {NEAR_FT:g} ft a relative is near."
)
OWN_LINES = "A line is lay-down over target at the arrows, by the boards of whoever played it."


def render_similar_text(told: PatternPage, columns: int = 80, *, colour: bool = False) -> str:
    """The page as text, at most `columns` wide."""
    page = Ink(columns, colour)
    lines = [
        page.strong(told.pattern.name),
        pattern_words(told.pattern),
        "",
        *page.indented("", 0, told.start),
    ]
    if told.notes:
        lines += page.section("ATTACK NOTES")
        lines += [line for note in told.notes for line in page.indented("  - ", 4, note.text)]
    if told.outings:
        lines += page.section("RESULTS ON IT")
        lines += _outings(told.outings, page, "  ")
    lines += page.section("NEAREST RELATIVES")
    for relative in told.relatives:
        lines += _relative(relative, page)
    lines += page.section("HOW TO READ THIS")
    for note in (HOW_FAR, OWN_LINES):
        lines += page.indented("  - ", 4, note)
    if told.left_out:
        names = ", ".join(told.left_out)
        lines += page.indented("  - ", 4, f"Not in order, and so left out: {names}.")
    return "\n".join(lines) + "\n"


def _relative(relative: Relative, page: Ink) -> list[str]:
    near = "near" if relative.is_near else "far"
    lines = [
        f"  {page.strong(relative.pattern.name)}  {relative.feet:.1f} ft away, {near}"
        f"  {page.faint(pattern_words(relative.pattern))}",
        *page.indented("    ", 4, f"{relative.words}; {parts_words(relative)}"),
    ]
    lines += _outings(relative.outings, page, "    ")
    for note in relative.notes:
        lines += page.indented("    - ", 6, note.text)
    if relative.description and not relative.outings:
        lines += page.indented("    ", 4, opening_words(relative.description), faint=True)
    return lines


def parts_words(relative: Relative) -> str:
    """'grip 2.9 ft, 0.4 boards across, 3.1 mL'."""
    return (
        f"grip {relative.grip_ft:.1f} ft, {relative.across_boards:.1f} boards across, "
        f"{relative.oil_ml:.1f} mL"
    )


def _outings(outings: Iterable[Outing], page: Ink, start: str) -> list[str]:
    lines = []
    for outing in outings:
        told = f"{outing.event}, {date_words(outing.date.isoformat())}: {who_words(outing)}"
        lines += page.indented(start, len(start), told + outing_words(outing))
        for line in outing.lines[:LINES_TOLD]:
            played = line_words(line, outing.hand.value)
            lines += page.indented(f"{start}  ", len(start) + 2, played)
    return lines
