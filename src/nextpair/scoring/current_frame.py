"""Counting by the current frame: each frame is worth what it shows, whatever follows.

A strike counts 30, a spare 10 and the pins of its first ball, an open frame its pins. Ten frames,
no fill balls, 300 at most.

Source: [facts] section 7: the world body's other way of counting, from memory, high.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate
from typing import ClassVar

from nextpair.domain.format import Counting
from nextpair.scoring.frames import Frame, Game, is_finished, is_spare, is_strike
from nextpair.scoring.game_value import FrameOdds
from nextpair.scoring.leaves import PINS

STRIKE_PINS = 30
"""What a strike counts."""


def frame_pins(frame: Frame) -> int:
    """What a finished frame counts."""
    if is_strike(frame):
        return STRIKE_PINS
    first, second = frame
    return PINS + first.pins if is_spare(frame) else first.pins + second.pins


def expected_frame_pins(rack: FrameOdds) -> float:
    """What a frame counts in the mean, by the odds of its rack."""
    spare_bonus = sum(
        first * row[-1] * pins
        for pins, (first, row) in enumerate(zip(rack.first, rack.second, strict=False))
    )
    return rack.two_ball_pins + (STRIKE_PINS - PINS) * rack.strike + spare_bonus


@dataclass(frozen=True, slots=True)
class CurrentFrameGame(Game):
    """A game that is counted by the current frame; the tenth frame is like the others."""

    counting: ClassVar[Counting] = Counting.CURRENT_FRAME

    @property
    def running_scores(self) -> tuple[int | None, ...]:
        """Score after each frame; None for one that is not over."""
        over = [
            frame
            for number, frame in enumerate(self.frames, start=1)
            if is_finished(number, frame, self.counting)
        ]
        return (*accumulate(map(frame_pins, over)), *[None] * (len(self.frames) - len(over)))


def new_game(counting: Counting) -> Game:
    """A game before its first ball."""
    return CurrentFrameGame() if counting is Counting.CURRENT_FRAME else Game()
