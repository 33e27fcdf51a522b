"""What the log of an event says of its bowler's games."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress

from nextpair.application.game_statistics import PlayedGame, statistics_of
from nextpair.application.scores import field_scores
from nextpair.application.shot_jottings import noted_shots
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.event import Event
from nextpair.domain.field_score import FieldScore
from nextpair.domain.jotting import Kept
from nextpair.domain.statistics import GameStatistics
from nextpair.scoring.notation import parse_game


def event_statistics(event: Event, log: Sequence[Kept]) -> GameStatistics:
    """Statistics of the bowler's games, by their shots, or where none were logged as they were
    written down. What is no game is passed over: the scores tell of it."""
    shots, _ = noted_shots(log)
    counting = event.format.counting
    games = tuple(written_games(event, field_scores(log, [])))
    return statistics_of(games, shots, event.bowler.hand, counting)


def written_games(event: Event, scores: Iterable[FieldScore]) -> Iterator[PlayedGame]:
    """The bowler's games that were written down ball by ball; what is no game is passed over."""
    for score in scores:
        if score.name == event.bowler_name and score.balls:
            with suppress(InvalidValueError):
                yield PlayedGame(score.game, parse_game(score.balls, event.format.counting))
