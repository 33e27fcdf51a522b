"""Lane oil against standards and papers of tribology: data/tribology.toml has the figures."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.physics.constants import MEAN_OIL_VISCOSITY_PAS
from nextpair.physics.oil import oil_friction, oil_viscosity_pas
from reference.record import load_entry

OILS = load_entry("tribology", "mineral_oils")
CONTACT = load_entry("tribology", "soft_contact")
FREEZING_K = 273.15
LOWEST_BY_RULE_PAS, HIGHEST_BY_RULE_PAS = 0.012, 0.081


def viscosity_line(at_40_c_cst: float, at_100_c_cst: float) -> Callable[[float], float]:
    """Kinematic viscosity [cSt] of an oil at any temperature [degrees C], by [astm-d341]."""

    def doubled_log(viscosity_cst: float) -> float:
        return math.log10(math.log10(viscosity_cst + 0.7))

    def log_kelvin(temperature_c: float) -> float:
        return math.log10(temperature_c + FREEZING_K)

    slope = (doubled_log(at_40_c_cst) - doubled_log(at_100_c_cst)) / (
        log_kelvin(100.0) - log_kelvin(40.0)
    )

    def viscosity_cst(temperature_c: float) -> float:
        doubled = doubled_log(at_40_c_cst) - slope * (log_kelvin(temperature_c) - log_kelvin(40.0))
        return 10**10**doubled - 0.7

    return viscosity_cst


def soft_contact_friction(viscosity_pas: float) -> float:
    modulus_pa = 2 * CONTACT["modulus_pa"] / (1 - CONTACT["poisson"] ** 2)
    U = viscosity_pas * CONTACT["entrainment_mps"] / (modulus_pa * BALL_RADIUS_M)
    W = CONTACT["load_n"] / (modulus_pa * BALL_RADIUS_M**2)
    return 1.46 * U**0.65 * W**-0.70 + U**0.71 * W**-0.76


@pytest.mark.parametrize("temperature_c", OILS["temperature_c"])
@pytest.mark.parametrize(
    ("at_40_c_cst", "at_100_c_cst"),
    list(zip(OILS["at_40_c_cst"], OILS["at_100_c_cst"], strict=True)),
)
def test_lane_oil_thins_with_warmth_as_a_light_mineral_oil_does(
    record, at_40_c_cst, at_100_c_cst, temperature_c
):
    viscosity_cst = viscosity_line(at_40_c_cst, at_100_c_cst)
    expected = viscosity_cst(temperature_c) / viscosity_cst(21.0)
    record.closed_form(
        OILS["about"],
        f"viscosity at {temperature_c:g} over that at 21 degrees C, {at_40_c_cst:g} cSt at 40",
        expected=expected,
        achieved=oil_viscosity_pas(1.0, temperature_c),
        tolerance=OILS["relative_tolerance_per_c"] * abs(temperature_c - 21.0) * expected,
        source=f"[astm-d341], equation from memory; {OILS['source']}",
    )


def test_the_two_oils_lie_on_either_side_of_the_mean_lane_oil():
    thin_pas, thick_pas = (
        viscosity_line(*oil)(21.0) * OILS["density_kgpl"] * 1e-3
        for oil in zip(OILS["at_40_c_cst"], OILS["at_100_c_cst"], strict=True)
    )
    assert thin_pas < MEAN_OIL_VISCOSITY_PAS.value < thick_pas


def test_friction_on_full_oil_has_the_size_of_a_soft_contact(record):
    mean_pas = MEAN_OIL_VISCOSITY_PAS.value
    record.closed_form(
        CONTACT["about"],
        "friction at 34.68 cP",
        expected=soft_contact_friction(mean_pas),
        achieved=oil_friction(mean_pas, 21.0),
        tolerance=CONTACT["friction_tolerance"],
        source=f"{CONTACT['source']}; {CONTACT['mark']}",
    )


def test_friction_grows_over_the_allowed_oils_as_a_soft_contact_does(record):
    expected = soft_contact_friction(HIGHEST_BY_RULE_PAS) / soft_contact_friction(
        LOWEST_BY_RULE_PAS
    )
    record.closed_form(
        CONTACT["about"],
        "friction at 81 cP over that at 12 cP",
        expected=expected,
        achieved=oil_friction(HIGHEST_BY_RULE_PAS, 21.0) / oil_friction(LOWEST_BY_RULE_PAS, 21.0),
        tolerance=CONTACT["relative_tolerance"] * expected,
        source=f"{CONTACT['source']}; {CONTACT['mark']}; 12 to 81 cP [viscosity-rule-2007], READ",
    )
