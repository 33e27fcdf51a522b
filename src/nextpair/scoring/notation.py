"""A game as it is written on a score sheet, read, checked and written.

X strike, / spare, - miss, F foul, digits for pins, a split in brackets. Frames are parted by
commas, or the balls simply follow each other. A hyphen between two balls of a frame, as in 7-2 or
F-9, only parts them.

Source: [facts] section 7: the example game of the world rule book is written so.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from nextpair.domain.errors import InvalidValueError, Problem, require
from nextpair.domain.format import Counting
from nextpair.scoring.current_frame import new_game
from nextpair.scoring.frames import (
    FRAMES,
    Delivery,
    Frame,
    Game,
    balls_at_rack,
    is_finished,
    pins_standing,
    require_next_ball,
)
from nextpair.scoring.leaves import PINS

BALL = re.compile(r"\([1-8]\)|[0-9XF/-]")
PARTED = re.compile(r"(\([1-8]\)|[0-9F])-([0-9F/])")
ALLOWED = "X, /, -, F, digits, and (1) to (8) for a ball that left a split"


def parse_game(text: str, counting: Counting = Counting.TRADITIONAL) -> Game:
    """The game written in `text`. Raises InvalidValueError at the first thing that is wrong."""
    game = new_game(counting)
    if "," in text:
        parts = _parts(text)
        frames = (_frame(n, part, n == len(parts), counting) for n, part in enumerate(parts, 1))
        return type(game)(tuple(frames))
    for symbol in _symbols("game", text):
        under_way = game.frame_under_way
        number = len(game.frames) + (not under_way)
        require(number <= FRAMES, "frame 11", symbol, f"{FRAMES} frames")
        game = game.with_ball(_ball(number, under_way, symbol, counting))
    return game


def game_text(game: Game) -> str:
    """The game as `parse_game` reads it: frames parted by commas, balls by spaces."""
    return ", ".join(" ".join(marks(frame)) for frame in game.frames)


def marks(frame: Frame) -> tuple[str, ...]:
    """The balls of a frame as they are written on a score sheet."""
    return tuple(_symbol(frame[:place], ball) for place, ball in enumerate(frame))


def game_problems(
    text: str,
    totals: Sequence[int | None] = (),
    file: str = "score sheet",
    counting: Counting = Counting.TRADITIONAL,
) -> tuple[Problem, ...]:
    """Everything wrong with a written game, frame by frame.

    `totals` are the running scores as written, None where none is. A total is wrong when it does
    not follow from the last total written before it, so one slip is told once.
    """
    problems = []
    parts = _parts(text) if "," in text else ()
    for number, part in enumerate(parts, start=1):
        try:
            _frame(number, part, number == len(parts), counting)
        except InvalidValueError as error:
            problems.append(_problem(error, file))
    if problems:
        return tuple(problems)
    try:
        game = parse_game(text, counting)
    except InvalidValueError as error:
        return (_problem(error, file),)
    return tuple(_wrong_totals(game, totals, file))


def _problem(error: InvalidValueError, file: str) -> Problem:
    return Problem(file, error.field, str(error.found), error.allowed)


def _wrong_totals(game: Game, totals: Sequence[int | None], file: str) -> Iterator[Problem]:
    written_before = counted_before = 0
    counts = (*game.running_scores, *[None] * (len(totals) - len(game.frames)))
    for number, (written, counted) in enumerate(zip(totals, counts, strict=False), start=1):
        if written is None:
            continue
        if counted is None:
            yield Problem(file, f"frame {number}", str(written), "no total yet: balls are missing")
            continue
        follows = written_before + counted - counted_before
        if written not in (follows, counted):
            yield Problem(file, f"frame {number}", str(written), str(follows))
        written_before, counted_before = written, counted


def _parts(text: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in text.strip().rstrip(",").split(","))


def _frame(number: int, text: str, is_last: bool, counting: Counting) -> Frame:
    field = f"frame {number}"
    require(number <= FRAMES, field, text, f"{FRAMES} frames")
    frame: Frame = ()
    for symbol in _symbols(field, text):
        is_over = is_finished(number, frame, counting)
        require(not is_over, field, text, f"{len(frame)} ball(s) here")
        frame = (*frame, _ball(number, frame, symbol, counting))
    require(
        bool(frame) and (is_last or is_finished(number, frame, counting)),
        field,
        text or "nothing",
        "two balls, or a strike, before the next frame",
    )
    return frame


def _symbols(field: str, text: str) -> Iterator[str]:
    for word in text.upper().split():
        parted = PARTED.fullmatch(word)
        symbols = parted.groups() if parted else BALL.findall(word)
        require(bool(parted) or "".join(symbols) == word, field, word, ALLOWED)
        yield from symbols


def _ball(number: int, frame: Frame, symbol: str, counting: Counting) -> Delivery:
    field = f"frame {number}"
    rack = balls_at_rack(frame)
    if symbol == "X":
        require(not rack, field, "X", "/ where a second ball takes the rest")
        ball = Delivery(PINS)
    elif symbol == "/":
        require(bool(rack), field, "/", "X where a first ball takes all ten pins")
        ball = Delivery(pins_standing(frame))
    elif symbol in "-F":
        ball = Delivery(0, foul=symbol == "F")
    else:
        ball = Delivery(int(symbol.strip("()")), split=symbol.startswith("("))
    require_next_ball(number, frame, ball, counting)
    return ball


def _symbol(frame: Frame, ball: Delivery) -> str:
    if ball.foul:
        return "F"
    if ball.pins == pins_standing(frame):
        return "/" if balls_at_rack(frame) else "X"
    if ball.split:
        return f"({ball.pins})"
    return str(ball.pins) if ball.pins else "-"
