"""A shot as its bowler logged it: what could be seen from behind the foul line, and nothing else.

Trade units; boards count from the right edge for both hands. What was not seen is `None`.
"""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from nextpair.domain.ball import Surface
from nextpair.domain.errors import InvalidValueError, require, require_within
from nextpair.domain.lane import BOARDS

FIRST_DELIVERY = 1
MOST_DELIVERIES = 3
"""Of a tenth frame."""
FRAMES = 10
PRACTICE = 0
"""Game that practice is logged as."""
SPEEDS_MPH = (5.0, 30.0)


@dataclass(frozen=True, slots=True)
class LoggedShot:
    """One shot of a log.

    id : made where the shot was logged; the same id is the same shot.
    time : ISO 8601, or empty.
    game, frame, delivery : 0 is practice; frames and deliveries count from 1.
    ball : name in the locker.
    laydown_board, target_board : where the ball touched down and crossed the arrows, as seen.
    meant_laydown_board, meant_target_board : where they were meant to be, if that is known.
    speed_mph : at the release, where something measured it.
    breakpoint_board : closest to the gutter on the bowler's side.
    entry_board : centre of the ball level with the head pin.
    standing_before, standing_after : pins; `None` where nobody looked.
    surface_grit : finish put on the ball, a grit number or "polished"; `None` where it was
        the locker's.
    """

    id: UUID
    time: str
    game: int
    frame: int
    delivery: int
    lane: int
    ball: str
    laydown_board: float | None = None
    target_board: float | None = None
    speed_mph: float | None = None
    breakpoint_board: float | None = None
    entry_board: float | None = None
    standing_before: frozenset[int] | None = None
    standing_after: frozenset[int] | None = None
    note: str = ""
    meant_laydown_board: float | None = None
    meant_target_board: float | None = None
    surface_grit: int | str | None = None

    def __post_init__(self) -> None:
        require_within("game", self.game, PRACTICE, 99, "games")
        require_within("frame", self.frame, 1, 99 if self.game == PRACTICE else FRAMES, "frames")
        require_within("delivery", self.delivery, FIRST_DELIVERY, MOST_DELIVERIES, "deliveries")
        for name in (
            "laydown_board", "target_board", "breakpoint_board", "meant_laydown_board",
            "meant_target_board",
        ):  # fmt: skip
            board = getattr(self, name)
            if board is not None:
                require_within(name, board, 0, BOARDS + 1, "boards")
        if self.entry_board is not None:
            require_within("entry_board", self.entry_board, -9, BOARDS + 10, "boards")
        if self.speed_mph is not None:
            require_within("speed_mph", self.speed_mph, *SPEEDS_MPH, "mph")
        if self.surface_grit is not None:
            Surface.put_on(self.surface_grit)
        for name in ("standing_before", "standing_after"):
            pins = getattr(self, name)
            require(
                pins is None or pins <= frozenset(range(1, 11)),
                name,
                sorted(pins or ()),
                "pins from 1 to 10",
            )
        before, after = self.standing_before, self.standing_after
        require(before is None or bool(before), "standing_before", "no pin", "one pin or more")
        if before is not None and after is not None and not after <= before:
            raise InvalidValueError("standing_after", sorted(after), "pins that stood before")
