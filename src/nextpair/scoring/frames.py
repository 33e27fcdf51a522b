"""A game of ten frames: what may be bowled, what it scores, what it can still become.

Source: [facts] section 7: world rule book, example game with a foul and a split; a foul counts as
a delivery and its pins do not count.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import reduce
from typing import ClassVar, Self

from nextpair.domain.errors import require, require_within
from nextpair.domain.format import Counting
from nextpair.scoring.leaves import FULL_RACK, PINS, is_split, pin_count

FRAMES = 10
HIGHEST_SCORE = 300


@dataclass(frozen=True, slots=True)
class Delivery:
    """One ball: the pins that count for it. `split` says that it left a split."""

    pins: int
    foul: bool = False
    split: bool = False

    def __post_init__(self) -> None:
        require_within("pins", self.pins, 0, PINS, "pins")
        require(not (self.foul and self.pins), "pins", self.pins, "0 on a foul")
        require(
            not self.split or 1 <= self.pins <= PINS - 2,
            "split",
            self.pins,
            "a ball that takes the head pin and leaves two pins or more",
        )


Frame = tuple[Delivery, ...]


def delivery_between(
    before: int, after: int, foul: bool = False, *, is_first: bool = True
) -> Delivery:
    """The ball that turned one leave (a mask of standing pins) into another.

    After a foul the pins are spotted again, so its leave does not count. `is_first` says that no
    ball was thrown at the rack before: a second one after a gutter ball leaves no split. Raises
    InvalidValueError where a pin stands after the ball that did not stand before.
    """
    require(not after & ~before, "standing_after", after, "pins that stood before the ball")
    if foul:
        return Delivery(0, foul=True)
    return Delivery(
        pin_count(before) - pin_count(after),
        split=is_first and before == FULL_RACK and is_split(after),
    )


def is_strike(frame: Frame) -> bool:
    """Whether the frame's first ball took all ten pins."""
    return bool(frame) and frame[0].pins == PINS


def is_spare(frame: Frame) -> bool:
    """Whether the frame's second ball took what the first had left."""
    return len(frame) > 1 and not is_strike(frame) and frame[0].pins + frame[1].pins == PINS


def is_finished(number: int, frame: Frame, counting: Counting = Counting.TRADITIONAL) -> bool:
    """Whether frame `number`, 1 to 10, has had all its balls; fill balls are of the traditional
    counting alone."""
    if number == FRAMES and counting is Counting.TRADITIONAL:
        return len(frame) == (3 if is_strike(frame) or is_spare(frame) else 2)
    return is_strike(frame) or len(frame) == 2


def balls_at_rack(frame: Frame) -> Frame:
    """Balls already bowled at the rack that the frame's next ball faces; none if it is fresh."""
    rack: Frame = ()
    for ball in frame:
        rack = (*rack, ball)
        if sum(at_rack.pins for at_rack in rack) == PINS:
            rack = ()
    return rack


def pins_standing(frame: Frame) -> int:
    """Pins that face the frame's next ball; a cleared rack is set again."""
    return PINS - sum(ball.pins for ball in balls_at_rack(frame))


def require_next_ball(
    number: int, frame: Frame, ball: Delivery, counting: Counting = Counting.TRADITIONAL
) -> None:
    """Raise InvalidValueError unless `ball` may follow what was bowled in frame `number`."""
    field, found = f"frame {number}", " ".join(str(b.pins) for b in (*frame, ball))
    allowed = f"{len(frame)} ball(s): the frame is over"
    require(not is_finished(number, frame, counting), field, found, allowed)
    standing = pins_standing(frame)
    require(ball.pins <= standing, field, found, f"at most {standing} pins: no more stand")
    require(
        not (ball.split and balls_at_rack(frame)), field, found, "a split left by a first ball"
    )


@dataclass(frozen=True, slots=True)
class Game:
    """Frames in order, the last one perhaps unfinished. Impossible frames are refused."""

    counting: ClassVar[Counting] = Counting.TRADITIONAL

    frames: tuple[Frame, ...] = ()

    def __post_init__(self) -> None:
        require(len(self.frames) <= FRAMES, "frames", len(self.frames), f"at most {FRAMES}")
        for number, frame in enumerate(self.frames, start=1):
            require(bool(frame), f"frame {number}", "no ball", "at least one ball")
            for place, ball in enumerate(frame):
                require_next_ball(number, frame[:place], ball, self.counting)
            require(
                number == len(self.frames) or is_finished(number, frame, self.counting),
                f"frame {number}",
                f"{frame[0].pins} and nothing more",
                "two balls or a strike before the next frame",
            )

    @property
    def is_complete(self) -> bool:
        """Whether nothing is left to bowl."""
        return len(self.frames) == FRAMES and not self.frame_under_way

    @property
    def frame_under_way(self) -> Frame:
        """What was bowled in the frame that the next ball belongs to; empty before its first."""
        if not self.frames or is_finished(len(self.frames), self.frames[-1], self.counting):
            return ()
        return self.frames[-1]

    def with_ball(self, ball: Delivery) -> Self:
        """The game one ball later. Raises InvalidValueError where that ball is impossible."""
        under_way = self.frame_under_way
        before = self.frames[:-1] if under_way else self.frames
        return type(self)((*before, (*under_way, ball)))

    @property
    def running_scores(self) -> tuple[int | None, ...]:
        """Score after each frame; None from the first frame that still waits for a ball on."""
        balls = [ball.pins for frame in self.frames for ball in frame]
        totals: list[int | None] = []
        total, start = 0, 0
        for frame in self.frames:
            end = start + (3 if is_strike(frame) or is_spare(frame) else 2)
            if end > len(balls):
                break
            total += sum(balls[start:end])
            totals.append(total)
            start += len(frame)
        return (*totals, *[None] * (len(self.frames) - len(totals)))

    @property
    def score(self) -> int | None:
        """The final score; None while the game goes on."""
        return self.running_scores[-1] if self.is_complete else None

    @property
    def highest_possible(self) -> int:
        """Final score if every ball still to come takes all the pins that face it."""
        game = self
        while (score := game.score) is None:
            game = game.with_ball(Delivery(pins_standing(game.frame_under_way)))
        return score


def game_of(balls: Iterable[Delivery]) -> Game:
    """The game that these balls make in the order bowled."""
    return reduce(Game.with_ball, balls, Game())
