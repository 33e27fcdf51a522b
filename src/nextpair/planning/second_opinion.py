"""The rule of 31 beside the computed line: what the same ball would score from its exit board."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from nextpair.domain.bowler import Hand
from nextpair.physics.film import rule_of_31_exit_board
from nextpair.planning.lines import highest_cell
from nextpair.planning.study import LaneStudy
from nextpair.planning.trial import Line, Trial, line_at

CLOSE_BOARDS = 4.0
"""Up to this difference the rule and the computed exit are told without a reason."""
NEAR_EXIT_BOARDS = 1.0


@dataclass(frozen=True, slots=True)
class SecondOpinion:
    """Exit board by the rule and as computed, own boards; and the best line from the rule's.

    `line` is None where no line within reach leaves the oil there.
    """

    rule_board: float
    exit_board: float
    line: Line | None
    loss_pins: float

    @property
    def agrees(self) -> bool:
        """Whether the two are close enough to need no reason."""
        return abs(self.rule_board - self.exit_board) <= CLOSE_BOARDS


def second_opinion(lane: LaneStudy, trial: Trial) -> SecondOpinion:
    """Compare the exit of a planned line with the rule of 31 (common practice)."""
    rule_board = rule_of_31_exit_board(lane.length_m, Hand.RIGHT)
    exits = lane.values.exit_board[trial.line.option]
    value = lane.values.mean_value[trial.line.option]
    near = np.abs(exits - rule_board) <= NEAR_EXIT_BOARDS
    if not near.any():
        return SecondOpinion(rule_board, trial.exit_board, None, 0.0)
    cell = highest_cell(np.where(near, value, -np.inf))
    line = line_at(lane, trial.line.option, cell)
    loss = float(value.max() - value[cell])
    return SecondOpinion(rule_board, trial.exit_board, line, loss)
