"""The field's model against published spreads: its prior is theirs, and drawn fields of their size
give their spreads back."""

from __future__ import annotations

import tomllib

import numpy as np
import pytest

from nextpair.tournament.form import (
    BOWLER_SD_PINS,
    GAME_SD_PINS,
    USUAL_MEAN_PINS,
    FieldGames,
    form_of,
)
from source_tree import ROOT

FIELD = tomllib.loads((ROOT / "tests/reference/data/field.toml").read_text("utf-8"))
ROUNDED_PINS = 0.05
"""Half of the last digit that is published."""


def test_one_games_spread_is_the_pooled_one_of_the_records():
    sds = np.array(FIELD["one_bowler"]["sd_pins"])
    assert np.sqrt(np.mean(sds**2)) == pytest.approx(GAME_SD_PINS, abs=ROUNDED_PINS)
    assert FIELD["one_bowler"]["pooled_sd_pins"] == GAME_SD_PINS


def test_means_of_twelve_games_spread_as_published():
    low, high = FIELD["twelve_games"]["sd_of_means_pins"]
    games = FIELD["twelve_games"]["games"]
    expected = np.hypot(BOWLER_SD_PINS, GAME_SD_PINS / games**0.5)
    assert low < expected < high
    levels = [np.sqrt(sd**2 - GAME_SD_PINS**2 / games) for sd in (low, high)]
    assert levels[0] < BOWLER_SD_PINS < levels[1]


@pytest.mark.parametrize("place", [0, 1])
def test_a_field_of_that_size_gives_its_spread_back(place):
    """A field drawn with the published mean and spread of means; the form finds both, within four
    standard errors of such a field."""
    told = FIELD["twelve_games"]
    n, games = told["players"], told["games"]
    mean, sd_of_means = told["mean_pins"][place], told["sd_of_means_pins"][place]
    level_sd = np.sqrt(sd_of_means**2 - GAME_SD_PINS**2 / games)
    rng = np.random.default_rng(2010 + place)
    pins = rng.normal(rng.normal(mean, level_sd, (n, 1)), GAME_SD_PINS, (n, games))
    form = form_of(FieldGames(pins, np.zeros(n, dtype=np.int64), np.full(n, np.nan)))
    assert form.mean_pins == pytest.approx(mean, abs=4 * sd_of_means / n**0.5)
    assert form.game_sd_pins == pytest.approx(GAME_SD_PINS, rel=4 / (2 * n * (games - 1)) ** 0.5)
    found = np.hypot(form.bowler_sd_pins, form.game_sd_pins / games**0.5)
    assert found == pytest.approx(sd_of_means, rel=4 / (2 * (n - 1)) ** 0.5)


def test_the_mean_of_an_unknown_field_is_within_the_published_ones():
    means = [*FIELD["twelve_games"]["mean_pins"], FIELD["many_games"]["mean_pins"]]
    assert min(means) < USUAL_MEAN_PINS < max(means)
