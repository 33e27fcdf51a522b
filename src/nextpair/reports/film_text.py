"""Fresh films for a terminal: one in numbers and as a picture, or many in a list."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence

from nextpair.application.film import FilmCard
from nextpair.domain.lane import BOARDS
from nextpair.reports.ink import Ink, fitted
from nextpair.reports.palette import FILM_STEPS_UNITS
from nextpair.reports.wording import halves, pattern_words, ratio_words

SHADES = " .,:;+*xX#@"
"""One sign for each step of film, thin to thick."""
NUMBERED_BOARDS = (37, 35, 30, 25, 20, 15, 10, 8, 5, 3)
ROW_FT = 2
LIBRARY_USE = (
    'Look at one with `nextpair film NAME`; bowl on one with `pattern = "library: NAME"` in '
    "event.toml."
)


def render_film_text(film: FilmCard, columns: int = 80, *, colour: bool = False) -> str:
    """The film as text, pins at the top, boards counted from the right edge."""
    page = Ink(columns, colour)
    lines = [
        page.strong(film.pattern.name),
        f"{pattern_words(film.pattern)}, viscosity {film.viscosity_cp:.0f} cP",
        *_made(film),
        f"Rule of 31: exit at board {halves(film.rule_of_31_exit_board_right_hander)}, for a "
        f"left-hander at {halves(film.rule_of_31_exit_board_left_hander)}",
        *_described(film, page),
        *page.section("FILM in units of oil; boards count from the right edge"),
        page.faint(f"   ft  left{' ' * (BOARDS - 9)}right  {_numbers(NUMBERED_BOARDS)}"),
        *_picture(film.film_units),
        "",
        *page.indented("  ", 2, "units from: " + _key()),
    ]
    return "\n".join(lines) + "\n"


def render_patterns_text(
    films: Sequence[FilmCard], columns: int = 80, *, colour: bool = False
) -> str:
    """Patterns in a list: a line of numbers each, and the first sentence said of it below."""
    page = Ink(columns, colour)
    width = max(len(film.pattern.name) for film in films)
    lines = []
    for film in films:
        pattern = film.pattern
        numbers = (
            f"{pattern.length_ft:>3.0f} ft  {pattern.volume_ml:>4.1f} mL  "
            f"{ratio_words(pattern.ratio):>8}  {pattern.sport_class}"
        )
        lines.append(f"{page.strong(fitted(pattern.name, width))}  {numbers}")
        if film.description:
            lines += page.indented("    ", 4, opening_words(film.description))
    return "\n".join([*lines, "", *page.indented("", 0, LIBRARY_USE)]) + "\n"


def opening_words(description: str) -> str:
    """The first sentence of a description."""
    opening = description.split(". ", 1)[0].rstrip(".")
    return f"{opening}."


def _made(film: FilmCard) -> list[str]:
    """How it is laid, where that is more than its passes; and its sides, where they differ."""
    told = []
    if film.buff_ft and film.forward_to_ft is not None:
        forward, length = f"{film.forward_to_ft:g} ft", f"{film.pattern.length_ft:g} ft"
        told.append(
            f"Forward oil to {forward}, buffed on to {length}"
            if forward != length
            else f"Forward oil buffed on toward {length}"
        )
    left, right = (ratio_words(side) for side in (film.left_side_ratio, film.right_side_ratio))
    if left != right:
        told.append(f"The sides differ: ratio {left} on the left, {right} on the right")
    return told


def _described(film: FilmCard, page: Ink) -> list[str]:
    return ["", *page.indented("", 0, film.description)] if film.description else []


def _picture(film_units: tuple[tuple[float, ...], ...]) -> list[str]:
    oiled = [foot for foot, row in enumerate(film_units) if max(row) >= FILM_STEPS_UNITS[0]]
    last = min((max(oiled) // ROW_FT + 1) * ROW_FT, len(film_units) - ROW_FT) if oiled else 0
    return [_row(foot, film_units[foot]) for foot in range(last, -1, -ROW_FT)]


def _row(foot: int, units: tuple[float, ...]) -> str:
    shades = "".join(SHADES[bisect_right(FILM_STEPS_UNITS, value)] for value in reversed(units))
    thickness = _numbers(tuple(round(units[board - 1]) for board in NUMBERED_BOARDS))
    return f"  {foot:>3}  {shades}  {thickness}"


def _numbers(numbers: tuple[int, ...]) -> str:
    return "".join(f"{number:>3}" for number in numbers)


def _key() -> str:
    return "  ".join(
        f"{shade} {units:g}" for shade, units in zip(SHADES[1:], FILM_STEPS_UNITS, strict=True)
    )
