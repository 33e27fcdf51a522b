"""A game's score against what was to be expected, parted into where the balls came in, what fell
of it, and spares.

A game is valued rack by rack. What was expected of each rack gives way, one step after another, to
what was thrown, what fell, and what became of the spare; each step's change of the game's value is
a part, so the parts add up to score - expected. Racks count alone and in products with others, so
a step that is fair on each rack is fair on the score.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from nextpair.application.met_racks import MetRack, game_of_racks
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.format import Counting
from nextpair.domain.statistics import GameLuck
from nextpair.planning.odds import frame_odds
from nextpair.scoring.current_frame import expected_frame_pins
from nextpair.scoring.frames import FRAMES
from nextpair.scoring.game_value import FrameOdds, expected_score_of_racks, frame_odds_of
from nextpair.scoring.leaves import FULL_RACK

LeaveChances = Mapping[int, float]
"""Chances of what a first ball leaves, by mask; 0 is the strike."""
SpareChance = Callable[[int], float]
"""Own chance of a leave's spare."""

STRUCK = frame_odds_of(1.0, ())


def luck_of_game(
    racks: Sequence[MetRack],
    expected: Sequence[LeaveChances],
    came_in: Mapping[int, LeaveChances],
    spare_chance: SpareChance,
    counting: Counting = Counting.TRADITIONAL,
) -> GameLuck:
    """The luck of one finished game.

    racks : all of its racks, with their leaves.
    expected : of each of twelve racks, what was to be expected: the frames' and two of fill balls.
    came_in : by the rack's place, what the entry that was seen leaves.
    spare_chance : own chances, by leave.

    Raises InvalidValueError where the racks make no finished game or a leave is not known.
    """
    game = game_of_racks(racks, counting)
    if game is None or game.score is None or any(rack.leave is None for rack in racks):
        raise InvalidValueError("racks", len(racks), "all racks of a finished game, with leaves")
    odds = _each(expected, spare_chance)
    begun = _value(odds, counting)
    _put(odds, dict(zip(came_in, _each(tuple(came_in.values()), spare_chance), strict=True)))
    thrown = _value(odds, counting)
    left = {rack.leave: _fallen(rack, spare_chance) for rack in racks}
    fell = {rack.place: left[rack.leave] for rack in racks}
    _put(odds, {place: fell[place] for place in came_in})
    carried = _value(odds, counting)
    _put(odds, fell)
    fallen = _value(odds, counting)
    unseen = len(racks) - len(came_in)
    return GameLuck(
        game=racks[0].game,
        score=game.score,
        expected_score=begun,
        line_pins=thrown - begun if came_in else None,
        carry_pins=carried - thrown if came_in else None,
        line_and_carry_pins=fallen - carried if unseen else None,
        # What the second balls make of it is the score itself.
        spares_pins=game.score - fallen,
        seen=len(came_in),
        first_balls=len(racks),
    )


def _value(racks: Sequence[FrameOdds], counting: Counting) -> float:
    """Mean score of a game whose racks have these odds."""
    if counting is Counting.CURRENT_FRAME:
        return sum(map(expected_frame_pins, racks[:FRAMES]))
    return expected_score_of_racks(racks)


def _put(odds: list[FrameOdds], new: Mapping[int, FrameOdds]) -> None:
    for place, rack in new.items():
        odds[place] = rack


def _each(several: Sequence[LeaveChances], spare_chance: SpareChance) -> list[FrameOdds]:
    """Odds of each rack; racks of one lane are mostly expected to do the same."""
    alike = {id(chances): chances for chances in several}
    odds = {one: _odds(chances, spare_chance) for one, chances in alike.items()}
    return [odds[id(chances)] for chances in several]


def _odds(chances: LeaveChances, spare_chance: SpareChance) -> FrameOdds:
    """Odds of a rack by what its first ball may leave."""
    left = [leave for leave in chances if leave]
    return frame_odds(
        min(chances.get(0, 0.0), 1.0),
        left,
        [chances[leave] for leave in left],
        [spare_chance(leave) for leave in left],
    )


def _fallen(rack: MetRack, spare_chance: SpareChance) -> FrameOdds:
    """Odds of a rack whose first ball has been thrown."""
    if rack.is_strike:
        return STRUCK
    return _odds({rack.leave or FULL_RACK: 1.0}, spare_chance)
