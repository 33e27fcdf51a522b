"""How a field scores, and the bowler in it: a low score read against everybody else's."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from nextpair.application.condition_words import condition_words
from nextpair.application.entries import Entries
from nextpair.application.groups import groups_of_field
from nextpair.application.intervals import HALF_OF_80
from nextpair.domain.standing import Condition, GameOfField, Interval
from nextpair.tournament.field_model import Floats
from nextpair.tournament.form import Form, form_of

ENOUGH_AVERAGES = 5
LEAST_BOWLERS = 3
"""Fewer have no spread worth a name."""


def condition_of(entries: Entries, with_groups: bool = True) -> Condition:
    """How the field scores, handicap left out; groups take longest, and not everybody asks."""
    games = entries.games_of(with_handicap=False)
    form, own = form_of(games), games.pins[entries.me]
    seen = ~np.isnan(games.pins).all(axis=1)
    means = np.nanmean(games.pins[seen], axis=1) if seen.any() else np.full(1, form.mean_pins)
    own_mean = None if np.isnan(own).all() else float(np.nanmean(own))
    spread = float(np.std(means, ddof=1)) if len(means) >= LEAST_BOWLERS else 0.0
    spread = spread or form.bowler_sd_pins
    field_mean = float(np.mean(means))
    own_sds = None if own_mean is None else (own_mean - field_mean) / spread
    condition = Condition(
        bowlers=int(seen.sum()),
        games=int(np.sum(~np.isnan(games.pins))),
        mean_pins=field_mean,
        bowler_sd_pins=spread,
        game_sd_pins=form.game_sd_pins,
        against_averages_pins=_against_averages(games.pins, games.averages),
        own_mean_pins=own_mean,
        own_sds=own_sds,
        own_sds_interval_80=None if own_sds is None else _doubt(own_sds, own, form, spread),
        by_game=tuple(games_of_field(games.pins, entries.me)),
        groups=groups_of_field(entries) if with_groups else (),
    )
    return replace(condition, words=tuple(condition_words(condition, entries.own.average)))


def _doubt(own_sds: float, own: Floats, form: Form, spread: float) -> Interval:
    """What the luck of so few games leaves open."""
    error = HALF_OF_80 * form.game_sd_pins / (np.sqrt(np.sum(~np.isnan(own))) * spread)
    return own_sds - float(error), own_sds + float(error)


def _against_averages(pins: Floats, averages: Floats) -> float | None:
    """The field's mean less that of its averages; None where too few told theirs."""
    known = ~np.isnan(averages) & ~np.isnan(pins).all(axis=1)
    if known.sum() < ENOUGH_AVERAGES:
        return None
    return float(np.mean(np.nanmean(pins[known], axis=1) - averages[known]))


def games_of_field(pins: Floats, me: int) -> Iterator[GameOfField]:
    """Each game that somebody bowled, from (n, games) pins; `me` is the bowler's row."""
    for number, column in enumerate(pins.T, start=1):
        bowled = column[~np.isnan(column)]
        if not len(bowled):
            continue
        mean = float(np.mean(bowled))
        sd = float(np.std(bowled, ddof=1)) if len(bowled) >= LEAST_BOWLERS else 0.0
        own = None if np.isnan(column[me]) else int(column[me])
        yield GameOfField(
            game=number,
            bowlers=len(bowled),
            mean_pins=mean,
            sd_pins=sd,
            own_pins=own,
            own_sds=None if own is None or not sd else (own - mean) / sd,
        )
