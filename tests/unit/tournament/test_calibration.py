"""Whole events drawn from the model's own assumptions: what is said of the cut comes true as often
as it is said."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

import numpy as np
import pytest

from nextpair.tournament.cut import cut_by_draws, lines_of, places_held
from nextpair.tournament.field_model import FieldModel
from nextpair.tournament.form import (
    AVERAGE_SLOPE,
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
AVERAGES_SD_PINS = 14.0
NOBODYS, THOSE_SEEN = "nobody tells an average", "those who have bowled told theirs"
EDGES = (0.0, 0.02, 0.1, 0.25, 0.5, 0.75, 0.9, 0.98, 1.0001)


def drawn_event(rng: np.random.Generator, who: str) -> tuple[FieldModel, np.ndarray]:
    """A field as it is known half-way, and everybody's true totals at its end. Where averages are
    told, levels follow them by the usual slope."""
    squads = np.repeat(np.arange(len(BOWLED)), SQUAD)
    bowled = np.array(BOWLED)[squads]
    given = rng.normal(0, SQUAD_SD_PINS, len(BOWLED)) * (np.array(BOWLED) > 0)
    levels = MEAN_PINS + given[squads] + rng.normal(0, BOWLER_SD_PINS, len(squads))
    averages = np.full(len(squads), np.nan)
    if who == THOSE_SEEN:
        averages = rng.normal(0, AVERAGES_SD_PINS, len(squads))
        levels += AVERAGE_SLOPE * averages
        averages = np.where(bowled > 0, MEAN_PINS + averages, np.nan)
    to_come = levels + rng.normal(0, SQUAD_SD_PINS, len(BOWLED))[squads]
    number = np.arange(GAMES)[None]
    mean = np.where(number < bowled[:, None], levels[:, None], to_come[:, None])
    pins = np.rint(np.clip(rng.normal(mean, GAME_SD_PINS), 0, 300))
    known = np.where(number < bowled[:, None], pins, np.nan)
    form = form_of(FieldGames(known, squads, averages))
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
def told_and_true(who: str) -> tuple[np.ndarray, ...]:
    """Chances told, what came, whether the line's interval held, whether a total that was said to
    hold the cut with 80 % would have, and how far over the true line the projected one was."""
    rng = np.random.default_rng(20261128)
    told, came, held, enough, over = [], [], [], [], []
    for _ in range(EVENTS):
        model, totals = drawn_event(rng, who)
        outlook = cut_by_draws(draw_totals(model, DRAWS, rng), model.me, PLACES)
        told.append(outlook.held_chances)
        came.append(places_held(totals[None], PLACES)[0])
        low, high = outlook.line_interval_80
        line = lines_of(totals[None], PLACES)[0]
        held.append(low <= line <= high)
        over.append(outlook.line_pins - line)
        totals[model.me] = outlook.needed_total(0.8)
        enough.append(places_held(totals[None], PLACES)[0, model.me])
    return tuple(map(np.array, (told, came, held, enough, over)))


BOTH = pytest.mark.parametrize("who", [NOBODYS, THOSE_SEEN])


@BOTH
def test_chances_come_true_as_often_as_they_are_told(who):
    """In each band of chances, by what each event as a whole was off: bowlers of one event are not
    independent of one another."""
    told, came, *_ = told_and_true(who)
    for low, high in pairwise(EDGES):
        here = (told >= low) & (told < high)
        off = np.where(here, came - told, 0.0).sum(axis=1)
        assert here.sum() > EVENTS / 2
        assert abs(off.mean()) <= 4 * off.std(ddof=1) / EVENTS**0.5, (low, high)


@BOTH
def test_the_squared_error_is_that_of_honest_chances(who):
    """The Brier score of honest chances is the mean of p (1 - p)."""
    told, came, *_ = told_and_true(who)
    excess = ((came - told) ** 2 - told * (1 - told)).mean(axis=1)
    assert abs(excess.mean()) <= 4 * excess.std(ddof=1) / EVENTS**0.5
    base = PLACES / told.shape[1]
    assert ((came - told) ** 2).mean() < 0.75 * base * (1 - base)


@BOTH
def test_the_lines_interval_holds_four_times_in_five(who):
    _, _, held, *_ = told_and_true(who)
    assert 0.75 <= held.mean() <= 0.85


@BOTH
def test_a_total_said_to_hold_with_80_percent_does_so(who):
    _, _, _, enough, _ = told_and_true(who)
    assert 0.75 <= enough.mean() <= 0.85


@BOTH
def test_the_projected_line_is_neither_too_low_nor_too_high(who):
    """The middle of what the line may be. Were those who told no average spread as little as the
    others, it would lie 5 pins too low."""
    *_, over = told_and_true(who)
    assert abs(over.mean()) <= 4 * over.std(ddof=1) / EVENTS**0.5
