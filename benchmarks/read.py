"""What it costs to read the lane: one core's seconds of an update with thirty logged shots."""

from __future__ import annotations

import numpy as np

from benchmarks.clocks import by_turns
from benchmarks.rates import threads
from logged_lanes import LANES, shots_seen, story_of
from nextpair.reading.prior import usual_prior
from nextpair.reading.update import update

SHOTS = 30
SEED = 7


def read_costs(runs: int) -> dict[str, float]:
    """CPU-seconds of one thread, the median of the runs."""
    prior, story = usual_prior(LANES), story_of(SHOTS)
    rng = np.random.default_rng(SEED)
    truth = prior.mean + prior.sd * rng.normal(size=len(prior))
    seen = shots_seen(story, prior, truth, rng)
    with threads(1):
        took_s = by_turns({"read": lambda: update(prior, story, seen, SEED)}, runs)
    return {"read.cpu_s": float(np.median(took_s["read"]))}
