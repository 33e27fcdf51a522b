"""The bowler's own games: by the shots of a log, or as they were written down, ball by ball."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from nextpair.application.shot_jottings import LOG, NotedShot
from nextpair.domain.errors import InvalidValueError, Problem, require
from nextpair.domain.field_score import FieldScore
from nextpair.domain.format import Counting
from nextpair.domain.shot_log import PRACTICE
from nextpair.scoring.current_frame import new_game
from nextpair.scoring.frames import Game, delivery_between
from nextpair.scoring.leaves import FULL_RACK, pin_bit
from nextpair.scoring.notation import marks, parse_game
from nextpair.scoring.statistics import counts
from nextpair.scoring.unfinished import expected_finish, odds_of_counts, pace

SHOTS, SHEET = "shots", "sheet"
BY_WORDS = {SHOTS: "shots", SHEET: "balls"}


@dataclass(frozen=True, slots=True)
class FrameScore:
    """A frame as it is written: its balls, and the score after it once that is known."""

    marks: tuple[str, ...]
    total: int | None


@dataclass(frozen=True, slots=True)
class GameScore:
    """A game of the bowler's.

    total : once it is over. so_far : as far as it is known. max_possible : what it can become.
    expected_finish : its mean end by all games of the log. pace : what ten frames come to at the
        rate of those that are known. source : "shots" of the log, or a "sheet" with its balls.
    """

    game: int
    frames: tuple[FrameScore, ...]
    total: int | None
    so_far: int
    max_possible: int
    expected_finish: float
    pace: int | None
    source: str


def own_games(
    shots: Sequence[NotedShot],
    written: Iterable[FieldScore],
    counting: Counting,
    problems: list[Problem],
) -> tuple[GameScore, ...]:
    """The bowler's games in order. What does not add up goes to the problems."""
    games = {number: (game, SHOTS) for number, game in _shot_games(shots, counting, problems)}
    for score in written:
        by_shots = games.get(score.game)
        if score.balls and (by_shots is None or not by_shots[0].is_complete):
            try:
                games[score.game] = parse_game(score.balls, counting), SHEET
            except InvalidValueError as wrong:
                place = f"game {score.game} of {score.name}: {wrong.field}"
                problems.append(Problem(LOG, place, str(wrong.found)[:60], wrong.allowed))
    odds = odds_of_counts(counts(game for game, _ in games.values()))
    return tuple(
        GameScore(
            game=number,
            frames=tuple(
                FrameScore(marks(frame), total)
                for frame, total in zip(game.frames, game.running_scores, strict=True)
            ),
            total=game.score,
            so_far=max((total for total in game.running_scores if total is not None), default=0),
            max_possible=game.highest_possible,
            expected_finish=expected_finish(game, odds),
            pace=pace(game),
            source=source,
        )
        for number, (game, source) in sorted(games.items())
    )


def _shot_games(
    shots: Sequence[NotedShot], counting: Counting, problems: list[Problem]
) -> Iterator[tuple[int, Game]]:
    for number in sorted({noted.shot.game for noted in shots} - {PRACTICE}):
        of_game = {
            noted.place[1:]: noted for noted in reversed(shots) if noted.shot.game == number
        }
        yield number, _shot_game(number, of_game, counting, problems)


def _shot_game(
    number: int,
    shots: Mapping[tuple[int, int], NotedShot],
    counting: Counting,
    problems: list[Problem],
) -> Game:
    """The game of its shots, as far as they follow one another and somebody looked."""
    game, standing_now = new_game(counting), FULL_RACK
    for (frame, delivery), noted in sorted(shots.items()):
        under_way = game.frame_under_way
        expected = (len(game.frames) + (not under_way), len(under_way) + 1)
        place = f"game {number}, frame {frame}, delivery {delivery}"
        try:
            require(
                (frame, delivery) == expected, "place", _named(frame, delivery), _named(*expected)
            )
            before, after = _masks(noted, standing_now)
            game = game.with_ball(delivery_between(before, after, noted.foul))
        except InvalidValueError as wrong:
            problems.append(
                Problem(LOG, f"{place}: {wrong.field}", str(wrong.found), wrong.allowed)
            )
            break
        left = before if noted.foul else after
        standing_now = left if game.frame_under_way and left else FULL_RACK
    return game


def _masks(noted: NotedShot, standing_now: int) -> tuple[int, int]:
    """Pins before and after a ball; what stands in a frame is what the ball before it left."""
    shot = noted.shot
    if shot.standing_before is not None:
        before = sum(pin_bit(pin) for pin in shot.standing_before)
        require(
            before == standing_now,
            "standing_before",
            sorted(shot.standing_before),
            "what the ball before it left",
        )
    if noted.foul:
        return standing_now, standing_now
    if shot.standing_after is None:
        raise InvalidValueError("standing_after", "nothing", "the pins that stood")
    return standing_now, sum(pin_bit(pin) for pin in shot.standing_after)


def _named(frame: int, delivery: int) -> str:
    return f"frame {frame}, delivery {delivery}"
