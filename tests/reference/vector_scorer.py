"""Many games at once, drawn and added up in arrays with nothing of the program's scoring."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

RACKS = 12
FRAMES = 10
TEN = 10


def drawn_balls(
    first: Sequence[Sequence[float]],
    second: Sequence[Sequence[Sequence[float]]],
    games: int,
    rng: np.random.Generator,
) -> tuple[np.ndarray, np.ndarray]:
    """Pins of the first and second balls at twelve racks: ten frames and two of fill balls.

    `first[rack]` are the chances of 0 to 10 pins, `second[rack][k]` those of a second ball's pins
    after k; after a strike the second ball is 0.
    """
    firsts = np.zeros((RACKS, games), np.int16)
    seconds = np.zeros((RACKS, games), np.int16)
    for rack in range(RACKS):
        firsts[rack] = np.searchsorted(np.cumsum(first[rack]), rng.random(games), side="right")
        np.minimum(firsts[rack], TEN, out=firsts[rack])
        for pins in range(TEN):
            at = np.flatnonzero(firsts[rack] == pins)
            edges = np.cumsum(second[rack][pins])
            drawn = np.searchsorted(edges, rng.random(at.size), side="right")
            seconds[rack, at] = np.minimum(drawn, TEN - pins)
    return firsts, seconds


def vector_scores(firsts: np.ndarray, seconds: np.ndarray) -> np.ndarray:
    """Scores of games by their racks: a strike earns two balls, a spare one."""
    strike = firsts == TEN
    spare = ~strike & (firsts + seconds == TEN)
    total = np.zeros(firsts.shape[1], np.int16)
    for frame in range(FRAMES):
        following = firsts[frame + 1]
        after = seconds[frame + 1]
        if frame + 2 < RACKS:
            after = np.where(strike[frame + 1], firsts[frame + 2], after)
        total += firsts[frame] + seconds[frame]
        total += np.where(strike[frame], following + after, 0)
        total += np.where(spare[frame], following, 0)
    return total
