"""Which balls to bring, each at which surface: the best bag under the event's limit, proven.

An option is one ball at one surface. In each game the bowler throws the option of the bag that is
worth most on average over the doubt about the lanes, so a bag is worth the sum of those over the
games. Bags within a tenth of a pin a game of the best are as good; of them the one whose worst
draw of the doubt is best is taken, then the one worth most, then the one with fewest balls, then
the one first in the table.

This is facility location, solved as a mixed-integer program by branch and bound: the bound meets
the value found, which proves it the best.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array, eye_array, hstack, kron

from nextpair.domain.errors import NextpairError, require

FloatArray = NDArray[np.float64]

AS_GOOD_PINS_PER_GAME = 0.1
"""Bags closer than this to the best are taken as equal in the mean."""
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
    worst_pins: float
    """The same in the worst draw of the doubt."""
    cost_if_left_pins_per_game: tuple[float, ...]
    """For each of `options`, what a game loses on average without it and nothing in its place."""
    without_limit: BagChoice | None = None
    """The best bag if every ball could come; None where no limit was set."""


@dataclass(frozen=True, slots=True)
class _Table:
    """Value of each option [pins] by game and draw of the doubt (O, G, D), and its ball."""

    by_draw: FloatArray
    balls: tuple[str, ...]
    required: frozenset[str]

    @property
    def mean(self) -> FloatArray:
        """Value (O, G) on average over the draws."""
        return np.asarray(self.by_draw.mean(axis=2))

    def above_least(self) -> _Table:
        """The same table counted from the least mean of each game, for small numbers."""
        return replace(self, by_draw=self.by_draw - self.mean.min(axis=0)[None, :, None])

    def option_in_game(self, options: Sequence[int]) -> tuple[int, ...]:
        """Best option of a bag in each game; the first in the table of equal ones."""
        ordered = sorted(options)
        return tuple(ordered[row] for row in self.mean[ordered].argmax(axis=0))

    def value(self, options: Sequence[int]) -> float:
        """Mean value of a bag over all games; nothing is won with an empty one."""
        return float(self.mean[list(options)].max(axis=0).sum()) if options else 0.0

    def worst(self, options: Sequence[int]) -> float:
        """Value of a bag in its worst draw, each game with the option that is best on average."""
        thrown = list(self.option_in_game(options))
        return float(self.by_draw[thrown, range(len(thrown))].sum(axis=0).min())


def choose_bag(
    value: ArrayLike,
    ball_of_option: Sequence[str],
    limit: int | None,
    required_balls: Sequence[str] = (),
) -> BagChoice:
    """The best bag of at most `limit` balls, at most one surface of each.

    `value` [pins] is (options, games), or (options, games, draws) where the doubt about the lanes
    is drawn. `required_balls` (spare balls) come in any case and take their places; where they
    have options too, those are there to be thrown. A ball that adds nothing is not brought.
    Raises InvalidValueError where the limit leaves no ball to throw.
    """
    by_draw = np.asarray(value, float)
    by_draw = by_draw[:, :, None] if by_draw.ndim == 2 else by_draw
    require(
        by_draw.ndim == 3 and by_draw.size > 0 and len(by_draw) == len(ball_of_option),
        "value",
        np.shape(value),
        f"(options, games) or (options, games, draws) with {len(ball_of_option)} options",
    )
    require(bool(np.isfinite(by_draw).all()), "value", "not finite", "finite pins")
    table = _Table(by_draw, tuple(ball_of_option), frozenset(required_balls))
    if limit is None:
        return _bag(table, _best_options(table, len(table.balls)), None)
    fewest = len(table.required) + (not table.required & set(table.balls))
    require(limit >= fewest, "ball_limit", limit, f"{fewest} or more: required, and one to throw")
    options = _best_options(table, limit - len(table.required))
    return _bag(table, options, choose_bag(value, ball_of_option, None, required_balls))


def _bag(table: _Table, options: tuple[int, ...], without_limit: BagChoice | None) -> BagChoice:
    in_game = table.option_in_game(options)
    value = table.value(options)
    left_out = [table.value([other for other in options if other != left]) for left in options]
    return BagChoice(
        options=options,
        option_in_game=in_game,
        value_pins=value,
        worst_pins=table.worst(options),
        cost_if_left_pins_per_game=tuple((value - rest) / len(in_game) for rest in left_out),
        without_limit=without_limit,
    )


def _best_options(table: _Table, places: int) -> tuple[int, ...]:
    """Options that are thrown from the best bag with so many places beside the required balls."""
    raised = table.above_least()
    program = _Program(raised, places)
    slack = AS_GOOD_PINS_PER_GAME * table.by_draw.shape[1]
    program.keep(program.mean, raised.value(program.best(program.mean)) - slack)
    program.keep(program.worst, raised.worst(program.best(program.worst)))
    most = program.best(program.mean - EQUAL_PINS * (program.places + program.order))
    return tuple(sorted(set(raised.option_in_game(most))))


class _Program:
    """The mixed-integer program of one table. What is kept narrows the bags still allowed.

    Unknowns: whether an option is in the bag (O); whether an option at least as good as this one
    in this game is in the bag (O, G); the value of the worst draw (1). The second are cumulative
    in the order of merit, so their steps say which option is thrown. Goals (`mean`, `worst`,
    `places`, `order` in the table) are vectors over the unknowns.
    """

    def __init__(self, table: _Table, places: int) -> None:
        options, games, draws = table.by_draw.shape
        self._widths = (options, options * games, 1)
        thrown = _steps_in_order_of_merit(table.mean)
        taken = np.array([ball not in table.required for ball in table.balls], float)
        self.mean = np.concatenate([np.zeros(options), table.mean.ravel() @ thrown, np.zeros(1)])
        self.worst = np.zeros(sum(self._widths))
        self.worst[-1] = 1.0
        self.places = np.concatenate([taken, np.zeros(options * games + 1)])
        self.order = np.zeros(sum(self._widths))
        self.order[:options] = np.arange(options) / options

        same_ball = [[b == ball for b in table.balls] for ball in sorted(set(table.balls))]
        brought = kron(eye_array(options), np.ones((games, 1)))
        one_a_game = kron(np.ones((1, options)), eye_array(games)) @ thrown
        by_draw = table.by_draw.reshape(-1, draws).T @ thrown
        self._constraints = [
            LinearConstraint(self.places[None, :], -np.inf, places),
            self._rows(np.array(same_ball, float), None, None, -np.inf, 1),
            self._rows(None, one_a_game, None, 1, 1),
            self._rows(None, thrown, None, 0, np.inf),
            self._rows(-brought, thrown, None, -np.inf, 0),
            self._rows(-brought, eye_array(options * games), None, 0, np.inf),
            self._rows(None, -by_draw, np.ones((draws, 1)), -np.inf, 0),
        ]

    def keep(self, goal: FloatArray, at_least: float) -> None:
        """Allow from now on only bags that reach so much of a goal."""
        self._constraints.append(LinearConstraint(goal[None, :], at_least - EQUAL_PINS, np.inf))

    def best(self, goal: FloatArray) -> tuple[int, ...]:
        """Options of the bag with most of a goal; NextpairError where it is not proven."""
        bounds = Bounds(np.zeros(len(goal)), np.ones(len(goal)))
        bounds.lb[-1], bounds.ub[-1] = -np.inf, np.inf
        found = milp(
            -goal,
            integrality=np.arange(len(goal)) < self._widths[0],
            bounds=bounds,
            constraints=self._constraints,
            options={"mip_rel_gap": 0.0},
        )
        if found.status != 0 or found.mip_gap > PROVEN_GAP:
            raise NextpairError(f"bag: the best bag was not proven: {found.message}")
        return tuple(int(option) for option in np.flatnonzero(found.x[: self._widths[0]] > 0.5))

    def _rows(self, bring: Any, reached: Any, worst: Any, low: float, high: float) -> Any:
        """Constraint from its blocks of columns; None stands for no part in it."""
        blocks = (bring, reached, worst)
        height = next(block.shape[0] for block in blocks if block is not None)
        columns = [
            coo_array((height, width)) if block is None else block
            for block, width in zip(blocks, self._widths, strict=True)
        ]
        return LinearConstraint(hstack(columns, format="csc"), low, high)


def _steps_in_order_of_merit(mean: FloatArray) -> Any:
    """Matrix (O G, O G) that takes from each option's unknown the one of the next better option.

    Equal options keep the table's order, as in `_Table.option_in_game`.
    """
    order = np.argsort(-mean, axis=0, kind="stable")
    place = order * mean.shape[1] + np.arange(mean.shape[1])
    here, better = place[1:].ravel(), place[:-1].ravel()
    steps = coo_array((-np.ones(here.size), (here, better)), shape=(mean.size, mean.size))
    return (eye_array(mean.size) + steps).tocsr()
