"""Totals of a whole field at the end of its games, drawn from what is believed of everybody."""

from __future__ import annotations

import numpy as np

from nextpair.tournament.field_model import FieldModel, Floats, Wholes


def draw_totals(model: FieldModel, draws: int, rng: np.random.Generator) -> Wholes:
    """(draws, n) totals of everybody once all games are bowled, in whole pins.

    A bowler's games to come share the doubt of the form, a squad's share what its lanes give or
    take; the rest is the noise of each game, summed.
    """
    spread = totals_sd_pins(model)
    pins = rng.standard_normal((draws, len(model.names)), dtype=np.float32) * spread
    squads = np.unique(model.squads[model.games_left > 0])
    for squad in squads:
        here = model.squads == squad
        shift = model.shift_sd_pins(squad) * rng.standard_normal((draws, 1), dtype=np.float32)
        pins[:, here] += shift * model.games_left[here]
    pins += model.games_left * model.form_pins
    return model.totals + np.rint(np.clip(pins, 0, model.most_to_come_pins)).astype(np.int64)


def totals_sd_pins(model: FieldModel) -> Floats:
    """(n,) standard deviation of the pins to come of each bowler, the squad's share left out."""
    left = model.games_left
    return np.sqrt((left * model.form_sd_pins) ** 2 + left * model.game_sd_pins**2)
