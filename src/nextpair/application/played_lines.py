"""Lines that a bowler played, found in the shots: lay-down and target near one another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from statistics import fmean

from nextpair.application.met_racks import MetRack
from nextpair.domain.shot_log import LoggedShot

LINE_BOARDS = 1.5
"""A shot is of a line if its lay-down and its target are both this close to the line's middle.
Assumption: more than a bowler's scatter at the foul line, less than a 2-for-1 move of the feet."""

Boards = tuple[float, float]


@dataclass(slots=True)
class PlayedLine:
    """Racks that were shot at on one line, and the middle of their lay-downs and targets."""

    racks: list[MetRack] = field(default_factory=list)
    shots: list[Boards] = field(default_factory=list)

    @property
    def middle(self) -> Boards:
        """Lay-down and target."""
        laydowns, targets = zip(*self.shots, strict=True)
        return fmean(laydowns), fmean(targets)

    def add(self, rack: MetRack, boards: Boards) -> None:
        """One more rack of the line."""
        self.racks.append(rack)
        self.shots.append(boards)

    def reach_of(self, boards: Boards) -> float:
        """How far a shot is from the middle, the further of lay-down and target."""
        return max(abs(here - there) for here, there in zip(self.middle, boards, strict=True))


def lines_of(racks: Sequence[MetRack]) -> tuple[PlayedLine, ...]:
    """The lines of first balls, most played first. A line is where the ball was meant to go where
    that was told, else where it was seen to go; first balls of neither have none."""
    lines: list[PlayedLine] = []
    for rack in racks:
        boards = None if rack.shot is None else line_boards(rack.shot)
        if boards is None:
            continue
        near = [line for line in lines if line.reach_of(boards) <= LINE_BOARDS]
        line = min(near, key=lambda one: one.reach_of(boards), default=None)
        if line is None:
            lines.append(line := PlayedLine())
        line.add(rack, boards)
    return tuple(sorted(lines, key=lambda line: -len(line.racks)))


def line_boards(shot: LoggedShot) -> Boards | None:
    """Boards at the foul line and at the arrows of a shot's line, each as it was meant, or else as
    it was seen; None where one of them is neither."""
    laydown, target = shot.meant_laydown_board, shot.meant_target_board
    laydown = shot.laydown_board if laydown is None else laydown
    target = shot.target_board if target is None else target
    return None if laydown is None or target is None else (laydown, target)
