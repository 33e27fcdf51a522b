"""Balls for the bad case: what is brought into places that the best bag leaves free.

On average they add nothing, or they would be in the best bag. They are brought for the worst
tenth of what may happen on the lanes; then for the day on which a ball cracks or is refused at
the check: a bag is weighed by its worst tenth with each of its balls out in turn.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import ArrayLike, NDArray

from nextpair.planning.bad_case import worst_tenth
from nextpair.planning.bag import BagChoice

FloatArray = NDArray[np.float64]

LEAST_INSURANCE_PINS = 0.1
"""A ball that adds less than so many pins a game in the bad case stays at home."""


@dataclass(frozen=True, slots=True)
class InsuredBag:
    """The best bag, and what is brought beside it.

    options : rows of the value table, in its order: the best bag's and the others.
    bad_case_pins : expected pins a game in the worst tenth of lanes and games.
    cost_pins, bad_case_cost_pins : for each of `options`, what a game loses without it, on
        average and in the bad case.
    stands_in_for : for each of `options`, the option in whose place it would be thrown if that
        one could not be, and the pins a game that it saves then, None if nothing else were left to
        strike with; None for balls of the best bag.
    """

    best: BagChoice
    options: tuple[int, ...]
    mean_pins: float
    bad_case_pins: float
    cost_pins: tuple[float, ...]
    bad_case_cost_pins: tuple[float, ...]
    stands_in_for: tuple[tuple[int, float | None] | None, ...]


def insure(
    best: BagChoice, value: ArrayLike, ball_of_option: Sequence[str], places: int | None
) -> InsuredBag:
    """A best bag with its free places filled, `places` in all (None = no limit).

    `value` [pins] is (options, cases) as the bag was chosen by. Balls are added in the order of
    what they add in the worst tenth of the cases, then of what they add there with each ball of
    the best bag out in turn; each only while that is LEAST_INSURANCE_PINS and more.
    """
    table = np.asarray(value, float)
    free = len(ball_of_option) if places is None else places - len(best.options)
    brought = list(best.options)
    for measure in (_bad_case, partial(_with_one_out, thrown=best.options)):
        while free > 0 and (added := _next(table, brought, ball_of_option, measure)) is not None:
            brought.append(added)
            free -= 1
    options = tuple(sorted(brought))
    mean, bad = _worth(table, options)
    without = [_worth(table, [o for o in options if o != left]) for left in options]
    return InsuredBag(
        best=best,
        options=options,
        mean_pins=mean,
        bad_case_pins=bad,
        cost_pins=tuple(mean - less for less, _ in without),
        bad_case_cost_pins=tuple(bad - less for _, less in without),
        stands_in_for=tuple(
            None if option in best.options else _stands_in_for(table, option, options, best)
            for option in options
        ),
    )


Measure = Callable[[FloatArray, Sequence[int]], float]


def _bad_case(table: FloatArray, brought: Sequence[int]) -> float:
    return _worth(table, brought)[1]


def _with_one_out(table: FloatArray, brought: Sequence[int], thrown: Sequence[int]) -> float:
    """Mean over the balls that are thrown of the bad case without each."""
    return float(np.mean([_bad_case(table, [o for o in brought if o != out]) for out in thrown]))


def _worth(table: FloatArray, options: Sequence[int]) -> tuple[float, float]:
    """Mean and bad case of a bag; nothing is won with an empty one."""
    if not options:
        return 0.0, 0.0
    held = table[list(options)].max(axis=0)
    return float(held.mean()), float(worst_tenth(held))


def _next(
    table: FloatArray, brought: Sequence[int], balls: Sequence[str], measure: Measure
) -> int | None:
    """The option of a ball not yet brought that adds most by a measure, if it adds enough."""
    names = {balls[option] for option in brought}
    others = [option for option, ball in enumerate(balls) if ball not in names]
    gains = {option: measure(table, [*brought, option]) for option in others}
    best = max(gains, key=lambda option: gains[option], default=None)
    if best is None or gains[best] - measure(table, brought) < LEAST_INSURANCE_PINS:
        return None
    return best


def _stands_in_for(
    table: FloatArray, option: int, options: tuple[int, ...], best: BagChoice
) -> tuple[int, float | None]:
    """The ball of the best bag that an option saves most of, were it out, on average; None for the
    pins where the two are all there is."""
    saved = {}
    for out in best.options:
        rest = [other for other in options if other not in (out, option)]
        saved[out] = _worth(table, [*rest, option])[0] - _worth(table, rest)[0]
    out = max(saved, key=lambda other: saved[other])
    return out, saved[out] if len(options) > 2 else None
