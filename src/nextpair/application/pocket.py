"""The pocket of an event: what the phone carries, put together from the sheet and its like."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from uuid import UUID, uuid5

from nextpair.application.lane_tables import brought, lane_tables
from nextpair.application.packing_at_home import NOTHING_KEPT, PackedBy
from nextpair.application.ports import Progress, unwatched
from nextpair.application.sheets import plan
from nextpair.application.spare_plan import shoot_every_spare
from nextpair.domain.ball import Role
from nextpair.domain.event import Event
from nextpair.domain.pocket import Pocket, PocketBall, PocketEntrant, PocketField, PocketPair
from nextpair.domain.sheet import BagItem, Sheet
from nextpair.domain.spare import SpareSheet
from nextpair.scoring.leaves import FULL_RACK, leave_text, parse_leave, standing_pins

EVENTS_OF_FILES = UUID("6d1f0c1e-7a52-5c0b-9c55-0f6f2b5f0a11")
"""Namespace of the ids of events that are in no store."""


def pocket_of(
    event: Event,
    seed: int,
    made_at: str,
    event_id: UUID | None = None,
    progress: Progress = unwatched,
    *,
    sheet: Sheet | None = None,
    spares: SpareSheet | None = None,
    packed: PackedBy = NOTHING_KEPT,
) -> Pocket:
    """The pocket of an event, with the sheet and the spares that there are, or new ones.

    made_at : ISO 8601. event_id : of the store; without one it is told from name, day and bowler,
    so that the same event file always has the same. spares : shot with nothing but that sheet's
    bag, see `with_bag`. packed : by what is kept the packing list is made.
    """
    sheet = sheet or plan(event, seed, progress)
    progress("shooting at every leave", 0, 1)
    spares = spares or shoot_every_spare(with_bag(event, sheet.bag), seed)
    progress("shooting at every leave", 1, 1)
    patterns = dict.fromkeys((event.left_pattern.name, event.right_pattern.name))
    return Pocket(
        event_id=event_id or id_of_files(event),
        made_at=made_at,
        games=event.games,
        practice_minutes=event.practice_s / 60,
        surface_changes=event.surface_changes.value,
        ball_limit=event.ball_limit,
        pinfall=event.house.pinfall.value,
        pattern_names=tuple(patterns),
        pairs=tuple(_pairs(event)),
        balls=tuple(_balls(event, sheet)),
        sheet=sheet,
        spares=spares,
        alike=alike_leaves([card.leave for card in spares.spares]),
        reading=lane_tables(event, sheet, seed, progress),
        packing=packed.list_of(event, sheet.bag).for_others,
        field=field_of(event),
    )


def with_bag(event: Event, bag: Sequence[BagItem]) -> Event:
    """The event with nothing but its bag to throw, finished as the sheet says."""
    names = {item.ball for item in bag}
    spares = (ball for ball in event.locker if ball.role is Role.SPARE and ball.name in names)
    return replace(event, locker=(*brought(event, bag), *spares))


def id_of_files(event: Event) -> UUID:
    """The id of an event that is in no store."""
    return uuid5(EVENTS_OF_FILES, f"{event.date.isoformat()}|{event.name}|{event.bowler_name}")


def alike_leaves(known: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """For every leave that is not known the one that is most like it: among those with the same
    foremost pin, the one that fewest pins differ from. What cannot be told of stays out."""
    masks = [parse_leave(leave) for leave in known]
    found = []
    for leave in range(1, FULL_RACK + 1):
        front = standing_pins(leave)[0]
        near = [mask for mask in masks if standing_pins(mask)[0] == front]
        if leave not in masks and near:
            like = min(near, key=lambda mask: ((mask ^ leave).bit_count(), mask))
            found.append((leave_text(leave), leave_text(like)))
    return tuple(found)


def _pairs(event: Event) -> Iterator[PocketPair]:
    for game in range(1, event.games + 1):
        pair = event.pair_in_game(event.start_pair, game)
        yield PocketPair(game, str(pair), pair.lanes)


def field_of(event: Event) -> PocketField:
    """What tells where the bowler stands; of the prizes only how many there are."""
    squad = (PocketEntrant(one.name, str(one.pair), one.hand) for one in event.squad)
    return PocketField(
        format=event.format,
        cut_to=event.cut_to,
        entries=max(event.money.entries, len(event.squad)),
        places_paid=len(event.money.prizes),
        average=event.bowler.average,
        squad=tuple(squad),
    )


def _balls(event: Event, sheet: Sheet) -> Iterator[PocketBall]:
    """What is in the bag, in its order, then the rest of the locker."""
    owned = {ball.name: ball for ball in event.locker}
    for item in sheet.bag:
        ball = owned.pop(item.ball, None)
        if ball is not None:
            yield PocketBall(item.ball, item.surface_grit, ball.role.value, in_bag=True)
    for ball in owned.values():
        yield PocketBall(ball.name, ball.surface.named, ball.role.value, in_bag=False)
