"""Where a ball meets the head pin: level with it, as boards are counted, and at first contact.

Everything is in the bowler's frame: sideways places in boards from the head pin's centre, positive
to the bowler's pocket side; angles positive toward the far side. The path is straight here.
"""

from __future__ import annotations

import math

from nextpair.domain.ball import CONTACT_M
from nextpair.domain.lane import BOARD_M

CONTACT_BOARDS = CONTACT_M / BOARD_M
"""Distance of ball centre and head-pin centre at first contact."""


def boards_before_contact(offset_boards: float) -> float:
    """How far before the head pin's row the ball's centre is at first contact [boards]; 0 for a
    ball that passes the head pin.

    Source: closed form, two circles that touch.
    """
    return math.sqrt(max(CONTACT_BOARDS**2 - offset_boards**2, 0.0))


def level_boards(offset_boards: float, entry_angle_deg: float) -> float:
    """Where the ball's centre would cross the head pin's row, if it went on, from its offset at
    first contact [boards].

    Source: closed form, a straight line.
    """
    slope = math.tan(math.radians(entry_angle_deg))
    return offset_boards - slope * boards_before_contact(offset_boards)


def offset_boards_of(level: float, entry_angle_deg: float) -> float:
    """Offset at first contact of a ball that would cross the head pin's row at `level` [boards].

    Source: closed form, a straight line and a circle.
    """
    slope = math.tan(math.radians(entry_angle_deg))
    reach = CONTACT_BOARDS**2 * (1 + slope**2) - level**2
    if reach <= 0.0:
        return level
    before = (math.sqrt(reach) - level * slope) / (1 + slope**2)
    return level + slope * before
