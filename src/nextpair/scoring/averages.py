"""Averages and handicap in whole pins.

Source: [facts] section 7: an average drops its fraction (1347 pins in 9 games are 149); a
composite average is all pins of all leagues over all their games; handicap is a share of what the
average lacks to a base, its fraction dropped or, in some leagues, a half rounded up.
"""

from __future__ import annotations

from collections.abc import Iterable

from nextpair.domain.errors import require, require_within
from nextpair.domain.format import HandicapRule, Rounding
from nextpair.scoring.frames import HIGHEST_SCORE

TOURNAMENT_GAMES = 21
"""Games from which a current average can count at a tournament."""
RISEN_PINS = 10
"""How far it must have risen above last season's to count instead of it."""


def average(pins: int, games: int) -> int:
    """Pins a game, fraction dropped."""
    require(games >= 1, "games", games, "1 or more")
    require_within("pins", pins, 0, HIGHEST_SCORE * games, f"pins in {games} games")
    return pins // games


def composite_average(leagues: Iterable[tuple[int, int]]) -> int:
    """The average over several leagues, each told as its pins and its games."""
    told = tuple(leagues)
    return average(sum(pins for pins, _ in told), sum(games for _, games in told))


def tournament_average(last_season: int | None, pins: int, games: int) -> int | None:
    """The average that somebody enters a tournament with.

    It is last season's, unless the current one holds 21 games or more and is 10 pins or more
    above it. None where there is neither last season's nor 21 games.
    """
    current = average(pins, games) if games >= TOURNAMENT_GAMES else None
    if last_season is None or current is None:
        return current if last_season is None else last_season
    require_within("last_season", last_season, 0, HIGHEST_SCORE, "pins")
    return current if current >= last_season + RISEN_PINS else last_season


def handicap_by(rule: HandicapRule, average_pins: int) -> int:
    """Pins a game given to an average, never below 0."""
    require_within("average", average_pins, 0, HIGHEST_SCORE, "pins")
    hundredths = max(0, rule.base - average_pins) * rule.percent
    pins = (hundredths + (50 if rule.rounding is Rounding.HALF_UP else 0)) // 100
    return pins if rule.most is None else min(pins, rule.most)
