"""Why: every choice in one or two plain sentences with the numbers behind it.

Boards in sentences count from the bowler's own side, as the bowler counts them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.ball import Ball, Tool
from nextpair.domain.bowler import Hand
from nextpair.domain.lane import BOARDS
from nextpair.domain.units import FOOT_M
from nextpair.physics.film import film_line_units
from nextpair.planning.choice import Fallback, GameChoice
from nextpair.planning.options import is_resurfaced
from nextpair.planning.release_change import AS_USUAL
from nextpair.planning.rotation import ShotsBefore
from nextpair.planning.second_opinion import SecondOpinion
from nextpair.planning.study import LaneStudy, Study
from nextpair.planning.trial import Line, Trial, hook_less_boards, meant_offset_boards

FloatArray = NDArray[np.float64]

LOOK_FT = 35.0
"""Where films are compared in sentences: past the arrows, before most patterns end."""
BEFORE_END_FT = 5.0
"""On a shorter pattern they are compared this far before its end."""
WINDOW_BOARDS = 1.5
APART_BOARDS = 4.0
"""How far outside a fresh line's boards its neighbours are looked at."""
NOTHING_PINS = 0.05
"""Differences of the score below this are none in words."""
WORK_WORDS = {
    Tool.SPINNER: "on a spinner before the event",
    Tool.HAND: "all over with a pad by hand, before each of its games",
}
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


def film_words(study: Study, lane: LaneStudy, trial: Trial, shots: ShotsBefore) -> str:
    """Who was here before, and what oil is left under the line in the mids."""
    who = _who_was_here(shots, sides(study.event.bowler.hand))
    look_ft = min(LOOK_FT, lane.length_m / FOOT_M - BEFORE_END_FT)
    now, laid = (film_line_units(film, look_ft * FOOT_M) for film in (lane.start, lane.fresh))
    under = float(np.interp(look_ft, np.arange(len(trial.path)), trial.path))
    event = study.event
    where = "" if event.left_pattern == event.right_pattern else f" of lane {lane.lane}"
    beside = under - APART_BOARDS if under > 2 * APART_BOARDS else under + APART_BOARDS
    return (
        f"Pair {study.pair(lane.game)}: {who}. At {look_ft:.0f} ft{where} {_units(now, under)} of "
        f"{_units(laid, under)} units are left under your line ({_span(under)}), "
        f"{_units(now, beside)} of {_units(laid, beside)} on {_span(beside)}."
    )


def release_reason(choice: GameChoice) -> str:
    """What letting go of the ball otherwise than usual is worth; nothing where it is thrown as
    usual."""
    change = choice.lines[0].change
    if change == AS_USUAL:
        return ""
    return (
        f"Let go of so, the ball is worth {choice.release_gain_pins:.1f} pins a game more than at "
        f"your usual release, each from its own best line, though you are taken to scatter "
        f"{change.widening - 1.0:.0%} wider."
    )


def _who_was_here(shots: ShotsBefore, words: Sides) -> str:
    """Whose shots the pair has taken."""
    if not (shots.own_side or shots.other_side or shots.unknown_side):
        return "nobody has bowled here before you"
    if shots.own_side == 0:
        who = f"no {words.hand} before you, {shots.other_side} shots from the other side"
    else:
        who = f"{shots.own_side} shots by {words.hand}s before you"
        who += f", {shots.other_side} from the other side"
    if shots.unknown_side:
        who += f", {shots.unknown_side} by hands that nobody wrote down"
    if shots.earlier_squads:
        who += f"; {shots.earlier_squads} of them by earlier squads"
    return who


def _window(place: float) -> tuple[int, int]:
    low = min(max(round(place - WINDOW_BOARDS), 1), BOARDS)
    return low, min(max(round(place + WINDOW_BOARDS), low), BOARDS)


def _span(place: float) -> str:
    low, high = _window(place)
    return f"boards {low}-{high}"


def _units(film: tuple[float, ...], place: float) -> str:
    low, high = _window(place)
    return f"{float(np.mean(film[low - 1 : high])):.1f}"


def same_line_words(
    study: Study, lane: LaneStudy, before: Line, offset_boards: float, game_before: int
) -> str | None:
    """Where the line of the game before would finish on this pair, ball and all."""
    arrives = meant_offset_boards(before, lane.middle, lane, study.event.bowler)
    shift = arrives - offset_boards
    line = f"Game {game_before}'s line with {study.options[before.option].name}"
    if abs(shift) < SAME_BOARDS:
        return f"{line} arrives in the same place here."
    how = "light" if shift > 0 else "high"
    where = sides(study.event.bowler.hand).of(shift)
    return f"{line} would finish {where} of where it should: {how}."


def ball_reason(study: Study, choice: GameChoice, strike: float) -> str:
    """Why this ball: against the one thrown before where it changes, else the next best."""
    said = f"{ball_words(study.options[choice.option])} strikes {strike:.0%} from its best line"
    if choice.next_best is None:
        return f"{said}; it is the one strike ball in the bag."
    if choice.dropped is not None:
        gain = choice.value_pins - choice.dropped_pins
        before = ball_words(study.options[choice.dropped])
        return f"{said}; {before}, the ball before, is worth {gain:.1f} pins a game less here."
    gain = choice.value_pins - choice.next_best_pins
    other = ball_words(study.options[choice.next_best])
    if abs(gain) < NOTHING_PINS:
        return f"{said}; {other} scores the same."
    if gain < 0:
        return f"{said}; {other} scores {-gain:.1f} pins a game more: too little to change for."
    return f"{said}; {other}, the next best, is worth {gain:.1f} pins a game less here."


def opinion_words(opinion: SecondOpinion, trial: Trial) -> str:
    """The rule of 31 beside the computed exit; a reason where they differ."""
    said = (
        f"The rule of 31 says leave the oil at board {opinion.rule_board:.0f}; "
        f"this line leaves it at {opinion.exit_board:.1f}"
    )
    apart = abs(opinion.exit_board - opinion.rule_board)
    where = "inside" if opinion.exit_board > opinion.rule_board else "outside"
    if opinion.agrees:
        return f"{said}, {apart:.1f} boards {where}: close enough."
    if opinion.line is None:
        return f"{said}, {apart:.1f} boards {where}. No line in your reach leaves it there."
    turn = "more" if opinion.line.angle_rad > trial.line.angle_rad else "less"
    return (
        f"{said}, {apart:.1f} boards {where}. The best line through the rule's board, with "
        f"{turn} launch angle from board {opinion.line.own_laydown:.0f}, is worth "
        f"{opinion.loss_pins:.1f} pins a game less with your release on this film."
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
        f"Worth {_pins(fallback.gain_pins)} a game then."
    )


def insured_words(
    study: Study,
    cost_pins: float,
    bad_case_cost_pins: float,
    stands_in: tuple[int, float | None] | None,
) -> str:
    """What a ball that the plan does not throw is brought for."""
    if stands_in is not None:
        out, saved_pins = stands_in
        if saved_pins is None:
            saves = "nothing else here strikes"
        else:
            saves = f"it saves {saved_pins:.1f} pins a game"
        return f"Insurance: should {study.options[out].name} crack or be refused, {saves}."
    if cost_pins < NOTHING_PINS <= bad_case_cost_pins:
        return (
            "Insurance: worth nothing on average, but saves "
            f"{bad_case_cost_pins:.1f} pins a game when lanes are at their worst."
        )
    return "The change when the lanes answer differently."


def spare_ball_words(strike: str, cost_pins: float) -> str:
    """What the spare ball is for, and how the straightest strike ball would do in its place."""
    said = "Spares: goes straight on any oil, and stays straight as lanes wear."
    if abs(cost_pins) < NOTHING_PINS:
        return f"{said} {strike} thrown flat makes as many on the fresh lane."
    more = "fewer" if cost_pins > 0 else "more"
    return (
        f"{said} {strike} thrown flat is worth {abs(cost_pins):.1f} pins a game {more} on the "
        "fresh lane."
    )


def purpose_words(
    study: Study, option: int, games: tuple[int, ...], main: Line, otherwise: str
) -> str:
    """What a ball of the bag is for; how much it hooks against the main ball on its line.

    `otherwise` is what it is for where no game is planned with it.
    """
    use = (
        f"{game_words(games).capitalize()} on {pair_words(study, games)}." if games else otherwise
    )
    ball = study.options[option]
    if is_resurfaced(study.event, ball):
        use += f" Put a fresh surface on it: {ball.surface.named}, {WORK_WORDS[ball.surface.by]}."
    if option == main.option:
        return f"{use} The ball you throw most."
    less = hook_less_boards(main, option, study.of_game(1)[0], study.event.bowler)
    name = study.options[main.option].name
    if abs(less) < SAME_BOARDS:
        return f"{use} Hooks as much as {name}."
    amount = "less" if less > 0 else "more"
    return f"{use} Hooks {abs(less):.1f} boards {amount} than {name} on the same line."


def game_words(games: tuple[int, ...]) -> str:
    """Games by their numbers: 'games 1, 2 and 4'."""
    return ("game " if len(games) == 1 else "games ") + listed_words([str(game) for game in games])


def pair_words(study: Study, games: tuple[int, ...]) -> str:
    """The pairs of some games, each named once."""
    return listed_words(list(dict.fromkeys(str(study.pair(game)) for game in games)))


def _pins(pins: float) -> str:
    whole = round(pins)
    return f"{whole} pin" if whole == 1 else f"{whole} pins"


def listed_words(words: list[str]) -> str:
    """Words one after the other: 'a, b and c'."""
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1]
