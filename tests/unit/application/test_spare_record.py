"""Spares against one's own chances: the exact distribution of how many are made."""

from __future__ import annotations

from math import comb

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import expit, logit
from scipy.stats import binom

from nextpair.application.debrief_findings import FEW_SPARES_PROBABILITY
from nextpair.application.met_racks import MetRack
from nextpair.application.spare_record import made_probability, spares_told
from nextpair.scoring.frames import Delivery
from nextpair.scoring.leaves import parse_leave, pin_count

CHANCES = st.lists(st.floats(0.0, 1.0), min_size=1, max_size=40)


@given(st.integers(1, 60), st.floats(0.0, 1.0))
def test_equal_chances_are_binomial(tries, chance):
    """SciPy's own mass function raises OverflowError at chances below about 1e-300."""
    by_hand = [
        comb(tries, made) * chance**made * (1.0 - chance) ** (tries - made)
        for made in range(tries + 1)
    ]
    assert made_probability([chance] * tries) == pytest.approx(by_hand, abs=1e-12)


@given(CHANCES)
def test_the_mean_and_variance_are_sums(chances):
    found, p = made_probability(chances), np.array(chances)
    made = np.arange(len(found))
    assert found.sum() == pytest.approx(1.0)
    assert found @ made == pytest.approx(p.sum(), abs=1e-9)
    assert found @ (made - p.sum()) ** 2 == pytest.approx((p * (1 - p)).sum(), abs=1e-9)


USUAL = [0.87] * 14 + [0.68] * 8 + [0.12] * 3 + [0.35]
"""Own chances at what five games leave: single pins, pairs, splits, a washout (assumption)."""
PLANTED_LOG_ODDS, DAYS_SD = -1.0, 0.2
"""As tools/debrief_worlds.py plants worse spares, and as days of its worlds differ."""


def told_share(events: int, shift: float) -> float:
    """How often so few spares are made of some events that it is told, by exact enumeration over
    what is made and over days."""
    chances = np.array(USUAL * events)
    few = int(np.sum(made_probability(chances).cumsum() <= FEW_SPARES_PROBABILITY))
    days, weights = np.polynomial.hermite_e.hermegauss(9)
    by_day = [
        made_probability(expit(logit(chances) + shift + DAYS_SD * day / events**0.5))[:few].sum()
        for day in days
    ]
    return float(weights @ by_day / weights.sum())


def test_two_events_tell_worse_spares_that_one_often_hides():
    """As docs/guide/debrief.md says. The mean of two days stands for each of them."""
    assert 0.55 < told_share(1, PLANTED_LOG_ODDS) < 0.65
    assert told_share(2, PLANTED_LOG_ODDS) > 0.8
    assert max(told_share(events, 0.0) for events in (1, 2)) < FEW_SPARES_PROBABILITY


def even(_leave: int) -> float:
    return 0.5


def rack(leave: str, made: bool) -> MetRack:
    mask = parse_leave(leave)
    left = pin_count(mask)
    first = Delivery(10 - left, foul=False)
    return MetRack(1, 0, first, mask, second=Delivery(left if made else left - 1, foul=False))


def test_kinds_stand_apart_and_what_nobody_shot_at_has_no_row():
    racks = [rack("10", True), rack("7", False), rack("7-10", False)]
    rows = {row.kind: row for row in spares_told(racks, even)}
    assert set(rows) == {"all", "single-pin", "split"}
    assert (rows["all"].made, rows["all"].tried, rows["all"].expected_made) == (1, 3, 1.5)
    assert rows["all"].so_few_probability == pytest.approx(binom.cdf(1, 3, 0.5))
    assert rows["split"].so_few_probability == pytest.approx(0.5)


def test_without_a_spare_nothing_is_told():
    assert spares_told([], even) == ()
