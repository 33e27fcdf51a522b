"""Games entered by counts: checked while they are written, and kept."""

from __future__ import annotations

import re
from typing import Annotated
from uuid import UUID

from fastapi import APIRouter
from pydantic import BaseModel, BeforeValidator, Field

from nextpair.application.entered_games import checked_game, enter_game
from nextpair.application.keeping import record_of
from nextpair.application.score_sheet import WrittenGame
from nextpair.domain.errors import InputRefusedError
from nextpair.domain.field_score import HIGHEST, MOST_GAMES
from nextpair.domain.format import Counting
from nextpair.domain.record import Kind
from nextpair.web.errors import problems_of
from nextpair.web.routes.log import Receipts, told_receipts
from nextpair.web.routes.scores import FrameOut, counting_of
from nextpair.web.visitor import Here, Visitor
from nextpair.web.wire import ProblemOut, Text, Wire, as_number

router = APIRouter(prefix="/events/{id}/games", tags=["scores"])
FRAME = re.compile(r"frame (\d+)$")

GameNumber = Annotated[int, Field(ge=1, le=MOST_GAMES), BeforeValidator(as_number)]
Handicap = Annotated[int, Field(ge=0, le=HIGHEST), BeforeValidator(as_number)]


class CheckIn(Wire):
    """A game as it is written, perhaps under way: X, 7/, 9-, frames parted by commas. Left out,
    the counting is the event's."""

    game: GameNumber = 1
    balls: Text
    counting: Counting | None = None


class GameIn(Wire):
    """A whole game, of the event's bowler where nobody is named."""

    name: Text | None = None
    game: GameNumber
    balls: Text
    handicap: Handicap | None = None


class FrameProblemOut(ProblemOut):
    """Something wrong with a game, and in which frame; null where that cannot be told."""

    frame: int | None


class CheckedGameOut(BaseModel):
    """A game as far as it can be read, what it can still come to, and everything wrong with it."""

    game: int
    frames: list[FrameOut]
    total: int | None
    so_far: int
    max_possible: int
    min_possible: int
    pace: int | None
    expected_finish: float | None
    problems: list[FrameProblemOut]


@router.post("/check")
def check_game(id: UUID, body: CheckIn, home: Here, account: Visitor) -> CheckedGameOut:
    """A game looked at while it is written; nothing is kept."""
    event = record_of(home.store, account.id, Kind.EVENT, id).document
    written = WrittenGame(str(event.get("bowler_name")), body.game, body.balls)
    counting = body.counting or counting_of(event)
    game = checked_game(written, counting, home.store.log(account.id, id))
    told = problems_of(InputRefusedError(game.problems))
    return CheckedGameOut(
        game=game.game,
        frames=[FrameOut.model_validate(frame, from_attributes=True) for frame in game.frames],
        total=game.total,
        so_far=game.so_far,
        max_possible=game.max_possible,
        min_possible=game.min_possible,
        pace=game.pace,
        expected_finish=game.expected_finish,
        problems=[FrameProblemOut(**one, frame=_frame(one["place"])) for one in told],
    )


@router.post("")
def take_in_game(id: UUID, body: GameIn, home: Here, account: Visitor) -> Receipts:
    """Write a whole game down, in the place of what the log holds of it."""
    event = record_of(home.store, account.id, Kind.EVENT, id).document
    name = (body.name or str(event.get("bowler_name"))).strip()
    written = WrittenGame(name, body.game, body.balls)
    receipt = enter_game(home.store, account.id, id, written, counting_of(event), body.handicap)
    return told_receipts((receipt,))


def _frame(place: str) -> int | None:
    found = FRAME.search(place)
    return int(found[1]) if found else None
