"""How far two films are apart as a bowler feels it: a metric over films, in feet of length.

A film is a float64 array (CELLS, BOARDS) of micrometres, as `physics.film` has it. Two patterns
that are alike but for their length are about as far apart as one is longer.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.lane import BOARDS, CELL_M
from nextpair.domain.units import FOOT_M
from nextpair.physics.film import Film, film_units, volume_ml

FELT_UNITS = 3.0
"""Film at which oil takes all but 1/e of the grip. [facts] section 4: for decades the least film
allowed anywhere; the friction law has it for a cover of 2000 grit."""
FT_PER_BOARD = 0.5
FT_PER_ML = 0.1
"""Feet of length that a board counts by which oil lies elsewhere across the lane, and a millilitre
that lies elsewhere. Assumption: grip decides, and the shape under thick film is felt as it wears.
Tested by tools/relatives.py: larger ones tell less well which patterns are played alike."""


@dataclass(frozen=True, slots=True)
class FilmDistance:
    """How far two films are apart, and in what.

    grip_ft : feet of lane, mean over the boards, that slide on one film and grip on the other.
    across_boards : how far oil would have to be carried sideways, on average, to lie across the
        lane as on the other; whatever the amount.
    oil_ml : oil that would have to be put on or taken off.
    """

    grip_ft: float
    across_boards: float
    oil_ml: float

    @property
    def feet(self) -> float:
        """All of it, in feet of length."""
        return self.grip_ft + FT_PER_BOARD * self.across_boards + FT_PER_ML * self.oil_ml


def film_distance(one: Film, other: Film) -> FilmDistance:
    """How far two films [um] are apart. A metric: 0 for the same film alone, the same both ways,
    and no farther than by way of a third one.

    Source: sum of the L1 distance of two maps and the earth mover's distance in one dimension.
    """
    return FilmDistance(
        grip_ft=_mean_ft(np.abs(felt_share(one) - felt_share(other))),
        across_boards=float(np.abs(np.cumsum(_across(one) - _across(other))).sum()),
        oil_ml=volume_ml(np.abs(one - other)),
    )


def felt_share(film_um: Film) -> Film:
    """Share of a dry lane's grip that a film [um] takes away, 0 to 1, cell by cell.

    Source: closed form, 1 - exp(-film / FELT_UNITS); assumption.
    """
    return -np.expm1(-film_units(film_um) / FELT_UNITS)


def _mean_ft(share: Film) -> float:
    """Feet of lane that are full shares, mean over the boards."""
    return float(share.sum()) * CELL_M / FOOT_M / BOARDS


def _across(film_um: Film) -> NDArray[np.float64]:
    """Share of the oil on each board (BOARDS,); a dry lane's lies evenly."""
    by_board = film_um.sum(axis=0)
    whole = by_board.sum()
    return by_board / whole if whole > 0 else np.full(BOARDS, 1.0 / BOARDS)
