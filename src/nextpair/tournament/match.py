"""A match: two bowl a game or more, and whoever has more pins wins. A tie is decided by a fair
coin, as a roll-off between equals would."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from nextpair.tournament.field_model import Floats, Wholes

Flags = NDArray[np.bool_]
NOBODY_PINS = -1e6
"""Form of an empty seat: whoever meets it goes on, which is a bye."""


def win_chance(form_pins: Floats, other_pins: Floats, game_sd_pins: float, games: int) -> Floats:
    """Chance to win a match of so many games, by the forms of both.

    Source: closed form, the difference of two normal totals. Half of the ties are won: totals are
    whole pins, and rounding both moves the chance by less than 1e-4.
    """
    chance: Floats = ndtr((form_pins - other_pins) * np.sqrt(games / 2) / game_sd_pins)
    return chance


def win_chances(form_pins: Floats, game_sd_pins: float, games: int) -> Floats:
    """(..., n, n) chance of the row's bowler to beat the column's."""
    return win_chance(form_pins[..., :, None], form_pins[..., None, :], game_sd_pins, games)


@dataclass(frozen=True, slots=True, eq=False)
class MatchPlay:
    """Matches of k seeds, draw by draw. Seeds are numbered from 0, the best.

    form_pins : (draws, k) of every seed, mean of a game.
    game_sd_pins : standard deviation of a game about the form. games : of one match.
    """

    form_pins: Floats = field(repr=False)
    game_sd_pins: float
    games: int
    rng: np.random.Generator = field(repr=False)

    @property
    def seeds(self) -> Wholes:
        """(draws, k) every seed at its own place."""
        return np.tile(np.arange(self.form_pins.shape[1]), (len(self.form_pins), 1))

    def played(self, one: Wholes, other: Wholes) -> tuple[Wholes, Wholes]:
        """(draws, matches) winners and losers of matches between seeds."""
        chance = win_chance(
            np.take_along_axis(self.form_pins, one, axis=1),
            np.take_along_axis(self.form_pins, other, axis=1),
            self.game_sd_pins,
            self.games,
        )
        wins: Flags = self.rng.random(chance.shape) < chance
        return np.where(wins, one, other), np.where(wins, other, one)

    def with_byes(self, seats: int) -> MatchPlay:
        """The same with empty seats after the last seed."""
        empty = np.full((len(self.form_pins), seats - self.form_pins.shape[1]), NOBODY_PINS)
        forms = np.concatenate([self.form_pins, empty], axis=1)
        return MatchPlay(forms, self.game_sd_pins, self.games, self.rng)
