"""Films as they may really be: laid otherwise than on paper, worn otherwise than planned."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from nextpair.domain.lane import BOARDS, CELL_M, CELLS, CENTRE_BOARD

FloatArray = NDArray[np.float64]

FROM_MIDDLE: FloatArray = np.abs(np.arange(1, BOARDS + 1) - CENTRE_BOARD) / (CENTRE_BOARD - 1)
OUTWARD: FloatArray = 2.0 * FROM_MIDDLE - 1.0
"""-1 on the middle board, +1 at the gutters: what a flatter pattern has more of outside."""


@dataclass(frozen=True, slots=True)
class FilmDraws:
    """d ways in which a lane's oil may differ from what is planned; arrays (d,).

    film_factor : on all the oil there is.
    wear_factor : on what traffic has changed.
    carry_factor : on what of it was carried to a place, beside what was taken from it.
    flatter : logarithm by which the boards at the gutters have more oil than planned, and the
        middle one less.
    longer_m : how much farther the oil reaches; places are stretched, films are kept.
    """

    film_factor: FloatArray
    wear_factor: FloatArray
    carry_factor: FloatArray
    flatter: FloatArray
    longer_m: FloatArray

    def __len__(self) -> int:
        return len(self.film_factor)


def film_draws(
    *,
    film_factor: ArrayLike = 1.0,
    wear_factor: ArrayLike = 1.0,
    carry_factor: ArrayLike = 1.0,
    flatter: ArrayLike = 0.0,
    longer_m: ArrayLike = 0.0,
) -> FilmDraws:
    """Draws from arrays (d,) or single numbers, broadcast against each other; what is left out is
    as planned."""
    columns = np.broadcast_arrays(
        *(
            np.atleast_1d(np.asarray(column, float))
            for column in (film_factor, wear_factor, carry_factor, flatter, longer_m)
        )
    )
    return FilmDraws(*(np.array(column) for column in columns))


def drawn_films(
    fresh_um: FloatArray, worn_um: FloatArray, draws: FilmDraws, length_m: float
) -> FloatArray:
    """Films (d, 120, 39) of one lane under every draw.

    Parameters
    ----------
    fresh_um : film as laid (120, 39) [um].
    worn_um : film at some time as planned, one (120, 39) or one for each draw (d, 120, 39) [um].
    draws : how oil and wear differ.
    length_m : of the pattern on paper.

    Without a difference the films are the worn ones, to the last digit.

    Source: closed form, factors on what is there; that what traffic changes goes in proportion is
    an assumption, tested by film readings before and after play.
    """
    changed = np.broadcast_to(worn_um, (len(draws), *fresh_um.shape)) - fresh_um
    if (draws.carry_factor != 1.0).any():
        carried = np.maximum(changed, 0.0)
        changed = changed + (draws.carry_factor - 1.0)[:, None, None] * carried
    films = np.maximum(fresh_um + draws.wear_factor[:, None, None] * changed, 0.0)
    films *= draws.film_factor[:, None, None]
    if draws.flatter.any():
        films *= np.exp(draws.flatter[:, None] * OUTWARD)[:, None, :]
    if draws.longer_m.any():
        films = _stretched(films, length_m / (length_m + draws.longer_m))
    return np.asarray(films)


def _stretched(films: FloatArray, share: FloatArray) -> FloatArray:
    """Films (d, 120, 39) that hold everywhere what they held at a share (d,) of the distance."""
    places = (np.arange(CELLS) + 0.5) * CELL_M
    at = np.clip(share[:, None] * places / CELL_M - 0.5, 0.0, CELLS - 1.0)
    below = np.minimum(at.astype(int), CELLS - 2)
    part = (at - below)[:, :, None]
    rows = np.arange(len(films))[:, None]
    return np.asarray((1.0 - part) * films[rows, below] + part * films[rows, below + 1])
