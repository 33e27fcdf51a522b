"""A first look at every option, more coarsely: which of them are worth a full study."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from nextpair.domain.ball import Ball
from nextpair.domain.event import Event
from nextpair.domain.units import DEGREE_RAD
from nextpair.planning.aim import PinValue
from nextpair.planning.choice import bag_choice, insured_bag
from nextpair.planning.doubt import Doubt, outer_doubt
from nextpair.planning.lines import line_grid
from nextpair.planning.options import ball_options
from nextpair.planning.study import Study, lane_study
from nextpair.planning.traffic import LaneFilms

LOOK_STEP_BOARDS = 2.25
LOOK_STEP_RAD = 0.25 * DEGREE_RAD
LOOK_PINS = 3.0
"""Pins by which an option that is worse than the best of a game may yet be as good: two deviations
of what this look is wrong by: against a full study its values stray by 1.3 pins about their mean
error."""
LEAST_GAIN_PINS = 0.2
"""Pins a game, over all games, that an option must be able to gain, were it better in each than
it looks by that much, to be studied further. In many games nearly everything comes close once by
chance: what could not gain this is left out, or 16 games of 62 options would ask for 36 of them
where 8 ask for 13."""


def studied(
    event: Event,
    doubt: Doubt,
    films: LaneFilms,
    pins: PinValue,
    progress: Callable[[str, int, int], None],
) -> Study:
    """Study of every ball at every surface that may be worth bringing."""
    every = ball_options(event)
    grid = line_grid(event.bowler.reach, event.bowler.hand, LOOK_STEP_BOARDS, LOOK_STEP_RAD)
    look = lane_study(
        event, every, outer_doubt(), films, pins,
        lambda _, done, total: progress("looking at every ball", done, total),
        grid=grid,
    )  # fmt: skip
    return replace(
        lane_study(event, worth_studying(look), doubt, films, pins, progress), first_look=look
    )


def worth_studying(look: Study) -> tuple[Ball, ...]:
    """Options that may gain something over what looks best, game by game, and what would be
    brought by this look."""
    by_game = look.answered_values.mean(axis=2)
    short_pins = by_game.max(axis=0) - by_game
    worth = np.maximum(LOOK_PINS - short_pins, 0.0).mean(axis=1) >= LEAST_GAIN_PINS
    worth[list(insured_bag(look, bag_choice(look)).options)] = True
    return tuple(look.options[option] for option in np.flatnonzero(worth))
