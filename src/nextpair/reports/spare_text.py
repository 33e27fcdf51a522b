"""Spares for a terminal: one leave in full, or many in a table."""

from __future__ import annotations

from nextpair.domain.spare import (
    SpareCard,
    SpareLineCard,
    SpareSheet,
    SpareShotCard,
    SystemCard,
)
from nextpair.reports.deck_text import deck_lines
from nextpair.reports.ink import Ink, fitted
from nextpair.reports.wording import (
    ball_words,
    board_words,
    counted,
    counting_words,
    halves,
    percent,
    sides,
)

KINDS = {"several pins": "no split"}
BALL_COLUMNS, LEAVE_COLUMNS = 24, 15
WHERE = "feet: where the sliding foot ends; target: at the arrows"
WALKED = "; half of a system's move at the start is walked off by the foul line"
FRESH = (
    "The lane is taken as it is laid: the sheet tells what traffic does to it later. Strike balls "
    "are those that score best there; the sheet may pack others."
)


def render_spares_text(
    sheet: SpareSheet, columns: int = 80, *, single: bool, colour: bool = False
) -> str:
    """Spares as text, boards as the bowler counts them; `single` tells one leave in full."""
    page = Ink(columns, colour, label_columns=15)
    lines = [
        page.strong(f"Spares on lane {sheet.lane}, fresh {sheet.pattern}"),
        f"{sheet.bowler}, {sheet.hand}-handed; {counting_words(sheet.hand)}",
    ]
    for card in sheet.spares if single else ():
        lines += _in_full(card, sheet, page)
    if not single:
        lines += _table(sheet, page)
    lines += page.section("TAKE CARE")
    lines += [line for word in sheet.cautions for line in page.indented("  - ", 4, word)]
    lines += page.indented("  - ", 4, FRESH)
    return "\n".join(lines) + "\n"


def _in_full(card: SpareCard, sheet: SpareSheet, page: Ink) -> list[str]:
    best, hand = card.best, sheet.hand
    kind = KINDS.get(card.kind, card.kind)
    lines = page.section(f"{card.leave}   {kind}")
    lines += [f"    {line}" for line in deck_lines(card.leave, best.pass_boards, hand)]
    lines.append("")
    lines += page.labelled("Ball", _ball(best))
    lines += page.labelled("Line", page.accent(_line(best.line, hand)))
    lines += page.labelled("", _release(best.line, hand))
    if best.entry is not None:
        lines += page.labelled("At the pins", _arrival(best, hand))
    lines += page.labelled("Chance", _chance(card.leave, best))
    lines += page.labelled("If missed", _missed(best))
    lines += page.labelled("Next best", _runner_up(card, hand))
    if card.spare_ball is not None:
        lines += page.labelled("Spare ball", _other(card.spare_ball, card.best, hand))
    lines += page.labelled(
        "Strike line", f"{_strike_ball(sheet)}: {_line(sheet.strike_line, hand)}"
    )
    for system in card.systems:
        lines += page.labelled(system.system, _system(system, hand))
    if not card.systems:
        lines += page.labelled("3-6-9, 3:1:2", "no answer to a split, a washout or a full rack")
    told = f"{WHERE}{WALKED * bool(card.systems)}"
    return [*lines, *page.indented("  ", 2, told, faint=True)]


def _strike_ball(sheet: SpareSheet) -> str:
    return ball_words(sheet.strike_ball, sheet.strike_surface_grit)


def _ball(shot: SpareShotCard) -> str:
    words = ball_words(shot.ball, shot.surface_grit, shot.surface_by)
    return f"{words}, your {shot.role} ball{', thrown flat' * shot.flat}"


def _line(line: SpareLineCard, hand: str) -> str:
    feet, target = (board_words(board, hand) for board in (line.slide_board, line.target_board))
    return f"feet {feet}, target {target} at the arrows"


def _release(line: SpareLineCard, hand: str) -> str:
    far, own = sides(hand)
    degrees = abs(line.launch_angle_deg)
    side = own if line.launch_angle_deg >= 0 else far
    return (
        f"laid down on {board_words(line.laydown_board, hand)}, {degrees:.1f} degrees to the "
        f"{side}, {line.speed_mph:.1f} mph, axis rotation {line.axis_rotation_deg:.0f} degrees"
    )


def _arrival(shot: SpareShotCard, hand: str) -> str:
    if shot.entry is None:
        return "not reached"
    far, own = sides(hand)
    angle = shot.entry.entry_angle_deg
    way = (
        "straight"
        if abs(angle) < 0.25
        else f"{abs(angle):.1f} degrees to the {far if angle >= 0 else own}"
    )
    return (
        f"centre on board {board_words(shot.pass_boards[0], hand)} level with the head pin, "
        f"{way}; two balls in three pass within {shot.spread_boards:.1f} boards of it"
    )


def _chance(leave: str, shot: SpareShotCard) -> str:
    error = shot.probability_error
    told = percent(shot.probability)
    if error >= 0.005:
        told += f", give or take {100 * error:.0f} by the racks rolled"
    pins = leave.count("-") + 1
    return told if pins == 1 else f"{told}; takes {shot.mean_pins:.1f} of {pins} pins"


def _missed(shot: SpareShotCard) -> str:
    if not shot.leaves:
        return "hardly ever"
    left = ", ".join(f"{pins} ({percent(chance)})" for pins, chance in shot.leaves)
    return f"{left} of all shots"


def _runner_up(card: SpareCard, hand: str) -> str:
    other = card.runner_up
    if other is None:
        return "no other ball comes along"
    return _other(other, card.best, hand)


def _other(other: SpareShotCard, best: SpareShotCard, hand: str) -> str:
    loses = 100 * (best.probability - other.probability)
    lost = "as good" if loses < 0.5 else f"{counted(round(loses), 'point')} less"
    if other.flat:
        thrown = " thrown flat"
    else:
        thrown = " thrown as for a strike" * (other.ball == best.ball)
    return (
        f"{ball_words(other.ball, other.surface_grit, other.surface_by)}{thrown}, {lost}: "
        f"{_line(other.line, hand)}"
    )


def _system(system: SystemCard, hand: str) -> str:
    far, own = sides(hand)
    moved = system.start_move_boards
    start = (
        "start as on the strike line"
        if abs(moved) < 0.25
        else f"start {halves(abs(moved))} {far if moved > 0 else own} of the strike line"
    )
    told = f"{percent(system.probability)}: {start}, {_line(system.line, hand)}."
    return f"{told} {system.why}".strip()


def _table(sheet: SpareSheet, page: Ink) -> list[str]:
    heading = (
        f"  {'leave':<{LEAVE_COLUMNS}}{'left':>5}  {'ball':<{BALL_COLUMNS}}"
        f"{'feet':>5}{'target':>7}{'chance':>8}  if missed"
    )
    told = (
        "left: of the first balls that leave something, with "
        f"{_strike_ball(sheet)} on its strike line ({_line(sheet.strike_line, sheet.hand)}); "
        f"S split, W washout; {WHERE}; if missed: what stays most often"
    )
    flat = {card.best.ball: card.best.line for card in sheet.spares if card.best.flat}
    for ball, line in flat.items():
        told += f"; {ball} is thrown flat, axis rotation {line.axis_rotation_deg:.0f} degrees"
    rows = [_row(card, sheet.hand, page) for card in sheet.spares]
    return ["", page.strong(heading), *rows, *page.indented("  ", 2, told, faint=True)]


def _row(card: SpareCard, hand: str, page: Ink) -> str:
    shot = card.best
    ball = fitted(ball_words(shot.ball, shot.surface_grit, shot.surface_by), BALL_COLUMNS)
    split = " S" if card.kind == "split" else " W" if card.kind == "washout" else ""
    leave = fitted(f"{card.leave}{split}", LEAVE_COLUMNS)
    left = percent(card.left_probability) if card.left_probability >= 0.005 else "-"
    missed = shot.leaves[0][0] if shot.leaves else ""
    return (
        f"  {page.strong(leave)}{left:>5}  {ball}{board_words(shot.line.slide_board, hand):>5}"
        f"{board_words(shot.line.target_board, hand):>7}{percent(shot.probability):>8}  {missed}"
    ).rstrip()
