"""Forms drawn behind drawn totals, against the normal distribution of both at once."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from nextpair.tournament.drawn_form import draw_forms
from nextpair.tournament.field_model import FieldModel
from nextpair.tournament.totals import draw_totals

DRAWS = 60_000
MODEL = FieldModel(
    names=("Ada", "Bo", "Cleo", "Dora"),
    totals=np.array([400, 600, 0, 380]),
    games_left=np.array([2, 0, 4, 2]),
    form_pins=np.array([200.0, 190.0, 180.0, 195.0]),
    form_sd_pins=np.array([8.0, 7.0, 14.0, 9.0]),
    game_sd_pins=27.0,
    squads=np.array([0, 0, 0, 1]),
    squad_sd_pins=5.0,
    me=0,
)


def known_forms(totals):
    """Mean and covariance of the forms, once totals are known. Closed form: joint normal."""
    left, doubt = MODEL.games_left.astype(float), np.diag(MODEL.form_sd_pins**2)
    shared = MODEL.squad_sd_pins**2 * (MODEL.squads[:, None] == MODEL.squads)
    of_totals = np.outer(left, left) * (doubt + shared) + np.diag(left * MODEL.game_sd_pins**2)
    gain = (doubt * left) @ np.linalg.pinv(of_totals)
    above = totals - MODEL.totals - left * MODEL.form_pins
    return MODEL.form_pins + gain @ above, doubt - gain @ (doubt * left).T


@pytest.mark.parametrize("bowled", [[880, 600, 700, 700], [760, 600, 860, 770]])
def test_forms_behind_one_set_of_totals_are_those_of_the_joint_normal(bowled):
    totals = np.tile(bowled, (DRAWS, 1))
    forms = draw_forms(MODEL, totals, np.random.default_rng(4))
    mean, covariance = known_forms(np.array(bowled))
    sds = np.sqrt(np.diag(covariance))
    assert np.all(np.abs(forms.mean(axis=0) - mean) <= 4 * sds / DRAWS**0.5)
    errors = 4 * np.outer(sds, sds) * np.sqrt(2 / DRAWS)
    assert np.all(np.abs(np.cov(forms.T) - covariance) <= errors)


def test_over_all_draws_forms_are_what_was_believed():
    rng = np.random.default_rng(8)
    forms = draw_forms(MODEL, draw_totals(MODEL, DRAWS, rng), rng)
    errors = 4 * MODEL.form_sd_pins / DRAWS**0.5
    assert np.all(np.abs(forms.mean(axis=0) - MODEL.form_pins) <= errors)
    assert forms.std(axis=0) == pytest.approx(MODEL.form_sd_pins, rel=0.02)


def test_who_is_drawn_high_is_likelier_better_and_who_is_done_is_as_before():
    rng = np.random.default_rng(8)
    totals = draw_totals(MODEL, DRAWS, rng)
    forms = draw_forms(MODEL, totals, rng)
    of_three = [np.corrcoef(totals[:, who], forms[:, who])[0, 1] for who in (0, 2, 3)]
    assert min(of_three) > 0.25
    high = totals[:, 2] > np.quantile(totals[:, 2], 0.9)
    assert forms[high, 2].mean() > MODEL.form_pins[2] + 5
    assert np.corrcoef(forms[:, 1], totals[:, 2])[0, 1] == pytest.approx(0, abs=0.02)


def test_a_form_that_is_known_stays_as_it_is():
    sure = replace(MODEL, form_sd_pins=np.zeros(4))
    rng = np.random.default_rng(8)
    forms = draw_forms(sure, draw_totals(sure, 100, rng), rng)
    assert np.all(forms == sure.form_pins)
