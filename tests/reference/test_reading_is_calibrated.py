"""Where the truth lies among the draws: anywhere, equally often.

Simulation-based calibration ([talts-2018]) on a few days; `tools/reading.py` takes as many as one
has time for.
"""

from __future__ import annotations

import pytest

from reference.reading_worlds import ranks_of

WORLDS, SHOTS, BINS = 60, 10, 6
CHANCE = 0.01


@pytest.fixture(scope="module")
def ranks():
    return ranks_of(WORLDS, SHOTS, seed=2026)


@pytest.mark.parametrize("name", ["dry_log", "film_log", "speed_mps", "longer_m", "rotation_rad"])
def test_ranks_of_the_truth_are_uniform(ranks, name):
    assert ranks.uniform_p(name, BINS) > CHANCE


@pytest.mark.parametrize("name", ["dry_log", "speed_mps"])
def test_shots_leave_less_doubt(ranks, name):
    assert ranks.left[:, ranks.prior.place(name)].mean() < 0.95


def test_no_belief_grows_wider(ranks):
    """256 draws tell a deviation to a twentieth; a mean of 60 to a hundredth."""
    assert ranks.left.mean(axis=0).max() < 1.05
