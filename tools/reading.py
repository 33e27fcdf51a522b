"""How well the reader reads: ranks of the truth, and a Markov chain with everything free.

    python tools/reading.py --worlds 400 --shots 20 --days 3

Prints two tables; docs/adr/0013 holds what they said. 400 worlds take two minutes of one core, a
day of the chain with eight shots one.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests"))

from nextpair.application.settings import Settings
from nextpair.bootstrap import prepare_compiler

CHAIN_SHOTS, WALKERS, STEPS = 8, 40, 900
BINS = 10


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--worlds", type=int, default=200)
    parser.add_argument("--shots", type=int, default=20)
    parser.add_argument("--days", type=int, default=3, help="of the Markov chain; 0 for none")
    parser.add_argument("--seed", type=int, default=7)
    asked = parser.parse_args()
    # As the program does it, before anything compiled is imported.
    prepare_compiler(Settings())
    if asked.worlds:
        show_ranks(asked.worlds, asked.shots, asked.seed)
    for day in range(asked.days):
        show_chain(day, asked.seed)


def show_ranks(worlds: int, shots: int, seed: int) -> None:
    """For every unknown: how uniform its ranks are, and how much doubt is left."""
    from reference.reading_worlds import ranks_of

    ranks = ranks_of(worlds, shots, seed)
    print(f"{worlds} worlds of {shots} shots: chi-square p of ranks in {BINS} bins, sd left")
    for name, left in zip(ranks.prior.names, ranks.left.mean(axis=0), strict=True):
        print(f"  {name:20}{ranks.uniform_p(name, BINS):8.3f}{left:8.2f}")


def show_chain(day: int, seed: int) -> None:
    """One day's beliefs beside those of the chain, and beside the chain's own two halves."""
    from logged_lanes import LANES, shots_seen, story_of
    from nextpair.reading.prior import usual_prior
    from nextpair.reading.update import update
    from reference.lane_posterior import Posterior, sampled

    prior, story = usual_prior(LANES), story_of(CHAIN_SHOTS)
    rng = np.random.default_rng([seed, day])
    truth = prior.mean + prior.sd * rng.normal(size=len(prior))
    seen = shots_seen(story, prior, truth, rng)
    everything = tuple(range(len(prior)))
    chain = sampled(Posterior(prior, story, seen, everything), WALKERS, STEPS, day)
    reading = update(prior, story, seen, day, draws=2048)
    spread = chain.std(axis=0)
    first, second = np.array_split(chain, 2)
    apart = np.abs(reading.mean - chain.mean(axis=0)) / spread
    own = np.abs(first.mean(axis=0) - second.mean(axis=0)) / spread
    ratio = reading.sd / spread
    print(
        f"day {day}, {CHAIN_SHOTS} shots: means {apart.max():.2f} sd apart at most,"
        f" {apart.mean():.2f} on average; the chain's halves {own.max():.2f} and {own.mean():.2f};"
        f" deviations {ratio.min():.2f} to {ratio.max():.2f} of the chain's"
    )


if __name__ == "__main__":
    main()
