"""What hands, pairs and squads give or take, everybody's own form allowed for.

A game's pins are the field's mean, the bowler's level, and an effect of each group that the game
belongs to, plus noise. Levels and effects are normal about nothing, with known spreads; together
they are one set of linear equations, from which the bowlers are eliminated first. An effect is so
drawn toward nothing as far as its games leave it in doubt: what little noise would make is not
told as an effect.

Source: [gelman-2013] chapter 15: groups crossed with one another, each drawn toward its mean.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from nextpair.tournament.field_model import Floats, Wholes

EFFECT_SD_PINS = 5.0
"""Of what a hand, a pair, a squad or a game gives or takes, before anything was bowled.
Assumption."""
UNKNOWN = -1


@dataclass(frozen=True, slots=True, eq=False)
class Grouping:
    """One way to part the games: (n, games) group of each, from 0; UNKNOWN for one that is in
    none."""

    groups: Wholes = field(repr=False)
    count: int


@dataclass(frozen=True, slots=True, eq=False)
class Effects:
    """(count,) pins a game that each group of one grouping is above the games of all of them, and
    the standard deviations of that."""

    pins: Floats
    sd_pins: Floats


def effects_of(
    pins: Floats,
    groupings: Sequence[Grouping],
    game_sd_pins: float,
    bowler_sd_pins: float,
) -> tuple[Effects, ...]:
    """The effects of each grouping on (n, games) pins, what is expected of every bowler taken
    off; not a number is a game that nobody wrote down."""
    bowlers, numbers = np.nonzero(~np.isnan(pins))
    counts = [grouping.count for grouping in groupings]
    starts = 1 + np.cumsum([0, *counts])
    design = np.zeros((len(bowlers), starts[-1]))
    design[:, 0] = 1.0
    for start, grouping in zip(starts, groupings, strict=False):
        group = grouping.groups[bowlers, numbers]
        rows = np.flatnonzero(group != UNKNOWN)
        design[rows, start + group[rows]] = 1.0
    scored = pins[bowlers, numbers]
    sums, totals = np.zeros((len(pins), starts[-1])), np.zeros(len(pins))
    np.add.at(sums, bowlers, design)
    np.add.at(totals, bowlers, scored)
    bowled = np.bincount(bowlers, minlength=len(pins))
    shared = bowler_sd_pins**2 / (game_sd_pins**2 + bowled * bowler_sd_pins**2)
    left = (design.T @ design - sums.T @ (shared[:, None] * sums)) / game_sd_pins**2
    right = (design.T @ scored - sums.T @ (shared * totals)) / game_sd_pins**2
    left[np.arange(1, starts[-1]), np.arange(1, starts[-1])] += EFFECT_SD_PINS**-2
    doubts = np.linalg.inv(left)
    found, games = doubts @ right, design.sum(axis=0)
    return tuple(
        _beside_all(found[span], doubts[span, span], games[span])
        for span in (
            slice(start, start + count) for start, count in zip(starts, counts, strict=False)
        )
    )


def _beside_all(pins: Floats, doubts: Floats, games: Floats) -> Effects:
    """Effects less their mean over all games of the grouping: the field's mean and a shift of all
    groups cannot be told apart, so that only what sets a group off is known."""
    off = np.eye(len(pins)) - games / max(games.sum(), 1)
    return Effects(off @ pins, np.sqrt(np.diag(off @ doubts @ off.T)))
