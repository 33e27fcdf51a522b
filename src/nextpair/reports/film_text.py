"""A fresh film for a terminal: its numbers, and a picture with thicknesses beside it."""

from __future__ import annotations

from bisect import bisect_right

from nextpair.application.film import FilmCard
from nextpair.domain.lane import BOARDS
from nextpair.reports.ink import Ink
from nextpair.reports.palette import FILM_STEPS_UNITS
from nextpair.reports.wording import halves, pattern_words

SHADES = " .,:;+*xX#@"
"""One sign for each step of film, thin to thick."""
NUMBERED_BOARDS = (37, 35, 30, 25, 20, 15, 10, 8, 5, 3)
ROW_FT = 2


def render_film_text(film: FilmCard, columns: int = 80, *, colour: bool = False) -> str:
    """The film as text, pins at the top, boards counted from the right edge."""
    page = Ink(columns, colour)
    lines = [
        page.strong(film.pattern.name),
        f"{pattern_words(film.pattern)}, viscosity {film.viscosity_cp:.0f} cP",
        f"Rule of 31: exit at board {halves(film.rule_of_31_exit_board_right_hander)}, for a "
        f"left-hander at {halves(film.rule_of_31_exit_board_left_hander)}",
        *page.section("FILM in units of oil; boards count from the right edge"),
        page.faint(f"   ft  left{' ' * (BOARDS - 9)}right  {_numbers(NUMBERED_BOARDS)}"),
        *_picture(film.film_units),
        "",
        *page.indented("  ", 2, "units from: " + _key()),
    ]
    return "\n".join(lines) + "\n"


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
