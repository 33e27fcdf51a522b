"""What bowlers do without computing: start by the rule of 31, and move by what the ball shows.

All is in the bowler's own frame: own boards count from the bowler's side.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.bowler import Hand
from nextpair.domain.entry import level_boards
from nextpair.domain.lane import ARROWS_M, BOARD_M, CENTRE_BOARD
from nextpair.domain.units import DEGREE_RAD
from nextpair.kernel.outcome import Impact
from nextpair.kernel.throws import Errors
from nextpair.physics.film import rule_of_31_exit_board
from nextpair.planning.lines import LineGrid, LineValues, highest_cell
from nextpair.planning.trial import Line, line_of

FloatArray = NDArray[np.float64]

POCKET_BOARDS = CENTRE_BOARD - 17.5
"""Where a ball should arrive, level with the head pin: board 17.5 of a right-hander. Source:
[facts] section 5."""
SMALL_MISS_BOARDS = 2.0
"""Two good shots running that miss to one side by this much or more ask for a move."""
CLEAR_MISS_BOARDS = 5.0
"""One good shot that misses by this much asks for one at once. Common practice."""
ANSWERED_SHARE = 0.5
"""Share of the miss that a move takes back. These three are those, of five sets tried on 24
days, that serve the line of the rule of 31 best; to move sooner or by the whole miss chases the
bowler's own scatter."""
BOARDS_A_MOVE = 2.0
"""What two boards with the feet and one with the target shift the arrival, about: a board between
them turns the ball by 0.34 degrees, worth 3.9 boards at the pins, and the feet take two of them
back. Source: [model-sheet] section 6.5."""
SMALLEST_MOVES = 0.5
"""One board with the feet and half of one with the target. Common practice, from memory."""
NEAR_EXIT_BOARDS = 1.0
BOARDS_PER_DEGREE = ARROWS_M * DEGREE_RAD / BOARD_M
GOOD_SHOT_SD = 1.0
"""A shot within so many deviations of its target at the arrows is one that the bowler trusts."""


def rule_line(values: LineValues, option: int, length_m: float) -> Line:
    """The best of an option's lines that leave the oil at the board of the rule of 31, or as near
    to it as reach allows."""
    off = np.abs(values.exit_board[option] - rule_of_31_exit_board(length_m, Hand.RIGHT))
    near = off <= max(NEAR_EXIT_BOARDS, float(off.min()))
    cell = highest_cell(np.where(near, values.mean_value[option], -np.inf))
    return line_of(values.grid, option, cell)


def two_for_one(line: Line, moves: float, grid: LineGrid) -> Line:
    """Two boards with the feet and one with the target, `moves` times, + to the inside; within
    what the bowler can repeat.

    Source: common practice, [facts] section 8.
    """
    return shifted(line, 2.0 * moves, float(np.arctan(moves * BOARD_M / ARROWS_M)), grid)


def shifted(line: Line, boards: float, angle_rad: float, grid: LineGrid) -> Line:
    """A line moved by boards of lay-down and by an angle, within what the bowler can repeat."""
    laydown, angle = line.own_laydown + boards, line.angle_rad + angle_rad
    return replace(
        line,
        own_laydown=float(np.clip(laydown, grid.own_laydown[0], grid.own_laydown[-1])),
        angle_rad=float(np.clip(angle, grid.angle_rad[0], grid.angle_rad[-1])),
    )


@dataclass(slots=True)
class Watch:
    """What a bowler remembers of one lane: how the last good shot missed."""

    missed_boards: float = 0.0

    def moves(self, place_boards: float, good: bool) -> float:
        """Two-for-ones after a shot that arrived at a place level with the head pin, + to the
        inside: none after a bad shot, nor before two good ones agree or one misses clearly."""
        if not good:
            return 0.0
        miss = place_boards - POCKET_BOARDS
        before, self.missed_boards = self.missed_boards, miss
        agree = min(miss * np.sign(before), abs(before)) >= SMALL_MISS_BOARDS
        if not agree and abs(miss) < CLEAR_MISS_BOARDS:
            return 0.0
        self.missed_boards = 0.0
        seen = 0.5 * (miss + before) if agree else miss
        taken_back = ANSWERED_SHARE * abs(seen)
        steps = max(round(taken_back / (BOARDS_A_MOVE * SMALLEST_MOVES)), 1)
        return -SMALLEST_MOVES * steps * float(np.sign(seen))


def trusted(errors: Errors, arrows_sd_boards: float) -> NDArray[np.bool_]:
    """Which shots (n,) went over the target closely enough to be believed."""
    off = errors.laydown_boards + BOARDS_PER_DEGREE * errors.launch_angle_rad / DEGREE_RAD
    return np.asarray(np.abs(off) <= GOOD_SHOT_SD * arrows_sd_boards)


def seen_boards(impact: Impact, shot: int, widest_boards: float = 8.0) -> float:
    """Where a shot is seen to arrive, level with the head pin; past the rack it is only wide."""
    place = level_boards(float(impact.offset_boards[shot]), float(impact.entry_angle_deg[shot]))
    return float(np.clip(place, -widest_boards, widest_boards))
