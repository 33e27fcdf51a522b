"""A move from game to game: what the trade calls it, and why it is made.

Feet and target move by boards; with the lay-down at the foul line and the target at the arrows
the path turns about the place where the two moves cancel: 15 ft x feet / (feet - target). So a
3-for-2 keeps the board at 45 ft, where most lines break, a 2-for-1 the one at 30 ft, and a 1-for-1
moves the whole path.
"""

from __future__ import annotations

import math

import numpy as np

from nextpair.domain.lane import ARROWS_M
from nextpair.domain.units import FOOT_M
from nextpair.physics.film import film_line_units
from nextpair.planning.choice import GameChoice
from nextpair.planning.reasons import SAME_BOARDS, WINDOW_BOARDS, same_line_words
from nextpair.planning.study import LaneStudy, Study
from nextpair.planning.trial import Line, Trial, hook_less_boards, meant_offset_boards

NAMED_MOVES = ((1, 1), (3, 2), (2, 1), (5, 2), (3, 1))
"""Feet and target of the usual moves. Common practice; source: [facts] section 8, 1-and-1,
2-and-1, 3-and-2, 3-and-1, 5-and-2."""
FITS_BOARDS = 0.5
"""A move that is no farther than this from a usual one has its name."""
LEAST_MOVE_BOARDS = 0.75
"""Feet that move less have no move to name: told to the half board it is half a board."""
SAME_GRIP = 0.005
"""Lanes whose dry friction differs by a smaller share are alike."""
LOOKED_AT_FT = (10.0, 20.0, 30.0)
"""Where the film under a line is compared; beside these, two feet before the oil's end and four
beyond it, where only what was carried lies."""


def move_name(feet_boards: float, target_boards: float) -> str | None:
    """The usual move nearest to one told in half boards, as '3-for-2'; None where none fits within
    half a board."""
    feet_boards, target_boards = (
        math.floor(2 * boards + 0.5) / 2 for boards in (feet_boards, target_boards)
    )
    if abs(feet_boards) < LEAST_MOVE_BOARDS or feet_boards * target_boards <= 0:
        return None
    away = {
        (feet, target): abs(feet_boards - feet / target * target_boards)
        for feet, target in NAMED_MOVES
    }
    nearest = min(away, key=lambda move: away[move])
    return f"{nearest[0]}-for-{nearest[1]}" if away[nearest] <= FITS_BOARDS else None


def pivot_m(feet_boards: float, target_boards: float) -> float:
    """Distance from the foul line at which a move leaves a straight path where it was.

    Infinite where feet and target move alike, negative where the path turns behind the line.
    Source: closed form, two straight lines.
    """
    turned = feet_boards - target_boards
    return ARROWS_M * feet_boards / turned if turned else math.inf


def move_reason(
    study: Study, choices: tuple[GameChoice, ...], trials: tuple[Trial, Trial], game: int
) -> str:
    """Why the line moves from the game before: where the old line would finish here, what oil it
    would meet, and what the new one gains. `trials` are those of both games' left lanes."""
    before, now = (choice.lines[0] for choice in choices[game - 2 : game])
    old, lane = study.of_game(game - 1)[0], study.of_game(game)[0]
    bowler = study.event.bowler
    said: list[str | None] = []
    if study.options[before.option].name != study.options[now.option].name:
        less = hook_less_boards(before, now.option, lane, bowler)
        amount = "less" if less > 0 else "more"
        said.append(
            f"{study.options[now.option].name} hooks {abs(less):.1f} boards {amount} than "
            f"{study.options[before.option].name} on the old line."
        )
    light = meant_offset_boards(before, lane.middle, lane, bowler) - trials[0].offset_boards
    said.append(same_line_words(study, lane, before, trials[0].offset_boards, game - 1))
    if abs(light) >= SAME_BOARDS:
        said.append(_lane_reason(old, lane, light > 0))
        said.append(_film_reason(old, lane, trials[0], light > 0))
    said.append(_gain_reason(lane, before, now))
    return " ".join(words for words in said if words)


def _lane_reason(old: LaneStudy, lane: LaneStudy, less_hook: bool) -> str:
    """That one of the lanes is known to grip more than the other, where its ball answers so."""
    grips = lane.kind.friction / old.kind.friction
    if abs(grips - 1.0) < SAME_GRIP or (grips < 1.0) is not less_hook:
        return ""
    amount = "less" if less_hook else "more"
    return (
        f"Lane {lane.lane} is known to grip {abs(grips - 1.0):.0%} {amount} than lane {old.lane}."
    )


def _film_reason(old: LaneStudy, lane: LaneStudy, trial: Trial, less_hook: bool) -> str:
    """Where under the old line the oil differs most the way that its ball answers: more where it
    hooks less."""
    end_ft = lane.length_m / FOOT_M
    places = [*LOOKED_AT_FT, end_ft - 2.0, end_ft + 4.0]
    changes = []
    for feet in places:
        board = float(np.interp(feet, np.arange(len(trial.path)), trial.path))
        low = max(round(board - WINDOW_BOARDS), 1)
        window = slice(low - 1, round(board + WINDOW_BOARDS))
        there, here = (
            float(np.mean(film_line_units(film, feet * FOOT_M)[window]))
            for film in (old.middle, lane.middle)
        )
        changes.append((here - there if less_hook else there - here, feet, there, here))
    most, feet, there, here = max(changes)
    if most < 0.05:
        return ""
    amount = "more" if less_hook else "less"
    return (
        f"There is {amount} oil under it: {here:.1f} units at {feet:.0f} ft, {there:.1f} before."
    )


def _gain_reason(lane: LaneStudy, before: Line, now: Line) -> str:
    """What the new line is worth more than the old one, of the same ball."""
    if (before.option, before.change) != (now.option, now.change):
        return ""
    grid, value = lane.values.grid, lane.values.mean_value[now.option]
    at = [
        value[
            np.abs(grid.own_laydown - line.own_laydown).argmin(),
            np.abs(grid.angle_rad - line.angle_rad).argmin(),
        ]
        for line in (now, before)
    ]
    gain = float(at[0] - at[1])
    return f"The move is worth {gain:.1f} pins a game." if gain >= 0.05 else ""
