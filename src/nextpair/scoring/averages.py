"""Averages and handicap in whole pins.

Source: [facts] section 7: an average drops its fraction (1347 pins in 9 games are 149); handicap
is a share of what the average lacks to a base, its fraction dropped or, in some leagues, a half
rounded up.
"""

from __future__ import annotations

from nextpair.domain.errors import require, require_within
from nextpair.scoring.frames import HIGHEST_SCORE


def average(pins: int, games: int) -> int:
    """Pins a game, fraction dropped. Over several leagues: all their pins, all their games."""
    require(games >= 1, "games", games, "1 or more")
    require_within("pins", pins, 0, HIGHEST_SCORE * games, f"pins in {games} games")
    return pins // games


def handicap(average_pins: int, base: int, percent: int, half_up: bool = False) -> int:
    """Pins a game given to an average: `percent` of what it lacks to `base`, never below 0."""
    require_within("average", average_pins, 0, HIGHEST_SCORE, "pins")
    require_within("base", base, 0, HIGHEST_SCORE, "pins")
    require_within("percent", percent, 0, 200, "%")
    hundredths = max(0, base - average_pins) * percent
    return (hundredths + (50 if half_up else 0)) // 100
