"""Whole events drawn from the model's own assumptions: what is said of the cut comes true as often
as it is said."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

import numpy as np

from nextpair.tournament.cut import cut_by_draws, lines_of, places_held
from nextpair.tournament.field_model import FieldModel
from nextpair.tournament.form import (
    BOWLER_SD_PINS,
    GAME_SD_PINS,
    SQUAD_SD_PINS,
    FieldGames,
    form_of,
)
from nextpair.tournament.totals import draw_totals

EVENTS, DRAWS = 600, 400
GAMES, PLACES = 6, 15
BOWLED = (6, 3, 0)
"""Games that each of three squads of 20 has bowled."""
SQUAD = 20
MEAN_PINS = 198.0
EDGES = (0.0, 0.02, 0.1, 0.25, 0.5, 0.75, 0.9, 0.98, 1.0001)


def drawn_event(rng: np.random.Generator) -> tuple[FieldModel, np.ndarray]:
    """A field as it is known half-way, and everybody's true totals at its end."""
    squads = np.repeat(np.arange(len(BOWLED)), SQUAD)
    bowled = np.array(BOWLED)[squads]
    given = rng.normal(0, SQUAD_SD_PINS, len(BOWLED)) * (np.array(BOWLED) > 0)
    levels = MEAN_PINS + given[squads] + rng.normal(0, BOWLER_SD_PINS, len(squads))
    to_come = levels + rng.normal(0, SQUAD_SD_PINS, len(BOWLED))[squads]
    number = np.arange(GAMES)[None]
    mean = np.where(number < bowled[:, None], levels[:, None], to_come[:, None])
    pins = np.rint(np.clip(rng.normal(mean, GAME_SD_PINS), 0, 300))
    known = np.where(number < bowled[:, None], pins, np.nan)
    form = form_of(FieldGames(known, squads, np.full(len(squads), np.nan)))
    model = FieldModel(
        names=tuple(map(str, range(len(squads)))),
        totals=np.nansum(known, axis=1).astype(np.int64),
        games_left=GAMES - bowled,
        form_pins=form.level_pins,
        form_sd_pins=form.level_sd_pins,
        game_sd_pins=form.game_sd_pins,
        squads=squads,
        squad_sd_pins=SQUAD_SD_PINS,
        me=SQUAD,
        unseen_sd_pins=form.mean_sd_pins,
    )
    return model, pins.sum(axis=1).astype(np.int64)


@cache
def told_and_true() -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Chances told, what came, whether the line's interval held, and whether a total that was said
    to hold the cut with 80 % would have."""
    rng = np.random.default_rng(20261128)
    told, came, held, enough = [], [], [], []
    for _ in range(EVENTS):
        model, totals = drawn_event(rng)
        outlook = cut_by_draws(draw_totals(model, DRAWS, rng), model.me, PLACES)
        told.append(outlook.held_chances)
        came.append(places_held(totals[None], PLACES)[0])
        low, high = outlook.line_interval_80
        held.append(low <= lines_of(totals[None], PLACES)[0] <= high)
        totals[model.me] = outlook.needed_total(0.8)
        enough.append(places_held(totals[None], PLACES)[0, model.me])
    return np.array(told), np.array(came), np.array(held), np.array(enough)


def test_chances_come_true_as_often_as_they_are_told():
    """In each band of chances, by what each event as a whole was off: bowlers of one event are not
    independent of one another."""
    told, came, _, _ = told_and_true()
    for low, high in pairwise(EDGES):
        here = (told >= low) & (told < high)
        off = np.where(here, came - told, 0.0).sum(axis=1)
        assert here.sum() > EVENTS / 2
        assert abs(off.mean()) <= 4 * off.std(ddof=1) / EVENTS**0.5, (low, high)


def test_the_squared_error_is_that_of_honest_chances():
    """The Brier score of honest chances is the mean of p (1 - p)."""
    told, came, _, _ = told_and_true()
    excess = ((came - told) ** 2 - told * (1 - told)).mean(axis=1)
    assert abs(excess.mean()) <= 4 * excess.std(ddof=1) / EVENTS**0.5
    base = PLACES / told.shape[1]
    assert ((came - told) ** 2).mean() < 0.75 * base * (1 - base)


def test_the_lines_interval_holds_four_times_in_five():
    _, _, held, _ = told_and_true()
    assert 0.75 <= held.mean() <= 0.85


def test_a_total_said_to_hold_with_80_percent_does_so():
    _, _, _, enough = told_and_true()
    assert 0.75 <= enough.mean() <= 0.85
