"""The bowler's own games: by the shots of a log, or as they were written down, ball by ball."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from nextpair.application.deliveries import SeenDelivery, seen_game
from nextpair.application.shot_jottings import LOG, NotedShot
from nextpair.domain.errors import InvalidValueError, Problem
from nextpair.domain.field_score import FieldScore
from nextpair.domain.format import Counting
from nextpair.domain.shot_log import PRACTICE
from nextpair.scoring.frames import Game
from nextpair.scoring.leaves import pin_bit
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
            expected_finish=expected_finish(game, odds)
            if game.score is None
            else float(game.score),
            pace=pace(game),
            source=source,
        )
        for number, (game, source) in sorted(games.items())
    )


def _shot_games(
    shots: Sequence[NotedShot], counting: Counting, problems: list[Problem]
) -> Iterator[tuple[int, Game]]:
    """The games of a log, each as far as its shots follow one another and somebody looked."""
    for number in sorted({noted.shot.game for noted in shots} - {PRACTICE}):

        def refuse(seen: SeenDelivery, wrong: InvalidValueError, number: int = number) -> None:
            place = f"game {number}, frame {seen.frame}, delivery {seen.delivery}: {wrong.field}"
            problems.append(Problem(LOG, place, str(wrong.found), wrong.allowed))

        first_noted = {
            noted.place: noted for noted in reversed(shots) if noted.shot.game == number
        }
        yield number, seen_game(map(_seen, first_noted.values()), counting, refuse).game


def _seen(noted: NotedShot) -> SeenDelivery:
    shot = noted.shot
    return SeenDelivery(
        frame=shot.frame,
        delivery=shot.delivery,
        before=_mask(shot.standing_before),
        after=_mask(shot.standing_after),
        foul=noted.foul,
    )


def _mask(standing: frozenset[int] | None) -> int | None:
    return None if standing is None else sum(map(pin_bit, standing))
