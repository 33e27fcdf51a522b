"""What lasts of a house's friction, beside the joint normal of house and days, conditioned on what
each day's shots said.

Closed form: the mean and the covariance of some of jointly normal numbers once others are known.
"""

from __future__ import annotations

from datetime import date, timedelta
from uuid import uuid4

import numpy as np
import pytest
from scipy.stats import lognorm

from nextpair.application.house_book import house_friction
from nextpair.domain.house import House, LaneSurface
from nextpair.domain.house_book import Learned, Visit
from nextpair.domain.unknowns import DRY_LOG
from nextpair.reading.lasting import LASTING_SHARE, lasting

TOLERANCE = 1e-9
"""Two ways to solve the same equations in double precision."""
VARIANCE = DRY_LOG.spread**2
DAYS = [(0.05, 0.03, 0.0), (-0.02, 0.05, 0.04), (0.11, 0.01, -0.03)]
"""What the shots of each day said of its friction, how surely, and where its read began."""


def read_of(said, noise_sd, before):
    """The belief of a day's read that began at `before`: one normal times another."""
    precision = 1 / VARIANCE + 1 / noise_sd**2
    mean = (before / VARIANCE + said / noise_sd**2) / precision
    return Learned("dry_log", before, DRY_LOG.spread, mean, precision**-0.5)


def conditioned(days, about):
    """Mean and deviation of the house's own friction, given all days at once."""
    count = len(days)
    said = np.array([day[0] for day in days])
    noise = np.diag([day[1] ** 2 for day in days])
    lasts, of_a_day = LASTING_SHARE * VARIANCE, (1 - LASTING_SHARE) * VARIANCE
    known = np.full((count, count), lasts) + of_a_day * np.eye(count) + noise
    gain = np.linalg.solve(known, np.full(count, lasts))
    return about + gain @ (said - about), np.sqrt(lasts - gain.sum() * lasts)


@pytest.mark.parametrize("about", [0.0, 0.06])
@pytest.mark.parametrize("many", [1, 2, 3])
def test_what_lasts_is_the_joint_normals_conditional(many, about):
    days = DAYS[:many]
    found = lasting("dry_log", [read_of(*day) for day in days], about)
    assert (found.mean, found.sd) == pytest.approx(conditioned(days, about), abs=TOLERANCE)


def test_a_houses_factor_has_the_interval_of_a_lognormal():
    """Visits read with other frictions in the house's file, all brought to the same zero."""
    files = (1.0, 1.03, 0.98)
    visits = [
        Visit(
            uuid4(),
            date(2026, 1, 1) + timedelta(days=number),
            friction=friction,
            learned=(read_of(said - np.log(friction), noise_sd, 0.0),),
        )
        for number, (friction, (said, noise_sd, _)) in enumerate(zip(files, DAYS, strict=True))
    ]
    house = House("Quay Street Bowl", 24, LaneSurface.WOOD, 9.0, friction=0.98)
    found = house_friction(house, visits).house
    mean, sd = conditioned(DAYS, 0.0)
    assert found.factor == pytest.approx(np.exp(mean), abs=TOLERANCE)
    low, high = lognorm.interval(0.8, sd, scale=np.exp(mean))
    assert (found.low, found.high) == pytest.approx((low, high), rel=1e-5)
