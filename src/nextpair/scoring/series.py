"""Series: games added up, scores of bowlers who are absent, and ties.

Sources: [facts] section 7: ties in match play by a roll-off of the ninth and tenth frames, by an
extra game for a cut line. That an absent bowler counts their average less some pins, and that the
higher last game breaks a tie where the rules say so, is common practice; how many pins less, and
what a vacant place counts, each league's rules say.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from nextpair.domain.errors import require, require_within
from nextpair.scoring.frames import FRAMES, HIGHEST_SCORE, Delivery, Frame, Game

ROLL_OFF_FRAMES = 2
GUTTERS: Frame = (Delivery(0), Delivery(0))


def series_total(scores: Sequence[int], handicap: int = 0) -> int:
    """Pins of some games, each with its handicap."""
    for score in scores:
        require_within("score", score, 0, HIGHEST_SCORE, "pins")
    return sum(scores) + handicap * len(scores)


@dataclass(frozen=True, slots=True)
class AbsenceRule:
    """What counts for somebody who is not there.

    less_pins : taken off an absent member's average for a blind score.
    vacancy_average : stands in for the average where a team has nobody for the place.
    """

    less_pins: int = 10
    vacancy_average: int = 120

    def __post_init__(self) -> None:
        for field in ("less_pins", "vacancy_average"):
            require_within(field, getattr(self, field), 0, HIGHEST_SCORE, "pins")


def blind_score(rule: AbsenceRule, average_pins: int) -> int:
    """What a game of an absent member counts."""
    require_within("average", average_pins, 0, HIGHEST_SCORE, "pins")
    return max(0, average_pins - rule.less_pins)


def vacancy_score(rule: AbsenceRule) -> int:
    """What a game of a place counts that nobody fills."""
    return blind_score(rule, rule.vacancy_average)


class TieRule(StrEnum):
    """What becomes of equal totals."""

    SHARED = "shared"
    """They share their place."""
    HIGHER_LAST_GAME = "higher-last-game"
    """The higher last game goes first; where that is equal too, the game before it."""
    ROLL_OFF = "roll-off"
    """Those tied bowl a ninth and a tenth frame."""
    EXTRA_GAME = "extra-game"
    """Those tied bowl one more game."""


def places(
    series: Sequence[Sequence[int]], rule: TieRule, extra: Sequence[int | None] = ()
) -> tuple[int, ...]:
    """Place of each series, from 1; those that stay equal share the best of their places.

    `extra` are the scores of roll-offs or extra games, in the order of the series, None for one
    who bowled none; they part equal totals only, and only under the rules that ask for them.
    """
    require(len(extra) in (0, len(series)), "extra", len(extra), f"{len(series)} scores or none")
    bowled = extra if rule in (TieRule.ROLL_OFF, TieRule.EXTRA_GAME) else ()
    ranks: list[tuple[int, ...]] = []
    for scores, more in zip(series, bowled or [None] * len(series), strict=True):
        parts: tuple[int, ...] = () if more is None else (more,)
        if rule is TieRule.HIGHER_LAST_GAME:
            parts = tuple(reversed(scores))
        ranks.append((series_total(scores), *parts))
    return tuple(1 + sum(other > rank for other in ranks) for rank in ranks)


def still_tied(
    series: Sequence[Sequence[int]], rule: TieRule, extra: Sequence[int | None] = ()
) -> tuple[tuple[int, ...], ...]:
    """Series that share a place, by their numbers from 0: who must bowl on, or who shares."""
    found: dict[int, list[int]] = {}
    for number, place in enumerate(places(series, rule, extra)):
        found.setdefault(place, []).append(number)
    return tuple(tuple(group) for _, group in sorted(found.items()) if len(group) > 1)


def roll_off_score(frames: Sequence[Frame]) -> int | None:
    """What a roll-off's ninth and tenth frame come to; None before its end."""
    require(len(frames) <= ROLL_OFF_FRAMES, "frames", len(frames), "a ninth and a tenth")
    return Game((*[GUTTERS] * (FRAMES - ROLL_OFF_FRAMES), *frames)).score
