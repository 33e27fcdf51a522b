"""From strike and leaves to the numbers of a game: expected score and its interval.

The doubt about a lane is a set of draws. Within a draw racks are independent; over the draws the
distributions are mixed, so the interval holds both the pins' luck and what is not known of the
lane.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from nextpair.domain.errors import require, require_within
from nextpair.planning.bad_case import worst_tenth
from nextpair.scoring.game_value import (
    FirstBall,
    FrameOdds,
    expected_score,
    frame_odds_of,
    score_distribution,
    score_interval,
)
from nextpair.scoring.leaves import PINS

ScoreInterval = tuple[int, int]


def pins_if_missed(standing: int) -> int:
    """Pins that a second ball takes of so many that it does not clear: half, rounded down.

    Source: assumption; a missed pair is mostly a single chopped off, a missed single is a miss.
    """
    return standing // 2


def frame_odds(
    strike: float,
    leave_masks: Sequence[int] | NDArray[np.integer],
    leave_probability: ArrayLike,
    spare_chance: ArrayLike,
) -> FrameOdds:
    """Odds of one rack from the strike chance and, for each leave, its share and spare chance.

    All three sequences have one entry a leave. The shares are scaled so that they make up what
    the strike leaves over; an entry whose mask is 0 is a strike and is passed over. Raises
    InvalidValueError where a chance is outside 0 to 1 or no leave is left to take the rest.
    """
    require_within("strike", strike, 0, 1, "")
    share = np.asarray(leave_probability, float)
    spare = np.asarray(spare_chance, float)
    leaves = np.asarray(leave_masks, int)
    require(
        share.shape == spare.shape == leaves.shape == (len(leaves),),
        "leaves",
        (len(leaves), share.shape, spare.shape),
        "one probability and one spare chance for each leave",
    )
    for field, values, highest in (
        ("leave_probability", share, np.inf),
        ("spare_chance", spare, 1),
    ):
        for value in (values.min(initial=0.0), values.max(initial=0.0)):
            require_within(field, float(value), 0, highest, "")
    standing = np.bitwise_count(leaves)
    left, made = (
        np.bincount(standing, weights, minlength=PINS + 1)[1:]
        for weights in (share, share * spare)
    )
    total = float(left.sum())
    require(total > 0 or strike == 1, "leave_probability", total, "more than 0 in all")
    return frame_odds_of(
        strike,
        (
            FirstBall(
                pins=PINS - count,
                probability=float(some / total) * (1 - strike),
                spare_chance=min(float(spares / some), 1.0),
                missed_pins=(*[0.0] * pins_if_missed(count), 1.0),
            )
            for count, (some, spares) in enumerate(zip(left, made, strict=True), 1)
            if some > 0
        ),
    )


def game_numbers(
    lane: Sequence[FrameOdds],
    other_lane: Sequence[FrameOdds],
    weights: ArrayLike | None = None,
    share: float = 0.8,
) -> tuple[float, ScoreInterval]:
    """Expected score, and the interval that holds the middle `share` of games.

    `lane` and `other_lane` have one entry for each draw of the doubt; frames 1, 3, 5, 7 and 9
    are on `lane`. Draws weigh the same unless `weights` says otherwise.
    """
    require(
        len(lane) == len(other_lane) > 0,
        "draws",
        (len(lane), len(other_lane)),
        "the same number of draws for both lanes, at least one",
    )
    weight = np.ones(len(lane)) if weights is None else np.asarray(weights, float)
    pairs = list(zip(lane, other_lane, strict=True))
    scores = [expected_score(here, there) for here, there in pairs]
    chances = [score_distribution(here, there) for here, there in pairs]
    mixed = np.average(chances, axis=0, weights=weight)
    return float(np.average(scores, weights=weight)), score_interval(mixed.tolist(), share)


def bad_case_score(lane: Sequence[FrameOdds], other_lane: Sequence[FrameOdds]) -> float:
    """Expected score in the worst tenth of the draws of the doubt, given as in `game_numbers`."""
    scores = [expected_score(here, there) for here, there in zip(lane, other_lane, strict=True)]
    return float(worst_tenth(scores))


def odds_by_draw(
    leaves: NDArray[np.float64],
    leave_masks: Sequence[int],
    spare_chance: ArrayLike,
) -> list[FrameOdds]:
    """Odds of one lane in each draw, from the chance of every leave (d, leaves)."""
    strike = leave_masks.index(0)
    return [
        frame_odds(min(float(chances[strike]), 1.0), leave_masks, chances, spare_chance)
        for chances in leaves
    ]
