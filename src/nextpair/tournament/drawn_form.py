"""Everybody's form in each draw of a field's totals: who is drawn high is likelier better."""

from __future__ import annotations

import numpy as np

from nextpair.tournament.field_model import FieldModel, Floats, Wholes


def draw_forms(model: FieldModel, totals: Wholes, rng: np.random.Generator) -> Floats:
    """(draws, n) mean of a game after the cut, drawn once a draw from what its totals say of it.

    Totals keep the pins to come and not the form behind them. So a form is drawn from the normal
    distribution that it has once those pins are known: first what the squad's lanes gave or took,
    by all who bowled on them, then each bowler's form by what is left over. Together with
    `draw_totals` that is one draw of forms and totals at once, but for pins that were rounded, or
    cut off at the most that a game can be. Forms are those of lanes that are nobody's.

    totals : (draws, n) as `draw_totals` gives them.
    Source: [gelman-2013] chapter 5: a normal mean, given the mean of its group and own games.
    """
    left = model.games_left
    noise = model.game_sd_pins**2 / np.maximum(left, 1)
    known = np.where(left > 0, 1 / (model.form_sd_pins**2 + noise), 0.0)
    above = (totals - model.totals) / np.maximum(left, 1) - model.form_pins
    for squad in np.unique(model.squads[left > 0]):
        here = model.squads == squad
        kept = model.squad_sd_pins**2 / (1 + model.squad_sd_pins**2 * known[here].sum())
        shift = kept * (above[:, here] @ known[here])
        shift += np.sqrt(kept) * rng.standard_normal(len(totals))
        above[:, here] -= shift[:, None]
    kept_share = model.form_sd_pins**2 * known
    doubt = model.form_sd_pins * np.sqrt(1 - kept_share)
    drawn = rng.standard_normal(totals.shape, dtype=np.float32)
    forms: Floats = model.form_pins + kept_share * above + doubt * drawn
    return forms
