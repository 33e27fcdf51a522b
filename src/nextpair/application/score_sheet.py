"""A score sheet checked and scored, game by game and frame by frame."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass

from nextpair.application.deliveries import Leave, LeaveShot, leave_shots
from nextpair.domain.errors import InvalidValueError, Problem, require
from nextpair.domain.format import Counting
from nextpair.domain.statistics import GameStatistics
from nextpair.scoring.averages import average
from nextpair.scoring.current_frame import new_game
from nextpair.scoring.frames import FRAMES, Game
from nextpair.scoring.leaves import leave_kind, leave_name, leave_text
from nextpair.scoring.notation import game_problems, marks, parse_game
from nextpair.scoring.series import series_total
from nextpair.scoring.statistics import Counts, counts
from nextpair.scoring.unfinished import expected_finish, lowest_possible, odds_of_counts, pace

MOST_PARTS = 30
"""Of a game as it is written: its balls are fewer."""


@dataclass(frozen=True, slots=True)
class WrittenGame:
    """A game as it is written down.

    balls : marks as `scoring.notation` reads them.
    totals : running scores as written, None where none is; `score` what it came to.
    leaves : frame by frame what stood after each ball, where it is known.
    places : where in the file each frame is written; the last one holds for those after it.
    """

    name: str
    game: int
    balls: str
    totals: tuple[int | None, ...] = ()
    score: int | None = None
    leaves: tuple[tuple[Leave, ...], ...] = ()
    places: tuple[str, ...] = ()
    file: str = "score sheet"


@dataclass(frozen=True, slots=True)
class FrameLeave:
    """What a first ball left: `made` is None where no second ball followed, or not yet."""

    pins: str
    name: str | None
    kind: str
    made: bool | None


@dataclass(frozen=True, slots=True)
class ScoredFrame:
    """A frame as it is written: its balls, the score after it once that is known, and what its
    first balls left, where somebody looked."""

    marks: tuple[str, ...]
    total: int | None
    left: tuple[FrameLeave, ...]


@dataclass(frozen=True, slots=True)
class ScoredGame:
    """A game checked and scored. `pace` and `expected_finish` are told of a game under way."""

    name: str
    game: int
    frames: tuple[ScoredFrame, ...]
    total: int | None
    so_far: int
    max_possible: int
    min_possible: int
    pace: int | None
    expected_finish: float | None
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True)
class BowlerSheet:
    """Somebody's games; the series and the average are those of the finished ones. What the games
    say is `statistics`, where it was asked for."""

    name: str
    games: tuple[ScoredGame, ...]
    finished: int
    series: int
    average: int | None
    counts: Counts
    statistics: GameStatistics | None = None


@dataclass(frozen=True, slots=True)
class ScoreSheet:
    """What a score sheet says, and every problem with it: a game with one is told as it is read,
    up to the first ball that cannot be."""

    counting: str
    bowlers: tuple[BowlerSheet, ...]
    problems: tuple[Problem, ...]


def score_sheet(
    written: Sequence[WrittenGame],
    counting: Counting = Counting.TRADITIONAL,
    name: str | None = None,
) -> ScoreSheet:
    """The games of a sheet, of everybody or of one bowler, by name and number. Raises
    InvalidValueError for a name that the sheet does not hold."""
    names = dict.fromkeys(game.name for game in written)
    if name is not None:
        known = [one for one in names if one.casefold() == name.strip().casefold()]
        named = ", ".join(filter(None, names)) or "none: the sheet names nobody"
        require(bool(known), "name", name, f"a bowler of the sheet: {named}")
        names = dict.fromkeys(known)
    bowlers = tuple(
        _bowler(one, [game for game in written if game.name == one], counting) for one in names
    )
    problems = (problem for one in bowlers for game in one.games for problem in game.problems)
    return ScoreSheet(counting.value, bowlers, tuple(problems))


def problems_of(written: WrittenGame, counting: Counting) -> Iterator[Problem]:
    """Everything wrong with a written game, told at its place, game and frame."""
    totals = [*written.totals, *[None] * (FRAMES - len(written.totals))]
    total, score = totals[-1], written.score
    if total is None:
        totals[-1] = score
    for found in game_problems(written.balls, totals, written.file, counting):
        yield Problem(written.file, _place(written, found.place), found.found, found.allowed)
    if total is not None and score is not None and score != total:
        place = _place(written, "score", FRAMES)
        yield Problem(written.file, place, str(score), f"{total}, the total of frame {FRAMES}")


def _bowler(name: str, written: Sequence[WrittenGame], counting: Counting) -> BowlerSheet:
    in_order = sorted(written, key=lambda game: game.game)
    read = [_read(game, counting) for game in in_order]
    own = counts(read)
    games = tuple(
        _scored(game, as_read, own, tuple(problems_of(game, counting)))
        for game, as_read in zip(in_order, read, strict=True)
    )
    finished = [game.total for game in games if game.total is not None and not game.problems]
    return BowlerSheet(
        name=name,
        games=games,
        finished=len(finished),
        series=series_total(finished),
        average=average(sum(finished), len(finished)) if finished else None,
        counts=own,
    )


def _read(written: WrittenGame, counting: Counting) -> Game:
    """The game up to what cannot be read."""
    mark = "," if "," in written.balls else " "
    parts = written.balls.split(mark)[:MOST_PARTS]
    for count in range(len(parts), 0, -1):
        with suppress(InvalidValueError):
            return parse_game(mark.join((*parts[:count], "")), counting)
    return new_game(counting)


def _scored(
    written: WrittenGame, game: Game, own: Counts, problems: tuple[Problem, ...]
) -> ScoredGame:
    running = game.running_scores
    known = [total for total in running if total is not None]
    left = tuple(leave_shots(game, written.leaves))
    under_way = not game.is_complete
    return ScoredGame(
        name=written.name,
        game=written.game,
        frames=tuple(
            ScoredFrame(
                marks(frame),
                total,
                tuple(_leave(shot) for shot in left if shot.frame == number),
            )
            for number, (frame, total) in enumerate(zip(game.frames, running, strict=True), 1)
        ),
        total=game.score,
        so_far=known[-1] if known else 0,
        max_possible=game.highest_possible,
        min_possible=lowest_possible(game),
        pace=pace(game) if under_way else None,
        expected_finish=expected_finish(game, odds_of_counts(own)) if under_way else None,
        problems=problems,
    )


def _leave(shot: LeaveShot) -> FrameLeave:
    kind = leave_kind(shot.leave).value
    return FrameLeave(leave_text(shot.leave), leave_name(shot.leave), kind, shot.made)


def _place(written: WrittenGame, where: str, frame: int = 1) -> str:
    """'line 4: game 2 of Ada Quill, frame 5'."""
    number = where.removeprefix("frame ")
    frame = int(number) if number.isdecimal() else frame
    row = written.places[min(frame, len(written.places)) - 1] if written.places else ""
    who = f" of {written.name}" if written.name else ""
    return f"{row}: " * bool(row) + f"game {written.game}{who}, {where}"
