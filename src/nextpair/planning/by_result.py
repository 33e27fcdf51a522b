"""Somebody who moves by what the ball did, as textbooks say, from a plan or from a habit."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from nextpair.domain.bowler import Scatter
from nextpair.domain.units import DEGREE_RAD
from nextpair.planning.day import Day, Lines, Seen
from nextpair.planning.lines import LineGrid, line_grid
from nextpair.planning.textbook import (
    BOARDS_PER_DEGREE,
    Watch,
    seen_boards,
    shifted,
    trusted,
    two_for_one,
)
from nextpair.planning.trial import Line


class ByResult:
    """A bowler with planned lines by game, who moves by results.

    What practice and games have moved the bowler off the plan is kept for the next game: a plan's
    moves are made from where one stands.

    grid : the lines within reach. scatter : the bowler's own, by which a shot is trusted.
    """

    def __init__(self, planned: Sequence[Lines], grid: LineGrid, scatter: Scatter) -> None:
        self._planned = planned
        self._grid = grid
        self._spread_boards = float(
            np.hypot(
                scatter.laydown_boards, BOARDS_PER_DEGREE * scatter.launch_angle_rad / DEGREE_RAD
            )
        )
        self._stand = list(planned[0])
        self._watches = (Watch(), Watch())

    def comes_to(self, game: int) -> None:
        """Move on as the plan says, from where one stands."""
        self._watches = (Watch(), Watch())
        if game > 1:
            before, after = self._planned[game - 2], self._planned[game - 1]
            self._stand = [
                self._carried(*lines) for lines in zip(self._stand, before, after, strict=True)
            ]

    def line(self, side: int, _share: float) -> Line:
        """Where one stands."""
        return self._stand[side]

    def saw(self, shot: Seen) -> None:
        """Move if two good shots agree, or one misses clearly."""
        good = bool(trusted(shot.errors, self._spread_boards)[0])
        moves = self._watches[shot.side].moves(seen_boards(shot.paths.lane_impact, 0), good)
        self._stand[shot.side] = two_for_one(self._stand[shot.side], moves, self._grid)

    def _carried(self, stand: Line, before: Line, after: Line) -> Line:
        """The next planned line, moved as far as the bowler had moved off the one before."""
        return shifted(
            after,
            stand.own_laydown - before.own_laydown,
            stand.angle_rad - before.angle_rad,
            self._grid,
        )


def by_result(day: Day, planned: Sequence[Lines]) -> ByResult:
    """The bowler of a day, with some plan of lines by game."""
    bowler = day.event.bowler
    return ByResult(planned, line_grid(bowler.reach, bowler.hand), day.world.scatter)
