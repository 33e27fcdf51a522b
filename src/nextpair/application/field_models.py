"""What is believed of everybody's games to come at an event."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from nextpair.application.entries import Entries
from nextpair.application.groups import pair_pins
from nextpair.tournament.field_model import FieldModel, Floats
from nextpair.tournament.form import SQUAD_SD_PINS, form_of


def field_model(entries: Entries) -> FieldModel:
    """The field by everybody's scores, handicap added, and by the pairs that are known."""
    games = entries.games_of(with_handicap=True)
    pairs = pair_pins(entries)
    form = form_of(replace(games, pins=games.pins - pairs))
    to_come = np.isnan(games.pins)
    return FieldModel(
        names=tuple(one.name for one in entries.all),
        totals=np.array([one.total for one in entries.all]),
        games_left=to_come.sum(axis=1),
        form_pins=form.level_pins + _mean_of(pairs, to_come),
        form_sd_pins=form.level_sd_pins,
        game_sd_pins=form.game_sd_pins,
        squads=games.squads,
        squad_sd_pins=SQUAD_SD_PINS,
        me=entries.me,
        unseen_sd_pins=form.mean_sd_pins,
        handicaps=np.array([one.handicap for one in entries.all]),
    )


def _mean_of(pins: Floats, chosen: Floats) -> Floats:
    """(n,) mean of what is chosen in each row; 0 where nothing is."""
    means: Floats = (pins * chosen).sum(axis=1) / np.maximum(chosen.sum(axis=1), 1)
    return means
