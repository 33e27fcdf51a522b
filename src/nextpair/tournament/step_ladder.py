"""A step ladder: the two lowest seeds meet, and the winner meets the next one up, to the first."""

from __future__ import annotations

import numpy as np

from nextpair.tournament.field_model import Wholes
from nextpair.tournament.match import MatchPlay


def step_ladder(play: MatchPlay) -> Wholes:
    """(draws, k) seeds by final place. Nobody has a second chance, the first seed neither."""
    seeds = play.seeds
    climbing, placed = seeds[:, -1:], []
    for step in reversed(range(seeds.shape[1] - 1)):
        climbing, out = play.played(seeds[:, step : step + 1], climbing)
        placed.append(out)
    return np.concatenate([climbing, *reversed(placed)], axis=1)
