"""Where pins stand and what bounds them."""

from __future__ import annotations

import numpy as np

from nextpair.carry.deck import (
    DECK_HALF_WIDTH_M,
    KICKBACK_X_M,
    MIRRORED_PIN,
    PIN_X_M,
    PIN_Y_M,
    PIT_Y_M,
)
from nextpair.domain.units import INCH_M
from nextpair.scoring.leaves import MIRROR_IMAGES


def test_a_mirrored_pin_is_the_one_the_rules_name():
    assert {pin + 1: int(MIRRORED_PIN[pin]) + 1 for pin in range(10)} == MIRROR_IMAGES


def test_mirrored_spots_lie_across_the_centre_line():
    np.testing.assert_array_equal(PIN_X_M[MIRRORED_PIN], -PIN_X_M)
    np.testing.assert_array_equal(PIN_Y_M[MIRRORED_PIN], PIN_Y_M)


def test_every_pin_stands_a_foot_from_its_neighbours_and_on_the_deck():
    """[facts] section 1: 12 in between centres, 7 and 10 pin 2.75 in from the edge."""
    apart = np.hypot(PIN_X_M - PIN_X_M[:, None], PIN_Y_M - PIN_Y_M[:, None])
    np.fill_diagonal(apart, np.inf)
    np.testing.assert_allclose(apart.min(axis=1), 12 * INCH_M, rtol=1e-12)
    np.testing.assert_allclose(DECK_HALF_WIDTH_M - PIN_X_M.max(), 2.75 * INCH_M)
    assert PIN_Y_M.max() < PIT_Y_M
    assert KICKBACK_X_M > DECK_HALF_WIDTH_M
