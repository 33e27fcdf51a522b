"""Lane oil: thinner where it is warm, and a little slicker where it is thin."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nextpair.physics.constants import MEAN_OIL_VISCOSITY_PAS, OIL_FRICTION
from nextpair.physics.oil import oil_friction, oil_viscosity_pas

MEAN_PAS = MEAN_OIL_VISCOSITY_PAS.value
RULE_PAS = (0.012, 0.081)
viscosities_pas = st.floats(0.005, 0.150)
temperatures_c = st.floats(5.0, 40.0)


def test_an_oil_has_its_viscosity_on_paper_at_21_degrees():
    assert oil_viscosity_pas(0.05, 21.0) == 0.05


@given(viscosities_pas, temperatures_c)
def test_each_degree_takes_the_same_share_of_viscosity(viscosity_pas, temperature_c):
    here, warmer = (
        oil_viscosity_pas(viscosity_pas, t) for t in (temperature_c, temperature_c + 1)
    )
    assert warmer / here == pytest.approx(math.exp(-0.05))


def test_the_mean_commercial_oil_at_21_degrees_has_the_usual_friction():
    assert oil_friction(MEAN_PAS, 21.0) == pytest.approx(OIL_FRICTION.value)


def test_oils_that_the_rule_allows_are_not_cut_off_at_21_degrees():
    thin, thick = (oil_friction(viscosity, 21.0) for viscosity in RULE_PAS)
    assert 0.01 < thin < OIL_FRICTION.value < thick < 0.06
    assert thick / thin == pytest.approx((81 / 12) ** 0.65)


@given(viscosities_pas, viscosities_pas, temperatures_c)
def test_a_more_viscous_oil_never_gives_less_friction(one_pas, other_pas, temperature_c):
    thin, thick = (oil_friction(v, temperature_c) for v in sorted((one_pas, other_pas)))
    assert 0.01 <= thin <= thick <= 0.06


@given(viscosities_pas, temperatures_c, temperatures_c)
def test_a_warmer_lane_never_gives_more_friction_on_oil(viscosity_pas, one_c, other_c):
    cool, warm = (oil_friction(viscosity_pas, t) for t in sorted((one_c, other_c)))
    assert warm <= cool
