"""Those who may be in a pot or a bracket: what they bowled, what is believed of the rest."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from scipy.special import ndtr

from nextpair.tournament.field_model import Floats

NODES_PINS, NODE_WEIGHTS = np.polynomial.hermite_e.hermegauss(9)
NODE_WEIGHTS = NODE_WEIGHTS / NODE_WEIGHTS.sum()
"""A normal distribution in nine points, for what is believed of a form."""
TAIL_SDS = 7.0
"""Beyond so many standard deviations nothing is reckoned with."""
FORMS_PINS: Floats = np.arange(80.0, 321.0)
"""Forms of the bowler at which stakes are valued, a pin apart."""


@dataclass(frozen=True, eq=False)
class PotField:
    """Bowlers of one squad, in one order; pins as they count in the pot.

    form_pins, form_sd_pins : (n,) mean of a game to come, and the doubt of it.
    game_sd_pins : standard deviation of one game about the form.
    bowled_pins : (n, games) games bowled; NaN for those to come.
    most_pins : (n,) the highest game that there is, with what handicap is added.
    me : place of the bowler in that order.
    """

    form_pins: Floats = field(repr=False)
    form_sd_pins: Floats = field(repr=False)
    game_sd_pins: float
    bowled_pins: Floats = field(repr=False)
    most_pins: Floats = field(repr=False)
    me: int

    @cached_property
    def games(self) -> int:
        """Games of the squad, bowled and to come."""
        return int(self.bowled_pins.shape[1])

    @cached_property
    def to_come(self) -> tuple[int, ...]:
        """Games that the bowler has not bowled yet, from 0."""
        return tuple(np.flatnonzero(np.isnan(self.bowled_pins[self.me])).tolist())

    @cached_property
    def others(self) -> PotField:
        """Everybody but the bowler; nobody of them is `me`."""
        kept = np.arange(len(self.form_pins)) != self.me
        return PotField(
            self.form_pins[kept],
            self.form_sd_pins[kept],
            self.game_sd_pins,
            self.bowled_pins[kept],
            self.most_pins[kept],
            me=-1,
        )

    @cached_property
    def own_at_forms(self) -> PotField:
        """The bowler alone, once at each of FORMS_PINS, which is then known."""
        many = len(FORMS_PINS)
        return PotField(
            FORMS_PINS,
            np.zeros(many),
            self.game_sd_pins,
            np.repeat(self.bowled_pins[[self.me]], many, axis=0),
            np.repeat(self.most_pins[[self.me]], many),
            me=-1,
        )

    @cached_property
    def belief(self) -> Floats:
        """How likely each of FORMS_PINS is the bowler's."""
        forms = self.form_pins[self.me] + self.form_sd_pins[self.me] * NODES_PINS
        return spread_over(FORMS_PINS, forms, NODE_WEIGHTS)

    def game_chances(self, game: int, pins: Floats) -> Floats:
        """(n, pins) chance of at most so many pins in one game."""
        bowled = self.bowled_pins[:, game, None]
        sd = np.hypot(self.form_sd_pins, self.game_sd_pins)[:, None]
        chance = ndtr((pins + 0.5 - self.form_pins[:, None]) / sd)
        chance = np.where(pins >= self.most_pins[:, None], 1.0, chance)
        known: Floats = np.where(np.isnan(bowled), chance, pins >= bowled)
        return known

    def best_game_chances(self, pins: Floats) -> Floats:
        """(n, pins) chance of at most so many pins in the best of all games."""
        left = np.isnan(self.bowled_pins).sum(axis=1)[:, None]
        known = np.where(np.isnan(self.bowled_pins), -np.inf, self.bowled_pins).max(axis=1)
        chance = np.zeros((len(self.form_pins), len(pins)))
        for node_pins, weight in zip(NODES_PINS, NODE_WEIGHTS, strict=True):
            form = (self.form_pins + node_pins * self.form_sd_pins)[:, None]
            chance += weight * ndtr((pins + 0.5 - form) / self.game_sd_pins) ** left
        chance = np.where(pins >= self.most_pins[:, None], 1.0, chance)
        at_most: Floats = chance * (pins >= known[:, None])
        return at_most

    def series_chances(self, pins: Floats) -> Floats:
        """(n, pins) chance of at most so many pins in all games together."""
        left = np.isnan(self.bowled_pins).sum(axis=1)[:, None]
        so_far = np.nansum(self.bowled_pins, axis=1)[:, None]
        mean, sd = self._series(left, so_far)
        with np.errstate(divide="ignore"):
            chance = ndtr((pins + 0.5 - mean) / sd)
        return np.where(pins >= so_far + left * self.most_pins[:, None], 1.0, chance)

    def game_pins(self) -> Floats:
        """Every score of a game that anybody may have."""
        return np.arange(self.most_pins.max() + 1.0)

    def series_pins(self) -> Floats:
        """Totals between which everybody's lie, but for the unlikeliest."""
        left = np.isnan(self.bowled_pins).sum(axis=1)
        mean, sd = self._series(left, np.nansum(self.bowled_pins, axis=1))
        low, high = (mean - TAIL_SDS * sd).min(), (mean + TAIL_SDS * sd).max()
        return np.arange(max(np.floor(low) - 1, 0.0), np.ceil(high) + 2)

    def _series(self, left: np.ndarray, so_far: Floats) -> tuple[Floats, Floats]:
        shape = left.shape
        form, form_sd = (values.reshape(shape) for values in (self.form_pins, self.form_sd_pins))
        sd = np.hypot(left * form_sd, np.sqrt(left) * self.game_sd_pins)
        return so_far + left * form, sd


def spread_over(grid: Floats, values: Floats, weights: Floats) -> Floats:
    """Weights of values laid on an even grid, each shared between its two neighbours so that the
    mean stays; what lies outside goes to the end."""
    place = np.clip((values - grid[0]) / (grid[1] - grid[0]), 0, len(grid) - 1)
    below = np.minimum(place.astype(int), len(grid) - 2)
    above_share = place - below
    laid = np.zeros(len(grid))
    np.add.at(laid, below, weights * (1 - above_share))
    np.add.at(laid, below + 1, weights * above_share)
    return laid
