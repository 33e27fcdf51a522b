"""Carry for a terminal: strikes by board and angle, a ladder of impacts, or one impact alone."""

from __future__ import annotations

from nextpair.domain.carry import CarryMap, ImpactCard
from nextpair.reports.ink import Ink
from nextpair.reports.wording import (
    counting_words,
    impact_words,
    percent,
    said_board,
    strings_words,
)

LEAVES_ON_A_RUNG = 5
LEAST_TOLD = 0.005
"""A leave with less than this would be told as 0 percent."""
CELL_COLUMNS = 6


def render_carry_text(carry: CarryMap, columns: int = 80, *, colour: bool = False) -> str:
    """The impact asked for; without one the table by board and angle, and the ladder."""
    page = Ink(columns, colour, label_columns=14)
    lines = [
        page.strong(
            f"{carry.ball_lb:g} lb at {carry.speed_mph:g} mph, at the pins"
            f"{strings_words(carry.pinfall)}"
        ),
        f"{carry.hand}-handed; {counting_words(carry.hand)}",
    ]
    if carry.impact is None:
        lines += [*_strikes(carry, page), *_ladder(carry, page)]
    else:
        lines += ["", *_impact(carry.impact, carry.hand, page)]
    mind = [line for word in carry.cautions for line in page.indented("  - ", 4, word)]
    return "\n".join([*lines, *page.section("HOW FAR TO TRUST IT"), *mind]) + "\n"


def _strike_words(impact: ImpactCard) -> str:
    """'92 % (standard error 1.2 %)'."""
    error = f"standard error {100 * impact.strike_error:.1f} %"
    return f"{percent(impact.strike_probability)} ({error})"


def _leaves_words(leaves: tuple[tuple[str, float], ...]) -> str:
    """'10 (5 %), 8 (2 %)'."""
    told = [f"{pins} ({percent(chance)})" for pins, chance in leaves if chance >= LEAST_TOLD]
    return ", ".join(told) or "hardly any"


def _place_words(impact: ImpactCard, hand: str) -> str:
    """'4 degrees, 2.5 boards right of the head pin: board 17.9 level with it, 17.5 at contact'."""
    level, contact = (
        said_board(board, hand) for board in (impact.head_pin_board, impact.contact_board)
    )
    return (
        f"{impact_words(impact, hand)}: board {level:.1f} level with it, {contact:.1f} at contact"
    )


def _strikes(carry: CarryMap, page: Ink) -> list[str]:
    """Percent by board level with the head pin and by angle."""

    def row(label: str, cells: list[str]) -> str:
        return f"  {label:>6}" + "".join(f"{cell:>{CELL_COLUMNS}}" for cell in cells)

    head = row("board", [f"{angle:g}" for angle in carry.told_angles_deg])
    rows = [
        row(f"{said_board(board, carry.hand):g}", [f"{100 * chance:.0f}" for chance in chances])
        for board, chances in zip(
            carry.head_pin_boards, carry.strike_probability_by_board, strict=True
        )
    ]
    window = row("90 up", [f"{boards:.1f}" for boards in carry.window_boards])
    return [
        *page.section("STRIKES in percent, by board level with the head pin"),
        page.faint(f"{head} degrees"),
        *rows,
        f"{window} boards wide",
        "",
        *page.labelled(
            "Best", f"{_place_words(carry.best, carry.hand)}; strikes {_strike_words(carry.best)}"
        ),
        *page.labelled("Published", _published_words(carry)),
    ]


def _published_words(carry: CarryMap) -> str:
    zone = carry.published_zone
    low, high = sorted(said_board(board, carry.hand) for board in zone.head_pin_board)
    flat, steep = zone.entry_angle_deg
    return (
        f"boards {low:g} to {high:g} at {flat:g} to {steep:g} degrees hold the highest strike "
        "percentages of the governing body's tests"
    )


def _ladder(carry: CarryMap, page: Ink) -> list[str]:
    lines = page.section("WHAT IMPACTS LEAVE in percent, by board level with the head pin")
    lines += [page.faint("  degrees  offset  strike    pins  leaves")]
    for rung in carry.ladder:
        board = said_board(rung.head_pin_board, carry.hand)
        lines += [page.strong(f"  {rung.name}, board {board:g}")]
        lines += [line for impact in rung.impacts for line in _rung_line(impact, page)]
    return lines


def _rung_line(impact: ImpactCard, page: Ink) -> list[str]:
    start = (
        f"  {impact.entry_angle_deg:>7g}{impact.offset_board:>8.1f}"
        f"{100 * impact.strike_probability:>8.0f}{impact.mean_pins:>8.1f}  "
    )
    leaves = [
        f"{pins} {100 * chance:.0f}"
        for pins, chance in impact.leaves[:LEAVES_ON_A_RUNG]
        if chance >= LEAST_TOLD
    ]
    return page.indented(start, len(start), ", ".join(leaves))


def _impact(impact: ImpactCard, hand: str, page: Ink) -> list[str]:
    return [
        *page.labelled("Enters", _place_words(impact, hand)),
        *page.labelled("Strike", _strike_words(impact)),
        *page.labelled("Pins", f"{impact.mean_pins:.2f} on the first ball"),
        *page.labelled("Leaves", _leaves_words(impact.leaves)),
    ]
