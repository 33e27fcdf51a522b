"""Why: every choice in one or two plain sentences with the numbers behind it.

Boards in sentences count from the bowler's own side, as the bowler counts them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.ball import Ball
from nextpair.domain.bowler import Hand
from nextpair.domain.lane import BOARDS
from nextpair.domain.units import FOOT_M
from nextpair.physics.dressing import film_line_units
from nextpair.planning.choice import Fallback, GameChoice
from nextpair.planning.second_opinion import SecondOpinion
from nextpair.planning.study import LaneStudy, Study
from nextpair.planning.trial import Line, Trial, meant_offset_boards

FloatArray = NDArray[np.float64]

LOOK_FT = 35.0
"""Where films are compared in sentences: past the arrows, before most patterns end."""
WINDOW_BOARDS = 1.5
APART_BOARDS = 4.0
"""How far outside a fresh line's boards its neighbours are looked at."""
WORN_SHARE = 0.1
"""Share of the oil on the own half whose loss makes a lane worn, in words."""
SAME_BOARDS = 0.5
"""Differences of the offset below this are not worth a word."""


@dataclass(frozen=True, slots=True)
class Sides:
    """Words for the two directions as this bowler sees them."""

    own: str
    far: str
    hand: str

    def of(self, boards: float) -> str:
        """'2.4 boards right' for a shift toward the bowler's own side, and so on."""
        return f"{abs(boards):.1f} boards {self.own if boards > 0 else self.far}"


def sides(hand: Hand) -> Sides:
    """Directions of a right- or a left-hander."""
    if hand is Hand.RIGHT:
        return Sides("right", "left", "right-hander")
    return Sides("left", "right", "left-hander")


def ball_words(ball: Ball) -> str:
    """A ball with its finish."""
    return f"{ball.name} at {ball.surface.words}"


def film_words(study: Study, lane: LaneStudy, trial: Trial, shots_before: tuple[int, int]) -> str:
    """Who was here before, and what oil is left under the line at 35 ft."""
    words = sides(study.event.bowler.hand)
    own, other = shots_before
    if own == 0 and other == 0:
        who = "nobody has bowled here before you"
    elif own == 0:
        who = f"no {words.hand} before you, {other} shots from the other side"
    else:
        who = f"{own} shots by {words.hand}s before you, {other} from the other side"
    now = film_line_units(lane.start, LOOK_FT * FOOT_M)
    under = float(np.interp(LOOK_FT, np.arange(len(trial.path)), trial.path))
    beside = under - APART_BOARDS if under > 2 * APART_BOARDS else under + APART_BOARDS
    return (
        f"Pair {study.pair(lane.game)}: {who}; at {LOOK_FT:.0f} ft {_units(now, under)} under "
        f"your line ({_span(under)}) against {_units(now, beside)} on {_span(beside)}."
    )


def _window(place: float) -> tuple[int, int]:
    low = max(1, round(place - WINDOW_BOARDS))
    return low, min(BOARDS, max(round(place + WINDOW_BOARDS), low))


def _span(place: float) -> str:
    low, high = _window(place)
    return f"boards {low}-{high}"


def _units(film: tuple[float, ...], place: float) -> str:
    low, high = _window(place)
    return f"{float(np.mean(film[low - 1 : high])):.1f} units"


def same_line_words(
    study: Study, lane: LaneStudy, before: Line, offset_boards: float, game_before: int
) -> str | None:
    """Where the line of the game before would finish on this pair, ball and all."""
    arrives = meant_offset_boards(before, lane.middle, lane, study.event.bowler, study.bodies)
    shift = arrives - offset_boards
    line = f"Game {game_before}'s line with {study.options[before.option].name}"
    if abs(shift) < SAME_BOARDS:
        return f"{line} still finds the pocket here."
    how = "light" if shift > 0 else "high"
    where = sides(study.event.bowler.hand).of(shift)
    return f"{line} would finish {where} of where it should: {how}."


def ball_reason(study: Study, choice: GameChoice, strike: float) -> str:
    """Why this ball and not the next best of the bag."""
    ball = study.options[choice.option]
    if choice.next_best is None:
        return f"{ball_words(ball)} is the one strike ball in the bag; it strikes {strike:.0%}."
    other = study.options[choice.next_best]
    gain = choice.value_pins - choice.next_best_pins
    return (
        f"{ball_words(ball)} strikes {strike:.0%} from its best line; {ball_words(other)}, the "
        f"next best, is worth {gain:.1f} pins a game less here."
    )


def opinion_words(opinion: SecondOpinion, trial: Trial) -> str:
    """The rule of 31 beside the computed exit; a reason where they differ."""
    start = (
        f"Rule of 31 says leave the oil at board {opinion.rule_board:.0f}; "
        f"this line leaves it at {opinion.exit_board:.1f}"
    )
    if opinion.agrees:
        return f"{start}: they agree within {abs(opinion.rule_board - opinion.exit_board):.1f}."
    where = "further inside" if opinion.exit_board > opinion.rule_board else "further outside"
    if opinion.line is None:
        return f"{start}, {where}: nothing in your reach leaves it at the rule's board."
    turn = "more" if opinion.line.angle_rad > trial.line.angle_rad else "less"
    return (
        f"{start}, {where}: the best line through the rule's board, with {turn} launch angle "
        f"from board {opinion.line.own_laydown:.0f}, is worth {opinion.loss_pins:.1f} pins a "
        f"game less with your release on this film."
    )


def fallback_words(study: Study, choice: GameChoice, fallback: Fallback) -> str:
    """When to leave the plan, seen from the lane."""
    words = sides(study.event.bowler.hand)
    ball = study.options[choice.option].name
    if fallback.side > 0:
        seen = f"comes in light, about {words.of(fallback.miss_boards)} of plan"
        means = "there is more oil or less friction than planned"
    else:
        seen = f"goes high, about {words.of(-fallback.miss_boards)} of plan"
        means = "it hooks more than planned"
    return (
        f"When {ball} {seen}, on two good shots running: {means}. "
        f"Worth {fallback.gain_pins:.0f} pins a game then."
    )


def drill_words(study: Study, games: tuple[int, ...], worth_pins: float, first: bool) -> str:
    """Why these practice shots."""
    pairs = ", ".join(str(study.pair(game)) for game in games)
    if first:
        return (
            f"Your first ball and line (pair{'s' if len(games) > 1 else ''} {pairs}): see where "
            f"it turns and whether both lanes agree."
        )
    return (
        f"For game{'s' if len(games) > 1 else ''} {_listed(games)} (pair {pairs}): knowing how "
        f"much it hooks is worth {worth_pins:.1f} pins there. You leave this pair after one game."
    )


def _listed(games: tuple[int, ...]) -> str:
    texts = [str(game) for game in games]
    return texts[0] if len(texts) == 1 else ", ".join(texts[:-1]) + " and " + texts[-1]


def purpose_words(study: Study, option: int, games: tuple[int, ...]) -> str:
    """What a ball of the bag is for."""
    ball = study.options[option]
    if not games:
        return "The change when the lanes answer differently."
    pairs = [str(study.pair(game)) for game in games]
    side = ["worn" if _worn_share(study, game) > WORN_SHARE else "fresh" for game in games]
    kinds = " and ".join(dict.fromkeys(side))
    return f"Games {_listed(games)} ({', '.join(pairs)}): {kinds} oil, {ball.cover.value} cover."


def _worn_share(study: Study, game: int) -> float:
    """Share of the oil on the bowler's half that is gone when a game starts."""
    lane = study.of_game(game)[0]
    half = slice(0, BOARDS // 2 + 1)
    return 1.0 - float(lane.start[:, half].sum() / lane.fresh[:, half].sum())
