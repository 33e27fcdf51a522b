"""What to do with the practice: shots that tell most about the games to come.

The bowler practises on the pair of the first game and leaves it after one game, so shots go to the
balls and lines whose games gain most from knowing the lane, not only to the first one.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.ball import Ball
from nextpair.domain.bowler import Bowler
from nextpair.domain.lane import END_PLANE_M, HEAD_PIN_M, pin_position_m
from nextpair.domain.units import DEGREE_RAD
from nextpair.kernel.layout import bodies_of
from nextpair.kernel.outcome import Status
from nextpair.kernel.roll import roll
from nextpair.planning.choice import GameChoice
from nextpair.planning.options import packed_spares
from nextpair.planning.rotation import SECONDS_A_SHOT, entrants_on, practice_shots_per_bowler
from nextpair.planning.study import LaneStudy, Study
from nextpair.planning.throws import shots_of
from nextpair.planning.trial import Line

FloatArray = NDArray[np.float64]

SPARE_LAYDOWN_OWN_BOARD = 30.0
"""A straight ball at the corner pin of one's own side is laid down across the lane. Common
practice ([facts] section 8)."""
CORNER_PIN = 10
"""Of a right-hander; a left-hander's is its mirror image, the 7."""


@dataclass(frozen=True, slots=True)
class Drill:
    """Some practice shots with one ball on one line; `worth_pins` is what knowing would gain."""

    lane: int
    lane_side: int
    """0 = the pair's left lane, 1 = its right lane."""
    line: Line
    games: tuple[int, ...]
    shots: int
    minute: float
    worth_pins: float


@dataclass(frozen=True, slots=True)
class SpareDrill:
    """One straight shot at the corner pin."""

    ball: Ball
    own_laydown: float
    angle_rad: float
    minute: float


def worth_of_knowing(study: Study, options: tuple[int, ...], game: int) -> float:
    """Pins a game that knowing the lane before the first shot would gain: the mean over the doubt
    of the best line for each draw, less the best line on the mean."""
    gains = []
    for lane in study.of_game(game):
        value = lane.values.value[list(options)]
        known = value.max(axis=(0, 2, 3)).mean()
        gains.append(known - value.mean(axis=1).max())
    return float(np.mean(gains))


def practice_plan(
    study: Study, choices: tuple[GameChoice, ...], options: tuple[int, ...]
) -> tuple[Drill, ...]:
    """Drills in the order to throw them: both lanes with the first game's line, then the balls of
    later games by what knowing about them is worth."""
    event = study.event
    shots = practice_shots_per_bowler(event, event.start_pair) - len(packed_spares(event))
    if shots <= 0:
        return ()
    by_option: dict[int, list[int]] = {}
    for choice in choices:
        by_option.setdefault(choice.option, []).append(choice.game)
    worth = {
        option: sum(worth_of_knowing(study, options, game) for game in games)
        for option, games in by_option.items()
    }
    counts = _shared_out(shots, worth, first=choices[0].option)
    minutes = minutes_a_shot(study)
    drills: list[Drill] = []
    thrown = 0
    for option in sorted(counts, key=lambda o: (o != choices[0].option, by_option[o][0])):
        game = by_option[option][0]
        for side, count in enumerate(_split(counts[option], len(drills))):
            if count:
                drills.append(
                    Drill(
                        lane=event.start_pair.lanes[side],
                        lane_side=side,
                        line=choices[game - 1].lines[side],
                        games=tuple(by_option[option]),
                        shots=count,
                        minute=thrown * minutes,
                        worth_pins=worth[option],
                    )
                )
                thrown += count
    return tuple(drills)


def spare_drill(study: Study, ball: Ball, minute: float) -> SpareDrill:
    """A straight shot of a spare ball at the corner pin, on the first pair."""
    lane = study.of_game(1)[0]
    angle_rad = corner_pin_angle_rad(study.event.bowler, ball, lane, study)
    return SpareDrill(ball, SPARE_LAYDOWN_OWN_BOARD, angle_rad, minute)


def corner_pin_angle_rad(bowler: Bowler, ball: Ball, lane: LaneStudy, study: Study) -> float:
    """Launch angle at which a ball from the spare lay-down comes closest to the own corner pin
    without going through the gutter."""
    angles = np.arange(-1.0, 5.01, 0.1) * DEGREE_RAD
    shots = shots_of(
        bowler.release,
        lane.kind,
        own_laydown=SPARE_LAYDOWN_OWN_BOARD,
        launch_angle_rad=angles,
    )
    bodies = bodies_of([ball], study.event.house, bowler.pap_m)
    paths = roll(lane.kind.under(lane.start), bodies, shots)
    pin_x, pin_y = pin_position_m(CORNER_PIN)
    slope = paths.v_x_mps / paths.v_y_mps
    at_pin = paths.x_m + slope * (HEAD_PIN_M + pin_y - END_PLANE_M)
    miss = np.where(paths.status == Status.PINS, np.abs(at_pin - pin_x), np.inf)
    return float(angles[miss.argmin()])


def minutes_a_shot(study: Study) -> float:
    """Time from one of the bowler's practice shots to the next: all take turns on two lanes."""
    pair = study.event.start_pair
    turns = max(len(entrants_on(study.event, pair, 0)) / len(pair.lanes), 1.0)
    return SECONDS_A_SHOT / 60 * turns


def _shared_out(shots: int, worth: dict[int, float], first: int) -> dict[int, int]:
    """Shots to each option: one on each lane for the first game, the rest by worth (largest
    remainders)."""
    given = dict.fromkeys(worth, 0)
    given[first] = min(2, shots)
    rest = shots - given[first]
    total = sum(worth.values())
    share = {o: rest * (w / total if total > 0 else 1 / len(worth)) for o, w in worth.items()}
    for option, part in share.items():
        given[option] += int(part)
    left = shots - sum(given.values())
    for option in sorted(share, key=lambda o: int(share[o]) - share[o])[:left]:
        given[option] += 1
    return given


def _split(count: int, drills_so_far: int) -> tuple[int, int]:
    """Shots on the left and the right lane; the odd one goes where fewer drills went."""
    odd_left = drills_so_far % 2 == 0
    return (count + odd_left) // 2, (count + (not odd_left)) // 2
