"""Fields of bowlers for pots and brackets, and the same pots bowled out by simulation."""

from __future__ import annotations

import numpy as np

from nextpair.tournament.pot_field import PotField

GAME_SD_PINS = 27.4
DRAWS = 40_000


def pot_field(forms, doubts=0.0, games=6, bowled=None, me=0, most=300.0):
    """A field of these forms; the games of `bowled`, (n, games so far), are over."""
    forms = np.asarray(forms, dtype=float)
    played = np.full((len(forms), games), np.nan)
    if bowled is not None:
        played[:, : np.shape(bowled)[1]] = bowled
    return PotField(
        forms,
        np.broadcast_to(np.asarray(doubts, dtype=float), forms.shape),
        GAME_SD_PINS,
        played,
        np.full(len(forms), most),
        me,
    )


def bowl_out(field, opponents, seed=11, draws=DRAWS):
    """Own games (draws, games) and those of opponents drawn from the others (draws, m, games)."""
    rng = np.random.default_rng(seed)
    others = np.delete(np.arange(len(field.form_pins)), field.me)
    who = rng.choice(others, size=(draws, opponents))
    own = _games(field, np.full(draws, field.me), rng)
    return own, _games(field, who, rng)


def _games(field, who, rng):
    form = field.form_pins[who] + field.form_sd_pins[who] * rng.standard_normal(who.shape)
    noise = field.game_sd_pins * rng.standard_normal((*who.shape, field.games))
    games = np.rint(form[..., None] + noise)
    games = np.minimum(games, field.most_pins[who][..., None])
    bowled = field.bowled_pins[who]
    return np.where(np.isnan(bowled), games, bowled)


def paid_out(own, others, amounts):
    """What each draw pays: bowlers of one score share what their places pay."""
    ahead = (others > own[:, None]).sum(axis=1)
    level = (others == own[:, None]).sum(axis=1) + 1
    beyond = np.full(others.shape[1] + 2, sum(amounts))
    summed = np.concatenate(([0.0], np.cumsum(amounts), beyond))
    return (summed[ahead + level] - summed[ahead]) / level


def standard_error(values):
    """Of the mean of some draws."""
    return values.std(ddof=1) / np.sqrt(len(values))
