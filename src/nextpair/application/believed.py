"""What is believed after some shots, as the doubt that planning goes by."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from nextpair.application.names import lane_of
from nextpair.domain.belief import Draws
from nextpair.domain.bowler import Bowler
from nextpair.domain.unknowns import (
    CARRY_LOG,
    DRY_LOG,
    FILM_LOG,
    FLATTER_LOG,
    INSIDE_BOARDS,
    LONGER_M,
    OWN_DRY_LOG,
    OWN_FILM_LOG,
    REVS_LOG,
    ROTATION_RAD,
    SPEED_MPS,
    WEAR_LOG,
    Unknown,
)
from nextpair.kernel.throws import Form
from nextpair.physics.film_draws import film_draws
from nextpair.planning.doubt import Doubt, LaneDraws, lane_doubt
from nextpair.reading.update import Reading

FloatArray = NDArray[np.float64]


def belief_of(reading: Reading) -> Draws:
    """The draws of a reading, as a document holds them."""
    return Draws(reading.names, tuple(map(tuple, reading.draws.tolist())))


def picked_rows(belief: Draws, count: int) -> NDArray[np.int64]:
    """Rows of a belief that stand for all: `count` of them, evenly from first to last."""
    count = min(count, len(belief))
    return np.linspace(0, len(belief) - 1, count).round().astype(np.int64)


def doubt_of(belief: Draws, bowler: Bowler, count: int, seed: int) -> Doubt:
    """The doubt whose lanes and days are draws of a belief, `count` of them evenly from all.

    What a belief does not speak of is as planned; the time in a game and the traffic of others are
    drawn as before the first shot.
    """
    picked = picked_rows(belief, count)

    def drawn(unknown: Unknown, lane: int | None = None) -> FloatArray:
        name = unknown.name if lane is None else unknown.on(lane)
        if name not in belief.names:
            return np.zeros(len(picked))
        return np.asarray(np.array(belief.column(name))[picked])

    numbers = {lane for name in belief.names if (lane := lane_of(name)) is not None}
    revs_radps = bowler.release.rev_rate_radps
    return replace(
        lane_doubt(len(picked), seed),
        dry_factor=np.exp(drawn(DRY_LOG)),
        oil=film_draws(
            film_factor=np.exp(drawn(FILM_LOG)),
            wear_factor=np.exp(drawn(WEAR_LOG)),
            carry_factor=np.exp(drawn(CARRY_LOG)),
            flatter=drawn(FLATTER_LOG),
            longer_m=drawn(LONGER_M),
        ),
        form=Form(
            speed_mps=drawn(SPEED_MPS),
            rev_rate_radps=revs_radps * np.expm1(drawn(REVS_LOG)),
            axis_rotation_rad=drawn(ROTATION_RAD),
        ),
        lanes={
            lane: LaneDraws(
                np.exp(drawn(OWN_DRY_LOG, lane)),
                np.exp(drawn(OWN_FILM_LOG, lane)),
                drawn(INSIDE_BOARDS, lane),
            )
            for lane in sorted(numbers)
        },
    )
