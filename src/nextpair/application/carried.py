"""What one shot leaves: its chance of a strike and its likeliest leaves, by the bowler's side."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nextpair.carry.table import load_table
from nextpair.domain.ball import Ball
from nextpair.domain.bowler import Hand
from nextpair.domain.house import Pinfall
from nextpair.kernel.outcome import Impact
from nextpair.scoring.leaves import leave_text, mirrored_leave

FloatArray = NDArray[np.float64]

LEAVES_TOLD = 8


@dataclass(frozen=True, slots=True)
class Carried:
    """What one shot leaves."""

    strike_probability: float
    leaves: tuple[tuple[str, float], ...]
    """The likeliest with their chances, the strike left out."""
    in_range: bool
    """Whether such shots, with such a ball, are among the racks that were simulated."""


def carried(ball: Ball, impact: Impact, hand: Hand, pinfall: Pinfall) -> Carried:
    """What the first shot of `impact` leaves, in a house that sets its pins by `pinfall`."""
    table = load_table(ball.mass_kg, pinfall)
    shot = impact.offset_boards[0], impact.entry_angle_deg[0], impact.speed_mps[0]
    chances = table.leave_probability(*shot)
    return Carried(
        float(chances[table.leaves.index(0)]),
        likeliest_leaves(table.leaves, chances, hand),
        bool(table.inside_range(*shot)),
    )


def likeliest_leaves(
    leaves: tuple[int, ...], chances: FloatArray, hand: Hand
) -> tuple[tuple[str, float], ...]:
    """Likeliest leaves first, as the hand sees them, with their chances; the strike left out.

    leaves : masks, as in the carry table; chances : (len(leaves),), one each.
    """
    order = sorted(range(len(leaves)), key=lambda i: -chances[i])
    seen = [i for i in order if leaves[i] and chances[i] > 0][:LEAVES_TOLD]
    return tuple(
        (
            leave_text(leaves[i] if hand is Hand.RIGHT else mirrored_leave(leaves[i])),
            float(chances[i]),
        )
        for i in seen
    )
