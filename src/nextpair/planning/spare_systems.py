"""What the usual move systems make of a leave, from the strike line: common practice.

They know one pin: the one nearest the bowler. Own frame: own boards count from the bowler's side,
pins to the right stand on that side.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from nextpair.carry.leave_paths import front_m
from nextpair.domain.lane import ARROWS_M, BOARD_M, PIN_SPACING_M
from nextpair.planning.trial import Line
from nextpair.scoring.leaves import FULL_RACK, is_split, is_washout

START_TO_FOUL_LINE = 0.5
"""Share of a move of the feet at the start that is left at the foul line, for who walks to the
same target: the start lies twice as far behind the arrows. Source: [facts] section 8, 3:1:2."""


@dataclass(frozen=True, slots=True)
class System:
    """A system: boards that the feet move at the start for each column of pins."""

    name: str
    start_boards_per_column: float


SYSTEMS = (
    System("3-6-9", 3.0),
    System("3:1:2", 2.0 / 3.0 * 0.5 * PIN_SPACING_M / BOARD_M),
)
"""3-6-9: 3, 6 or 9 boards for the first, second or third column from the middle, same target.
3:1:2: two boards at the start and one at the foul line for each three at the pins, the other way.
Source: [facts] section 8."""


@dataclass(frozen=True, slots=True)
class Move:
    """A line that a system finds; `start_boards` positive toward the inside."""

    system: System
    start_boards: float
    own_laydown: float
    angle_rad: float


def system_moves(leave: int, strike: Line) -> tuple[Move, ...]:
    """Where each system goes from the strike line; nowhere for a split, a washout or a full rack.

    Source: closed form: the same target at the arrows from a moved lay-down.
    """
    if is_split(leave) or is_washout(leave) or leave == FULL_RACK:
        return ()
    columns = round(front_m(leave)[0] / (0.5 * PIN_SPACING_M))
    found = []
    for system in SYSTEMS:
        start_boards = system.start_boards_per_column * columns
        moved_boards = START_TO_FOUL_LINE * start_boards
        slope = math.tan(strike.angle_rad) + moved_boards * BOARD_M / ARROWS_M
        found.append(
            Move(system, start_boards, strike.own_laydown + moved_boards, math.atan(slope))
        )
    return tuple(found)
