"""Racks as a bowler met them, of logged shots or of a written game."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby, zip_longest

from nextpair.application.shot_jottings import NotedShot
from nextpair.domain.bowler import Hand
from nextpair.domain.format import Counting
from nextpair.domain.lane import CENTRE_BOARD
from nextpair.domain.shot_log import FIRST_DELIVERY, FRAMES, PRACTICE, LoggedShot
from nextpair.scoring.current_frame import new_game
from nextpair.scoring.frames import Delivery, Game, balls_at_rack, delivery_between
from nextpair.scoring.leaves import FULL_RACK, PINS, LeaveKind, leave_kind, pin_bit, pin_count
from nextpair.scoring.statistics import racks

POCKET_BOARDS = (1.4, 4.15)
"""How far to the bowler's side of the head pin the middle of a ball in the pocket crosses the head
pin's row: half way from a high hit to a high pocket, and from a light one to a very light one.
Source: common practice; flush is 2.5 boards, [facts] section 5."""


@dataclass(frozen=True, slots=True)
class MetRack:
    """Ten pins, and what one or two balls did to them.

    place : 0 to 9 for the racks of the frames, 10 and 11 for those of fill balls.
    leave : what the first ball left, as a mask; None where only its count is known.
    second : None where nobody threw one, or nobody looked.
    shot, second_shot : as they were logged; None of a written game.
    """

    game: int
    place: int
    first: Delivery
    leave: int | None
    second: Delivery | None = None
    shot: LoggedShot | None = None
    second_shot: LoggedShot | None = None

    @property
    def frame(self) -> int:
        """Frame of the rack, 1 to 10."""
        return min(self.place + 1, FRAMES)

    @property
    def is_strike(self) -> bool:
        """Whether the first ball took all ten."""
        return self.first.pins == PINS

    @property
    def is_spare(self) -> bool:
        """Whether the second ball took what the first had left."""
        return self.second is not None and self.first.pins + self.second.pins == PINS

    @property
    def is_frame_over(self) -> bool:
        """Whether it is a frame's first rack and the frame's mark, or want of one, is known."""
        return self.place < FRAMES and (self.is_strike or self.second is not None)

    @property
    def kind(self) -> LeaveKind | None:
        """Kind of its leave; None where it left none, or that is not known."""
        if self.is_strike:
            return None
        if self.leave is not None:
            return leave_kind(self.leave)
        if self.first.pins == PINS - 1:
            return LeaveKind.SINGLE_PIN
        return LeaveKind.SPLIT if self.first.split else None

    def own_entry_boards(self, hand: Hand) -> float | None:
        """How far to the bowler's side of the head pin the first ball came in, where seen."""
        if self.shot is None or self.shot.entry_board is None:
            return None
        return hand.sign * (CENTRE_BOARD - self.shot.entry_board)

    def in_pocket(self, hand: Hand) -> bool | None:
        """Whether the first ball was in the pocket; None where nobody saw it."""
        boards = self.own_entry_boards(hand)
        return None if boards is None else POCKET_BOARDS[0] <= boards <= POCKET_BOARDS[1]


def racks_of_game(
    number: int, game: Game, leaves: Sequence[Sequence[int | None]] = ()
) -> tuple[MetRack, ...]:
    """Racks of a written game; `leaves` are what stood after each ball of its frames, None where
    that is not known. Of a ball that took all or nothing it is known anyway."""
    left = _first_leaves(game, leaves)
    return tuple(
        MetRack(
            number,
            place,
            rack.first,
            {PINS: 0, 0: FULL_RACK}.get(rack.first.pins, leave),
            rack.second,
        )
        for place, (rack, leave) in enumerate(zip(racks(game), left, strict=False))
    )


def racks_of_shots(shots: Iterable[NotedShot]) -> tuple[MetRack, ...]:
    """Racks of logged shots in the order met, practice left out. Where nobody looked, or pins
    stand that cannot, the rest of that frame is left out."""
    played = sorted((noted for noted in shots if noted.shot.game != PRACTICE), key=_place)
    frames = groupby(played, key=lambda noted: noted.place[:2])
    return tuple(rack for _, of_frame in frames for rack in _racks_of_frame(tuple(of_frame)))


def follows(before: MetRack, rack: MetRack) -> bool:
    """Whether a rack is the next one of the same game."""
    return (rack.game, rack.place) == (before.game, before.place + 1)


def game_of_racks(
    racks: Sequence[MetRack], counting: Counting = Counting.TRADITIONAL
) -> Game | None:
    """The finished game that racks of one game make; None where some are missing."""
    game = new_game(counting)
    for place, rack in enumerate(racks):
        if rack.place != place or game.is_complete:
            return None
        game = game.with_ball(rack.first)
        if rack.second is not None:
            game = game.with_ball(rack.second)
        elif game.frame_under_way and not rack.is_strike:
            return None
    return game if game.is_complete else None


def _first_leaves(game: Game, leaves: Sequence[Sequence[int | None]]) -> Iterator[int | None]:
    """What first balls left, rack by rack."""
    for frame, told in zip_longest(game.frames, leaves, fillvalue=()):
        for ball, (_, leave) in enumerate(zip_longest(frame, told)):
            if not balls_at_rack(frame[:ball]):
                yield leave


def _place(noted: NotedShot) -> tuple[int, int, int]:
    return noted.place


def _racks_of_frame(shots: Sequence[NotedShot]) -> Iterator[MetRack]:
    balls = {noted.shot.delivery: noted for noted in reversed(shots)}
    delivery = FIRST_DELIVERY
    place = shots[0].shot.frame - 1
    while (rack := _rack(balls, delivery, place)) is not None:
        yield rack
        if place < FRAMES - 1 or not (rack.is_strike or rack.is_spare):
            return
        delivery += 1 if rack.is_strike else 2
        place += 1


def _rack(balls: Mapping[int, NotedShot], delivery: int, place: int) -> MetRack | None:
    """The rack whose first ball is a delivery; None where that is not known."""
    first = balls.get(delivery)
    leave = None if first is None else _left(first, FULL_RACK)
    if first is None or leave is None:
        return None
    rack = MetRack(
        first.shot.game,
        place,
        delivery_between(FULL_RACK, leave, first.foul),
        leave,
        shot=first.shot,
    )
    second = balls.get(delivery + 1)
    left = None if second is None or not leave else _left(second, leave)
    if second is None or left is None:
        return rack
    taken = Delivery(pin_count(leave) - pin_count(left), second.foul)
    return replace(rack, second=taken, second_shot=second.shot)


def _left(noted: NotedShot, before: int) -> int | None:
    """What a ball left of the pins before it; None where nobody looked or it cannot be."""
    shot = noted.shot
    if shot.standing_before is not None and _mask(shot.standing_before) != before:
        return None
    if noted.foul:
        return before
    if shot.standing_after is None or _mask(shot.standing_after) & ~before:
        return None
    return _mask(shot.standing_after)


def _mask(pins: Iterable[int]) -> int:
    return sum(map(pin_bit, pins))
