"""Which balls to bring, each at which surface: the best bag under the event's limit, proven.

An option is one ball at one surface. In each game the bowler throws the option of the bag that is
worth most there, so a bag is worth the sum of those over the games. Of bags that are worth the
same the one with fewest balls is taken, then the one first in the table.

This is facility location, solved as a mixed-integer program by branch and bound: the bound meets
the value found, which proves it the best.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csc_array, eye_array, hstack, kron

from nextpair.domain.errors import NextpairError, require

FloatArray = NDArray[np.float64]

EQUAL_PINS = 1e-3
"""Totals closer than this are equal; wide enough for the rounding of the solver."""
PROVEN_GAP = 1e-6
"""Largest share by which the bound may lie above the value found."""


@dataclass(frozen=True, slots=True)
class BagChoice:
    """The bag. `options` are rows of the value table, one a ball, in the table's order."""

    options: tuple[int, ...]
    option_in_game: tuple[int, ...]
    value_pins: float
    """Expected pins of all games together."""
    cost_if_left_pins_per_game: tuple[float, ...]
    """For each of `options`, what a game loses on average without it and nothing in its place."""


def choose_bag(
    value: ArrayLike,
    ball_of_option: Sequence[str],
    limit: int | None,
    required_balls: Sequence[str] = (),
) -> BagChoice:
    """The best bag of at most `limit` balls, at most one surface of each.

    `value` [pins] is (options, games). `required_balls` (spare balls) come in any case and take
    their places; where they have options too, those are there to be thrown. A ball that adds
    nothing is not brought. Raises InvalidValueError where the limit leaves no ball to throw.
    """
    table = np.asarray(value, float)
    require(
        table.ndim == 2 and table.size > 0 and len(table) == len(ball_of_option),
        "value",
        np.shape(value),
        f"(options, games) with {len(ball_of_option)} options",
    )
    require(bool(np.isfinite(table).all()), "value", "not finite", "finite pins")
    required = frozenset(required_balls)
    fewest = len(required) + (not required & set(ball_of_option))
    places = len(ball_of_option) if limit is None else limit - len(required)
    require(
        limit is None or limit >= fewest,
        "ball_limit",
        limit,
        f"{fewest} or more: required, and one to throw",
    )
    options = _best_options(table, tuple(ball_of_option), required, places)
    total = _total(table, options)
    return BagChoice(
        options=options,
        option_in_game=_thrown(table, options),
        value_pins=total,
        cost_if_left_pins_per_game=tuple(
            (total - _total(table, [other for other in options if other != left])) / table.shape[1]
            for left in options
        ),
    )


def _thrown(table: FloatArray, options: Sequence[int]) -> tuple[int, ...]:
    """Best option of a bag in each game; the first in the table of equal ones."""
    ordered = sorted(options)
    return tuple(ordered[row] for row in table[ordered].argmax(axis=0))


def _total(table: FloatArray, options: Sequence[int]) -> float:
    """Value of a bag over all games; nothing is won with an empty one."""
    return float(table[list(options)].max(axis=0).sum()) if options else 0.0


def _best_options(
    table: FloatArray, balls: tuple[str, ...], required: frozenset[str], places: int
) -> tuple[int, ...]:
    """Options that are thrown from the best bag with so many places beside the required balls.

    Unknowns: whether an option is in the bag (O), then whether it is thrown in a game (O, G).
    """
    options, games = table.shape
    taken = np.array([ball not in required for ball in balls], float)
    raised = table - table.min(axis=0)
    tie_break = EQUAL_PINS * (taken + np.arange(options) / options)
    same_ball = csc_array([[float(b == ball) for b in balls] for ball in sorted(set(balls))])
    bring = kron(eye_array(options), np.ones((games, 1)))
    throw = eye_array(options * games)
    one_a_game = kron(np.ones((1, options)), eye_array(games))
    found = milp(
        np.concatenate([tie_break, -raised.ravel()]),
        integrality=np.repeat([1, 0], [options, options * games]),
        bounds=Bounds(0, 1),
        constraints=[
            LinearConstraint(hstack([csc_array(taken[None]), _none(1, throw)]), -np.inf, places),
            LinearConstraint(hstack([same_ball, _none(same_ball.shape[0], throw)]), -np.inf, 1),
            LinearConstraint(hstack([_none(games, bring), one_a_game]), 1, 1),
            LinearConstraint(hstack([-bring, throw]), -np.inf, 0),
        ],
        options={"mip_rel_gap": 0.0},
    )
    if found.status != 0 or found.mip_gap > PROVEN_GAP:
        raise NextpairError(f"bag: the best bag was not proven: {found.message}")
    brought = [int(option) for option in np.flatnonzero(found.x[:options] > 0.5)]
    return tuple(sorted(set(_thrown(table, brought))))


def _none(rows: int, beside: csc_array) -> csc_array:
    """Rows of zeros as wide as a matrix."""
    return csc_array((rows, beside.shape[1]))
