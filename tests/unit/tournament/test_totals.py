"""Totals drawn from a field: their means and spreads, and what nobody can pass."""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.tournament.field_model import FieldModel
from nextpair.tournament.totals import draw_totals, totals_sd_pins

DRAWS = 40_000


def model(**more: object) -> FieldModel:
    facts = {
        "names": ("Ada", "Bo", "Cleo"),
        "totals": np.array([400, 600, 0]),
        "games_left": np.array([2, 0, 4]),
        "form_pins": np.array([200.0, 190.0, 180.0]),
        "form_sd_pins": np.array([8.0, 7.0, 14.0]),
        "game_sd_pins": 27.0,
        "squads": np.array([0, 0, 0]),
        "squad_sd_pins": 5.0,
        "me": 0,
    }
    return FieldModel(**(facts | more))


def test_means_and_spreads_are_those_of_the_model():
    field = model()
    totals = draw_totals(field, DRAWS, np.random.default_rng(1))
    sd = np.sqrt(totals_sd_pins(field) ** 2 + (field.games_left * field.squad_sd_pins) ** 2)
    error = 4 * sd / DRAWS**0.5
    assert np.all(np.abs(totals.mean(axis=0) - [800, 600, 720]) <= error)
    assert np.std(totals, axis=0) == pytest.approx(sd, rel=0.02)
    assert np.all(totals[:, 1] == 600)


def test_a_squad_shares_what_its_lanes_give_or_take():
    together = draw_totals(model(), DRAWS, np.random.default_rng(1))
    apart = draw_totals(model(squads=np.array([0, 0, 1])), DRAWS, np.random.default_rng(1))
    shared = np.cov(together[:, 0], together[:, 2])[0, 1]
    assert shared == pytest.approx(25 * 2 * 4, rel=0.2)
    assert np.cov(apart[:, 0], apart[:, 2])[0, 1] == pytest.approx(0, abs=40)


def test_no_game_is_above_300_and_what_is_added():
    high = np.array([299.0, 299.0, 299.0])
    scratch = draw_totals(model(form_pins=high), 400, np.random.default_rng(1))
    assert scratch[:, 0].max() == 400 + 2 * 300
    given = model(form_pins=high + 10, handicaps=np.array([10, 10, 10]))
    assert draw_totals(given, 400, np.random.default_rng(1))[:, 0].max() == 400 + 2 * 310
