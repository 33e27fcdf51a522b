"""What impacts are worth: strike chance and leaves of many shots, for programs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nextpair.carry.deck import STRIKE, FloatArray
from nextpair.carry.table import load_table
from nextpair.domain.bowler import Hand
from nextpair.domain.house import Pinfall
from nextpair.domain.units import POUND_KG
from nextpair.kernel.outcome import Impact
from nextpair.scoring.leaves import leave_text, mirrored_leave


@dataclass(frozen=True, slots=True, eq=False)
class CarryOdds:
    """What n shots leave.

    strike_probability : (n,).
    leaves : the m leaves there are, as '1-2-10'; the strike is among them as ''.
    leave_probability : (n, m), rows sum to 1.
    drawn : (n,) index of one leave a shot, drawn with the seed.
    in_range : (n,) whether racks were simulated for such an impact and ball; else the odds are
        those of the nearest that were.
    strike_error : (n,) standard error of the strike chance, from the number of racks behind it
        and what smoothing blurs.
    """

    strike_probability: FloatArray
    leaves: tuple[str, ...]
    leave_probability: FloatArray
    drawn: NDArray[np.int64]
    in_range: NDArray[np.bool_]
    strike_error: FloatArray


def carry_of(
    impact: Impact,
    *,
    seed: int = 7,
    ball_lb: float = 15.0,
    hand: Hand | str = Hand.RIGHT,
    pinfall: Pinfall | str = Pinfall.FREE,
) -> CarryOdds:
    """Strike chance and leaves of each impact; `hand` names the pins as that hand sees them.

    `pinfall` is how pins are set, "free" or "string". A shot that did not reach the pins leaves
    all ten. Raises InvalidValueError for a weight that no ball has.
    """
    table = load_table(ball_lb * POUND_KG, Pinfall(pinfall))
    shots = impact.offset_boards, impact.entry_angle_deg, impact.speed_mps
    chances = table.leave_probability(*shots)
    named = table.leaves if Hand(hand) is Hand.RIGHT else tuple(map(mirrored_leave, table.leaves))
    draws = np.random.default_rng(seed).random((len(chances), 1))
    drawn = (chances.cumsum(axis=1) < draws).sum(axis=1)
    return CarryOdds(
        strike_probability=chances[:, table.leaves.index(STRIKE)],
        leaves=tuple(leave_text(leave) for leave in named),
        leave_probability=chances,
        drawn=np.minimum(drawn, len(table.leaves) - 1),
        in_range=table.inside_range(*shots),
        strike_error=table.strike_error(*shots),
    )
