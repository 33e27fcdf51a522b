"""shots.csv: the shots that a bowler logged at an event.

Of pins, `1-2-10` is what stood, `0` that nothing stood and `?` that nobody looked. An empty cell
is told by the other: both empty, nobody looked; `standing_after` beside pins that stood is a clean
deck; `standing_before` of a first ball is the full rack.
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path
from uuid import UUID

from pydantic import Field

from nextpair.domain.errors import InvalidValueError
from nextpair.domain.event import Event
from nextpair.domain.shot_log import FIRST_DELIVERY, LoggedShot
from nextpair.files.csv_file import Row, csv_text, read_rows
from nextpair.files.fields import CsvNumber, CsvWhole, Grit, Id, Moment, Text
from nextpair.files.forms import Form, fill, keys_of, make
from nextpair.files.intake import Intake, Source, Words, did_you_mean
from nextpair.scoring.leaves import FULL_RACK, parse_leave, standing_pins

NOBODY_LOOKED = "?"
NOTHING_STOOD = "0"
_BOARD = "board from the right edge"
_ANY_ID = str(UUID(int=0))

Pins = frozenset[int] | None


class ShotRow(Form):
    """One row of shots.csv; an empty cell was not seen."""

    id: Id = Field(description="a UUID made where the shot was logged", examples=[_ANY_ID])
    time: Moment = Field(default="", description="when it was thrown")
    game: CsvWhole = Field(description="game, 0 for practice", examples=[1])
    frame: CsvWhole = Field(description="frame of the game", examples=[1])
    delivery: CsvWhole = Field(description="ball of the frame", examples=[FIRST_DELIVERY])
    lane: CsvWhole = Field(description="lane it was thrown on", examples=[1])
    ball: Text = Field(description="name of the ball", examples=["a ball"])
    laydown_board: CsvNumber | None = Field(default=None, description=_BOARD)
    target_board: CsvNumber | None = Field(default=None, description=_BOARD)
    speed_mph: CsvNumber | None = Field(default=None, description="speed at release")
    breakpoint_board: CsvNumber | None = Field(default=None, description=_BOARD)
    entry_board: CsvNumber | None = Field(default=None, description=_BOARD)
    standing_before: Text | None = Field(default=None, description="pins before the ball")
    standing_after: Text | None = Field(default=None, description="pins after the ball")
    note: Text = Field(default="", description="anything")
    meant_laydown_board: CsvNumber | None = Field(default=None, description=_BOARD)
    meant_target_board: CsvNumber | None = Field(default=None, description=_BOARD)
    surface_grit: Grit | None = Field(default=None, description="grit put on, or polished")


COLUMNS = keys_of(ShotRow)
MAY_LACK = ("meant_laydown_board", "meant_target_board", "surface_grit")


def load_shots(path: str | os.PathLike[str], event: Event) -> tuple[LoggedShot, ...]:
    """The shots of an event's log, each once, in the file's order.

    Raises InputRefusedError with every problem: what is no shot, a ball that is not in the locker,
    a game that is not bowled, a lane that is not its pair's, and an id that stands for two shots.
    """
    intake = Intake()
    shots = read_shots(Source.first(Path(path)), event, intake)
    intake.close()
    return shots


def read_shots(source: Source, event: Event, intake: Intake) -> tuple[LoggedShot, ...]:
    """The shots of a file, wherever it lies."""
    shots: dict[UUID, LoggedShot] = {}
    place_of: dict[UUID, str] = {}
    unknown_balls: set[str] = set()
    for row in read_rows(source, COLUMNS, intake, MAY_LACK):
        problems = len(intake.problems)
        shot = _logged(row, source, event, unknown_balls, intake)
        if shot.ball in unknown_balls or len(intake.problems) > problems:
            continue
        if shots.setdefault(shot.id, shot) != shot:
            found = Words(f"{shot.id} again, as in {place_of[shot.id]}, with other content")
            intake.refuse(source, f"{row.at}id", found, "one id for each shot")
        place_of.setdefault(shot.id, row.place)
    return tuple(shots.values())


def shots_text(shots: Iterable[LoggedShot]) -> str:
    """The file of some shots, with every column; read again, they are the same."""
    return csv_text(
        COLUMNS, ({column: _cell(shot, column) for column in COLUMNS} for shot in shots)
    )


def _cell(shot: LoggedShot, column: str) -> str:
    value = getattr(shot, column)
    if column in ("standing_before", "standing_after"):
        looked = shot.standing_before is not None or shot.standing_after is not None
        return _pins_cell(value) if looked else ""
    return "" if value is None else str(value)


def _pins_cell(pins: Pins) -> str:
    if pins is None:
        return NOBODY_LOOKED
    return "-".join(str(pin) for pin in sorted(pins)) or NOTHING_STOOD


def _logged(
    row: Row, source: Source, event: Event, unknown_balls: set[str], intake: Intake
) -> LoggedShot:
    """The shot of a row. A ball that is not in the locker is told at its first shot alone."""
    at = row.at
    form = fill(ShotRow, row.cells, source, intake, at)
    _check_game_and_lane(form, event, source, intake, at)
    names = {ball.name.casefold(): ball.name for ball in event.locker}
    ball = names.get(form.ball.casefold())
    if ball is None and form.ball not in unknown_balls:
        unknown_balls.add(form.ball)
        hint = did_you_mean(form.ball, list(names.values()))
        allowed = f"{hint}a ball of the locker: {', '.join(names.values())}"
        intake.refuse(source, f"{at}ball", form.ball, allowed)
    return make(_shot, form.model_copy(update={"ball": ball or form.ball}), source, intake, at)


def _check_game_and_lane(
    form: ShotRow, event: Event, source: Source, intake: Intake, at: str
) -> None:
    if not 0 <= form.game <= event.games:
        allowed = f"0 (practice) to {event.games}, the games of the event"
        intake.refuse(source, f"{at}game", form.game, allowed)
        return
    pair = event.pair_in_game(event.start_pair, max(form.game, 1))
    if form.lane not in pair.lanes:
        where = f"of game {form.game}" if form.game else "of practice"
        intake.refuse(source, f"{at}lane", form.lane, f"a lane of {pair}, the pair {where}")


def _shot(form: ShotRow) -> LoggedShot:
    before, after = standing_of(form.delivery, form.standing_before, form.standing_after)
    return LoggedShot(
        **form.model_dump(exclude={"standing_before", "standing_after"}),
        standing_before=before,
        standing_after=after,
    )


def standing_of(delivery: int, before: str | None, after: str | None) -> tuple[Pins, Pins]:
    """Pins before and after a delivery by its cells, by the rules at the head of this module.
    Raises InvalidValueError."""
    if before is None and after is None:
        return None, None
    first = delivery == FIRST_DELIVERY
    return (
        _pins("standing_before", before, FULL_RACK if first else None),
        _pins("standing_after", after, None if before == NOBODY_LOOKED else 0),
    )


def _pins(field: str, text: str | None, if_empty: int | None) -> Pins:
    if text is None:
        return None if if_empty is None else frozenset(standing_pins(if_empty))
    if text == NOBODY_LOOKED:
        return None
    try:
        leave = 0 if text == NOTHING_STOOD else parse_leave(text)
    except InvalidValueError as wrong:
        allowed = f"{wrong.allowed}, {NOTHING_STOOD} for none or {NOBODY_LOOKED} for not seen"
        raise InvalidValueError(field, text, allowed) from wrong
    return frozenset(standing_pins(leave))
