"""Seeds who meet in matches, and how often each comes to each place."""

from __future__ import annotations

import numpy as np

from nextpair.tournament.match import MatchPlay

GAME_SD_PINS = 27.4
DRAWS = 40_000


def match_play(forms, games=1, draws=DRAWS, seed=3):
    """The same forms of seeds in every draw."""
    forms = np.tile(np.asarray(forms, dtype=float), (draws, 1))
    return MatchPlay(forms, GAME_SD_PINS, games, np.random.default_rng(seed))


def place_shares(seeds):
    """(k, k) share of draws in which a seed (row) comes to a place (column)."""
    entrants = seeds.shape[1]
    assert np.array_equal(np.sort(seeds, axis=1), np.tile(np.arange(entrants), (len(seeds), 1)))
    return np.stack([np.mean(seeds == seed, axis=0) for seed in range(entrants)])


def errors_of(shares, draws=DRAWS):
    """Standard errors of shares of so many draws."""
    shares = np.asarray(shares)
    return np.sqrt(np.maximum(shares * (1 - shares), 1e-12) / draws)
