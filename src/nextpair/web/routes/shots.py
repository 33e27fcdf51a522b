"""One shot, tried at once; and one leave."""

from __future__ import annotations

from threading import Lock
from typing import Annotated
from uuid import UUID

from fastapi import APIRouter, Query
from pydantic import Field

from nextpair.application.store import Account
from nextpair.domain.errors import require_within
from nextpair.domain.event import Event
from nextpair.domain.spare import SpareSheet
from nextpair.files.results import result_of
from nextpair.reports.pocket_json import spare_document
from nextpair.reports.sheet_json import path_with_film, plain
from nextpair.web.home import Home
from nextpair.web.visitor import Here, Visitor
from nextpair.web.wire import Count, Json, Quantity, Text, Wire, YesOrNo

router = APIRouter(tags=["shots"])
ONE_LEAVE_AT_A_TIME = Lock()
"""A leave that no kept result has is rolled at here, which takes a core for a second."""


class Shot(Wire):
    """One shot of the event's bowler. `game` is the film as that game starts, by the newest sheet;
    without it the film as laid."""

    ball: Text
    laydown_board: Quantity
    launch_angle_deg: Quantity
    lane: Count | None = None
    game: Count | None = None
    surface_grit: Count | Annotated[str, Field(pattern="^polished$")] | None = None
    by_hand: YesOrNo = False
    speed_mph: Quantity | None = None
    axis_rotation_deg: Quantity | None = None


class Leave(Wire):
    """Pins that stand, as "3-10"."""

    leave: Text


@router.post("/events/{id}/try")
def try_shot(
    id: UUID,
    body: Shot,
    home: Here,
    account: Visitor,
    moves: Annotated[bool, Query(description="with what would move it")] = False,
) -> Json:
    """The shot's path, entry, leaves, and the film that it rolls on."""
    event = home.events.event(account.id, home.events.at_hand(account.id, id))
    lane = body.lane
    film = None
    if body.game is not None:
        pair = event.pair_in_game(event.start_pair, _game(event, body.game))
        lane = pair.left_lane if lane is None else lane
        film = home.events.film_units(account.id, event, id, lane, body.game)
    card = home.program.roll_one(
        event,
        body.ball,
        body.laydown_board,
        body.launch_angle_deg,
        lane=lane,
        speed_mph=body.speed_mph,
        axis_rotation_deg=body.axis_rotation_deg,
        surface=body.surface_grit,
        by_hand=body.by_hand,
        film_units=film,
        with_moves=moves,
    )
    return path_with_film(card)


@router.post("/events/{id}/spare")
def spare(id: UUID, body: Leave, home: Here, account: Visitor) -> Json:
    """How to shoot one leave: from what is kept, else rolled now."""
    at_hand = home.events.at_hand(account.id, id)
    event = home.events.event(account.id, at_hand)
    kept = _kept_spares(home, account, id, at_hand.inputs)
    asked = body.leave.strip()
    if kept is None or all(card.leave != asked for card in kept.spares):
        with ONE_LEAVE_AT_A_TIME:
            kept = home.program.shoot_spares(event, asked, home.program.settings.seed)
    card = next((one for one in kept.spares if one.leave == asked), kept.spares[0])
    whole: Json = plain(card)
    return spare_document(card) | whole


def _kept_spares(home: Home, account: Account, id: UUID, inputs: str) -> SpareSheet | None:
    computed = home.store.computed(account.id, id, "spares")
    if computed is None or computed.inputs != inputs:
        return None
    return result_of(SpareSheet, computed.document)


def _game(event: Event, game: int) -> int:
    require_within("game", game, 1, event.games, "games of the event")
    return game
