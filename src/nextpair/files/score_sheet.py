"""Score sheets in CSV: a row a game, a row a ball, or the shots of a log.

A sheet by games has the frames in columns `1` to `10`, or the whole game as `balls`; one by balls
has the pins that stood, or only how many fell. Which it is its header says. A sheet is read whole
or refused with everything that is wrong, each at its row, game and frame.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from pydantic import Field, create_model

from nextpair.application.deliveries import SeenDelivery, seen_game
from nextpair.application.score_sheet import WrittenGame, problems_of
from nextpair.domain.errors import InvalidValueError, require_within
from nextpair.domain.format import Counting
from nextpair.domain.shot_log import FIRST_DELIVERY, MOST_DELIVERIES, PRACTICE
from nextpair.files import scores_file
from nextpair.files.csv_file import Row, header_of, read_rows
from nextpair.files.fields import CsvWhole, Text
from nextpair.files.forms import Form, fill, keys_of, make
from nextpair.files.intake import NOTHING, Intake, Source, Words
from nextpair.files.shots_file import COLUMNS as SHOT_COLUMNS
from nextpair.files.shots_file import NOBODY_LOOKED, Pins, standing_of
from nextpair.scoring.frames import FRAMES
from nextpair.scoring.leaves import PINS, pin_bit
from nextpair.scoring.notation import game_text, parse_game

LAST_GAME = 99
FRAME_COLUMNS = tuple(str(number) for number in range(1, FRAMES + 1))
TOTAL_COLUMNS = tuple(f"total_{number}" for number in FRAME_COLUMNS)
FOUL_WORDS = {"": False, "no": False, "false": False, "0": False,
              "yes": True, "true": True, "1": True, "f": True}  # fmt: skip


class WrittenGameRow(Form):
    """What a row of a game may have beside its frames."""

    name: Text = Field(default="", description="name of the bowler")
    game: CsvWhole = Field(description="game, from 1", examples=[1])
    balls: Text = Field(default="", description="the game as it is written, X, 7/, 9-")
    score: CsvWhole | None = Field(default=None, description="what the game came to")


_CELLS: dict[str, Any] = {
    f"frame_{number}": (Text, Field(default="", alias=number, description="marks of the frame"))
    for number in FRAME_COLUMNS
}
_CELLS |= {
    total: (CsvWhole | None, Field(default=None, description="running score as written"))
    for total in TOTAL_COLUMNS
}
GameRow = create_model("GameRow", __base__=WrittenGameRow, **_CELLS)
"""One row of a sheet by games."""


class DeliveryRow(Form):
    """One row of a sheet by balls; a log of shots has these and more."""

    name: Text = Field(default="", description="name of the bowler")
    game: CsvWhole = Field(description="game, 0 for practice", examples=[1])
    frame: CsvWhole = Field(description="frame of the game", examples=[1])
    delivery: CsvWhole = Field(description="ball of the frame", examples=[1])
    pins: CsvWhole | None = Field(default=None, description="pins that the ball took")
    standing_after: Text | None = Field(default=None, description="pins after the ball")
    standing_before: Text | None = Field(default=None, description="pins before the ball")
    foul: Text = Field(default="", description="whether it was a foul")
    total: CsvWhole | None = Field(default=None, description="running score after the frame")


GAME_COLUMNS = keys_of(GameRow)
BALL_COLUMNS = keys_of(DeliveryRow)
BY_BALLS = frozenset({"frame", "delivery"})
"""Columns of a sheet that has a row for each ball."""


def load_score_sheet(
    path: str | os.PathLike[str], counting: Counting = Counting.TRADITIONAL
) -> tuple[WrittenGame, ...]:
    """The games of a score sheet. Raises InputRefusedError with everything that is wrong, running
    scores that don't add up among it."""
    intake = Intake()
    source = Source.first(Path(path))
    header = header_of(source, intake)
    read = _games_by_balls if BY_BALLS & set(header) else _games_by_rows
    games = tuple(read(source, counting, intake)) if header else ()
    if not (games or intake.problems):
        intake.refuse(source, "rows", Words("no game whose balls are written"), "one or more")
    intake.close()
    return games


def _games_by_rows(source: Source, counting: Counting, intake: Intake) -> Iterator[WrittenGame]:
    columns = tuple(dict.fromkeys((*GAME_COLUMNS, *scores_file.COLUMNS)))
    may_lack = tuple(column for column in columns if column != "game")
    place_of: dict[tuple[str, int], str] = {}
    for row in read_rows(source, columns, intake, may_lack):
        cells = {key: cell for key, cell in row.cells.items() if key in GAME_COLUMNS}
        form = fill(GameRow, cells, source, intake, row.at)
        written = WrittenGame(
            name=form.name,
            game=make(_game_number, form, source, intake, row.at),
            balls=_balls(form, row, counting, source, intake),
            totals=tuple(getattr(form, total) for total in TOTAL_COLUMNS),
            score=form.score,
            places=(row.place,),
            file=str(source.path),
        )
        if not written.balls:
            continue
        bowled = written.name, written.game
        if bowled in place_of:
            found = Words(f"game {written.game} again, as in {place_of[bowled]}")
            intake.refuse(source, f"{row.at}game", found, "each game of a bowler once")
        place_of.setdefault(bowled, row.place)
        _check(written, counting, source, intake)
        yield written


def _game_number(form: WrittenGameRow) -> int:
    require_within("game", form.game, 1, LAST_GAME, "games")
    return form.game


def _balls(
    form: WrittenGameRow, row: Row, counting: Counting, source: Source, intake: Intake
) -> str:
    """The game as `balls` has it, or the frames' columns; both must say the same."""
    cells = [getattr(form, f"frame_{number}") for number in FRAME_COLUMNS]
    for number, cell in zip(FRAME_COLUMNS, cells, strict=True):
        if "," in cell:
            intake.refuse(source, f"{row.at}{number}", cell, "the marks of one frame")
            return ""
    while cells and not cells[-1]:
        cells.pop()
    by_frames = ", ".join(cells) + "," * bool(cells)
    if form.balls and by_frames and not _is_same(form.balls, by_frames, counting):
        intake.refuse(source, f"{row.at}balls", form.balls, "the game of the frames' columns")
    return by_frames or form.balls


def _is_same(balls: str, by_frames: str, counting: Counting) -> bool:
    """Whether two ways of writing a game agree; true where the frames themselves are wrong."""
    try:
        game = parse_game(by_frames, counting)
    except InvalidValueError:
        return True
    try:
        return parse_game(balls, counting) == game
    except InvalidValueError:
        return False


def _games_by_balls(source: Source, counting: Counting, intake: Intake) -> Iterator[WrittenGame]:
    columns = tuple(dict.fromkeys((*BALL_COLUMNS, *SHOT_COLUMNS)))
    may_lack = tuple(column for column in columns if column not in ("game", "frame", "delivery"))
    games: dict[tuple[str, int], list[SeenDelivery]] = {}
    totals: dict[tuple[str, int], dict[int, int]] = {}
    told = set()
    for row in read_rows(source, columns, intake, may_lack):
        if (content := frozenset(row.cells.items())) in told and "id" in row.cells:
            continue
        told.add(content)
        problems = len(intake.problems)
        cells = {key: cell for key, cell in row.cells.items() if key in BALL_COLUMNS}
        form = fill(DeliveryRow, cells, source, intake, row.at)
        seen = replace(make(_seen, form, source, intake, row.at), at=row.place)
        bowled = form.name, form.game
        if form.game != PRACTICE and len(intake.problems) == problems:
            games.setdefault(bowled, []).append(seen)
            if form.total is not None:
                totals.setdefault(bowled, {})[form.frame] = form.total
    for (name, game), deliveries in games.items():
        yield from _written(
            name, game, deliveries, totals.get((name, game), {}), counting, source, intake
        )


def _written(
    name: str,
    number: int,
    deliveries: list[SeenDelivery],
    totals: dict[int, int],
    counting: Counting,
    source: Source,
    intake: Intake,
) -> Iterator[WrittenGame]:
    """The game of some balls; none where one of them cannot be."""
    problems = len(intake.problems)
    seen = seen_game(deliveries, counting, _refuser(name, number, source, intake))
    if len(intake.problems) > problems:
        return
    written = WrittenGame(
        name=name,
        game=number,
        balls=game_text(seen.game) + ",",
        totals=tuple(totals.get(frame) for frame in range(1, FRAMES + 1)),
        leaves=seen.leaves,
        places=seen.places,
        file=str(source.path),
    )
    _check(written, counting, source, intake)
    yield written


def _refuser(
    name: str, game: int, source: Source, intake: Intake
) -> Callable[[SeenDelivery, InvalidValueError], None]:
    who = f" of {name}" if name else ""

    def refuse(seen: SeenDelivery, wrong: InvalidValueError) -> None:
        where = f"game {game}{who}, frame {seen.frame}, delivery {seen.delivery}"
        found = Words(wrong.found) if isinstance(wrong.found, str) else wrong.found
        field = "" if wrong.field.startswith(("frame ", "delivery")) else f": {wrong.field}"
        intake.refuse(source, f"{seen.at}: {where}{field}", found, wrong.allowed)

    return refuse


def _seen(form: DeliveryRow) -> SeenDelivery:
    require_within("game", form.game, PRACTICE, LAST_GAME, "games")
    require_within("frame", form.frame, 1, FRAMES, "frames")
    require_within("delivery", form.delivery, FIRST_DELIVERY, MOST_DELIVERIES, "deliveries")
    if form.pins is not None:
        require_within("pins", form.pins, 0, PINS, "pins")
    foul = FOUL_WORDS.get(form.foul.casefold())
    if foul is None:
        raise InvalidValueError("foul", form.foul, "yes or no")
    # Beside pins that were counted, an empty cell of what stood says nothing.
    is_told = not foul and (form.pins is None or form.standing_after is not None)
    before, after = standing_of(
        form.delivery, form.standing_before, form.standing_after if is_told else NOBODY_LOOKED
    )
    return SeenDelivery(
        frame=form.frame,
        delivery=form.delivery,
        before=_mask(before) if form.standing_before else None,
        after=_mask(after),
        pins=form.pins,
        foul=foul,
    )


def _mask(pins: Pins) -> int | None:
    return None if pins is None else sum(pin_bit(pin) for pin in pins)


def _check(written: WrittenGame, counting: Counting, source: Source, intake: Intake) -> None:
    for problem in problems_of(written, counting):
        found = Words(problem.found) if problem.found else NOTHING
        intake.refuse(source, problem.place, found, problem.allowed)
