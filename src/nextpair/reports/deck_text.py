"""The pin deck in signs, seen from the foul line: what stands, and where the ball comes in.

One sign is one board across, so pins and ball have their true widths and places.
"""

from __future__ import annotations

from collections.abc import Sequence

from nextpair.domain.lane import BOARD_M, BOARDS, CENTRE_BOARD, PIN_ROWS, pin_position_m
from nextpair.reports.wording import said_board
from nextpair.scoring.leaves import parse_leave, standing_pins

RULED_BOARDS = range(35, 0, -5)
BALL = "(======)"
"""Eight boards wide, as a ball is."""


def deck_lines(leave: str, pass_boards: Sequence[float], hand: str) -> list[str]:
    """The deck, back row first, then the ball, its way and a ruler of boards as the bowler counts.

    `pass_boards` say where the ball's centre crosses each row, head pin's row first, from the
    right edge; empty for a ball that does not arrive.
    """
    standing = set(standing_pins(parse_leave(leave)))
    front = next(row for row, pins in enumerate(PIN_ROWS) if standing & set(pins))
    lines = []
    for row in range(len(PIN_ROWS) - 1, -1, -1):
        signs = _row_of_pins(row, standing)
        if pass_boards and row < front:
            _put(signs, pass_boards[row], "|")
        lines.append("".join(signs).rstrip())
        if pass_boards and row == front:
            ball = [" "] * BOARDS
            _put(ball, pass_boards[row], BALL)
            lines.append("".join(ball).rstrip())
    return [*lines, _ruler(hand)]


def _row_of_pins(row: int, standing: set[int]) -> list[str]:
    signs = [" "] * BOARDS
    for pin in PIN_ROWS[row]:
        board = CENTRE_BOARD - pin_position_m(pin)[0] / BOARD_M
        _put(signs, board, f"[{pin:>2}]" if pin in standing else ".")
    return signs


def _put(signs: list[str], board: float, drawn: str) -> None:
    """Draw something with its middle on a board; board 39 is the first sign."""
    first = round(BOARDS - board - 0.5 * (len(drawn) - 1))
    for place, sign in enumerate(drawn, start=first):
        if 0 <= place < len(signs):
            signs[place] = sign


def _ruler(hand: str) -> str:
    signs = [" "] * BOARDS
    for board in RULED_BOARDS:
        _put(signs, board, f"{said_board(board, hand):.0f}")
    return "".join(signs).rstrip()
