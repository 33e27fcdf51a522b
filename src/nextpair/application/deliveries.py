"""Deliveries as somebody saw them: the game that they make, and what each of them left.

Pins may be seen as a leave, or only counted. What stands in a frame is what the ball before it
left, so of every leave one telling is enough, and two must agree.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from nextpair.domain.errors import InvalidValueError, require
from nextpair.domain.format import Counting
from nextpair.scoring.current_frame import new_game
from nextpair.scoring.frames import (
    FRAMES,
    Delivery,
    Frame,
    Game,
    balls_at_rack,
    delivery_between,
    is_finished,
    pins_standing,
    require_next_ball,
)
from nextpair.scoring.leaves import FULL_RACK, PINS, leave_text, pin_count

Leave = int | None
"""A mask of standing pins; None where they were only counted."""


@dataclass(frozen=True, slots=True)
class SeenDelivery:
    """One ball: `before` and `after` are what stood, `pins` how many it took, each None where
    nobody wrote it down. `at` is where it is written."""

    frame: int
    delivery: int
    before: Leave = None
    after: Leave = None
    pins: int | None = None
    foul: bool = False
    at: str = ""


Refuse = Callable[[SeenDelivery, InvalidValueError], None]


@dataclass(frozen=True, slots=True)
class SeenGame:
    """A game, and frame by frame what stood after each of its balls."""

    game: Game
    leaves: tuple[tuple[Leave, ...], ...]
    places: tuple[str, ...]
    """Where the last ball of each frame is written."""


@dataclass(frozen=True, slots=True)
class LeaveShot:
    """What a first ball left, and whether the next ball took it; None where there was none."""

    frame: int
    leave: int
    made: bool | None


def seen_game(deliveries: Iterable[SeenDelivery], counting: Counting, refuse: Refuse) -> SeenGame:
    """The game that deliveries make, in whatever order they come, up to the first one that cannot
    be; that one is refused."""
    frames: list[Frame] = []
    under_way: Frame = ()
    standing: Leave = FULL_RACK
    leaves: dict[int, list[Leave]] = {}
    places: dict[int, str] = {}
    for seen in sorted(deliveries, key=lambda one: (one.frame, one.delivery)):
        number = len(frames) + 1
        try:
            _require_place(seen, number, len(under_way) + 1)
            ball, after = _ball(seen, standing, under_way)
            require_next_ball(number, under_way, ball, counting)
        except InvalidValueError as wrong:
            refuse(seen, wrong)
            break
        leaves.setdefault(number, []).append(after)
        places[number] = seen.at
        under_way = (*under_way, ball)
        standing = after if balls_at_rack(under_way) else FULL_RACK
        if is_finished(number, under_way, counting):
            frames.append(under_way)
            under_way, standing = (), FULL_RACK
    begun = [under_way] if under_way else []
    game = type(new_game(counting))((*frames, *begun))
    return SeenGame(game, tuple(map(tuple, leaves.values())), tuple(places.values()))


def leave_shots(game: Game, leaves: Sequence[Sequence[Leave]]) -> Iterator[LeaveShot]:
    """The leaves of a game that are known, in order; a foul leaves nothing of its own."""
    for number, (frame, after) in enumerate(zip(game.frames, leaves, strict=False), start=1):
        for place, (ball, leave) in enumerate(zip(frame, after, strict=False)):
            is_first = not balls_at_rack(frame[:place])
            if is_first and leave and not ball.foul:
                yield LeaveShot(number, leave, _made(frame, place))


def _made(frame: Frame, place: int) -> bool | None:
    following = frame[place + 1 : place + 2]
    return frame[place].pins + following[0].pins == PINS if following else None


def _ball(seen: SeenDelivery, standing: Leave, under_way: Frame) -> tuple[Delivery, Leave]:
    """A ball after those under way, at `standing` where it is known which, and what it left."""
    count = pins_standing(under_way)
    before = standing if standing is not None else seen.before
    if seen.before is not None:
        found = leave_text(seen.before) or "no pin"
        told = _pins(count) if standing is None else leave_text(standing)
        fits = pin_count(seen.before) == count if standing is None else seen.before == standing
        require(fits, "standing_before", found, f"{told}, what the ball before it left")
    if seen.foul:
        require(not seen.pins, "pins", seen.pins, "0 on a foul: its pins do not count")
        return Delivery(0, foul=True), before
    if seen.after is None:
        if seen.pins is None:
            raise InvalidValueError("standing_after", "nothing", "the pins that stood, or `pins`")
        taken = seen.pins
        known = {0: before, count: 0}.get(taken)
        return Delivery(taken), known
    if before is None:
        fits, allowed = pin_count(seen.after) <= count, f"{_pins(count)} or fewer"
    else:
        fits = not seen.after & ~before
        allowed = f"pins of {leave_text(before)}, which stood before"
    require(fits, "standing_after", leave_text(seen.after), allowed)
    ball = (
        Delivery(count - pin_count(seen.after))
        if before is None
        else delivery_between(before, seen.after, is_first=not balls_at_rack(under_way))
    )
    agrees = seen.pins in (None, ball.pins)
    require(agrees, "pins", seen.pins, f"{ball.pins}, by the pins that stood")
    return ball, seen.after


def _require_place(seen: SeenDelivery, frame: int, delivery: int) -> None:
    found = f"{_named(seen.frame, seen.delivery)} next"
    allowed = _named(frame, delivery) if frame <= FRAMES else "nothing: the game is over"
    require((seen.frame, seen.delivery) == (frame, delivery), "delivery", found, allowed)


def _pins(count: int) -> str:
    return f"{count} pin{'s' * (count != 1)}"


def _named(frame: int, delivery: int) -> str:
    return f"frame {frame}, delivery {delivery}"
