"""What is believed before the shots."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from nextpair.domain.errors import InvalidValueError
from nextpair.domain.unknowns import DRY_LOG, OF_A_LANE, OF_THE_BOWLER, OWN_FILM_LOG, SHARED
from nextpair.reading.prior import usual_prior


def test_everything_is_as_planned_with_the_usual_spreads():
    prior = usual_prior((3, 4, 3))
    assert len(prior) == len(SHARED) + len(OF_THE_BOWLER) + 2 * len(OF_A_LANE)
    assert prior.lanes == (3, 4)
    np.testing.assert_array_equal(prior.mean, 0.0)
    assert prior.sd[prior.place("dry_log")] == DRY_LOG.spread
    assert prior.sd[prior.place("lane_4_film_log")] == OWN_FILM_LOG.spread


def test_a_known_house_moves_one_belief_alone():
    usual, known = usual_prior((3,)), usual_prior((3,), {"dry_log": (0.1, 0.02)})
    place = usual.place("dry_log")
    assert (known.mean[place], known.sd[place]) == (0.1, 0.02)
    np.testing.assert_array_equal(np.delete(known.sd, place), np.delete(usual.sd, place))


def test_what_nobody_doubts_is_refused():
    with pytest.raises(InvalidValueError, match="known"):
        usual_prior((3,), {"lane_4_dry_log": (0.0, 0.1)})
    with pytest.raises(InvalidValueError, match="name"):
        usual_prior((3,)).place("luck")


def test_a_belief_without_a_spread_is_refused():
    prior = usual_prior((3,))
    with pytest.raises(InvalidValueError, match="sd"):
        replace(prior, sd=0.0 * prior.sd)
    with pytest.raises(InvalidValueError, match="mean"):
        replace(prior, mean=prior.mean[1:])
