"""Outings, lines and intervals in words, for pages of patterns and of conditions."""

from __future__ import annotations

from nextpair.domain.outing import BallThrown, LinePlayed, Outing
from nextpair.domain.statistics import MeanPins
from nextpair.reports.statistics_text import share_words
from nextpair.reports.wording import board_words, counted

NO_LINES = "no shots were logged, so what was thrown is not known"


def outing_words(outing: Outing) -> str:
    """'6 games, 203.5 a game, 12.3 over the field (27 others)'."""
    told = f"{counted(outing.games, 'game')}"
    if outing.mean_pins is not None:
        told += f", {outing.mean_pins:.1f} a game"
    if outing.field_pins is not None:
        told += f", {against_words(outing.field_pins)} ({counted(outing.others, 'other')})"
    return told


def against_words(pins: float) -> str:
    """'12.3 over the field'."""
    return f"{abs(pins):.1f} {'over' if pins >= 0 else 'under'} the field"


def who_words(outing: Outing) -> str:
    """Whose outing it was: nothing of one's own."""
    return "" if outing.is_own else f"{outing.bowler}, {outing.hand.value}-handed: "


def ball_words(thrown: BallThrown) -> str:
    """'Kestrel: 14 of 22, likely 50 to 76 %'."""
    return f"{thrown.ball}: {share_words(thrown.strikes)}"


def line_words(line: LinePlayed, hand: str) -> str:
    """'Kestrel, 24 over 17: 9 of 15, likely 43 to 75 %', boards from the bowler's own side."""
    laydown, target = (
        board_words(board, hand) for board in (line.laydown_board, line.target_board)
    )
    return f"{line.ball}, {laydown} over {target}: {share_words(line.strikes)}"


def interval_words(mean: MeanPins, form: str = ".1f") -> str:
    """'203.5, likely 195.1 to 212.0'; without an interval, that one event settles nothing."""
    if mean.mean_pins is None:
        return "not known"
    told = f"{mean.mean_pins:{form}}"
    if mean.pins_interval_80 is None:
        return f"{told}, {'one event' if mean.count == 1 else 'events all alike'}: not settled"
    low, high = mean.pins_interval_80
    return f"{told}, likely {low:{form}} to {high:{form}}"
