"""The line of a logged shot, by the boards that it was meant over."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import atan

from nextpair.application.played_lines import Boards
from nextpair.domain.bowler import Hand
from nextpair.domain.lane import BOARDS_PER_RAD
from nextpair.kernel.throws import own_board
from nextpair.planning.trial import Line

AIMING_ROUNDS = 2


def meant_line(boards: Boards, option: int, hand: Hand, crosses: Callable[[Line], float]) -> Line:
    """A ball's line over two boards, at the foul line and at the arrows: its angle is the one that
    crosses the arrows where it should.

    crosses : own board at the arrows of a line's meant shot on its lane.
    """
    laydown, target = (own_board(board, hand) for board in boards)
    line = Line(option, laydown, atan((laydown - target) / BOARDS_PER_RAD))
    for _ in range(AIMING_ROUNDS):
        off = crosses(line) - target
        line = replace(line, angle_rad=line.angle_rad + off / BOARDS_PER_RAD)
    return line
