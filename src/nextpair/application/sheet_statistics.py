"""What a score sheet's games say of each of its bowlers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from nextpair.application.game_statistics import PlayedGame, statistics_of
from nextpair.application.score_sheet import ScoreSheet, WrittenGame
from nextpair.application.shot_jottings import NotedShot
from nextpair.domain.bowler import Hand
from nextpair.domain.format import Counting
from nextpair.domain.statistics import Luck
from nextpair.scoring.notation import parse_game


def with_statistics(sheet: ScoreSheet, written: Sequence[WrittenGame]) -> ScoreSheet:
    """The sheet with the statistics of every bowler, by the games that it was made of."""
    counting = Counting(sheet.counting)
    bowlers = (
        replace(
            bowler,
            statistics=statistics_of(
                [
                    PlayedGame(game.game, parse_game(game.balls, counting), game.leaves)
                    for game in written
                    if game.name == bowler.name
                ]
            ),
        )
        for bowler in sheet.bowlers
    )
    return replace(sheet, bowlers=tuple(bowlers))


def with_shots(
    sheet: ScoreSheet, shots: Sequence[NotedShot], hand: Hand, luck: Luck
) -> ScoreSheet:
    """A sheet of one bowler's logged shots with what only shots tell: balls, lines, lanes, the
    pocket, and luck."""
    told = statistics_of((), shots, hand, Counting(sheet.counting))
    bowlers = (replace(one, statistics=replace(told, luck=luck)) for one in sheet.bowlers)
    return replace(sheet, bowlers=tuple(bowlers))
