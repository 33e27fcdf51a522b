"""What is believed of everybody's games to come."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.field_score import HIGHEST

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class FieldModel:
    """A field of n bowlers, in one order throughout; pins with whatever handicap is added.

    names : (n,). Entrants of whom nothing was seen yet are in it too, with an empty name.
    totals, games_left : (n,) whole pins so far, and games still to come before the cut.
    form_pins, form_sd_pins : (n,) mean of a game to come, and the doubt of that mean.
    game_sd_pins : standard deviation of one game about the form.
    squads : (n,) number of everybody's squad, from 0; squad_sd_pins : doubt of a shift that all
        games to come of a squad share, since its lanes are nobody's yet.
    unseen_sd_pins : doubt that is added to that of a squad of whom nobody has bowled, since the
        field's mean is known from others.
    me : place of the bowler in that order.
    handicaps : (n,) whole pins added to each game to come, which form_pins holds already; None
        where nobody is given any.
    """

    names: tuple[str, ...]
    totals: Wholes = field(repr=False)
    games_left: Wholes = field(repr=False)
    form_pins: Floats = field(repr=False)
    form_sd_pins: Floats = field(repr=False)
    game_sd_pins: float
    squads: Wholes = field(repr=False)
    squad_sd_pins: float
    me: int
    unseen_sd_pins: float = 0.0
    handicaps: Wholes | None = field(default=None, repr=False)

    def shift_sd_pins(self, squad: int) -> float:
        """Doubt of what all games to come of a squad share."""
        is_unseen = not self.totals[self.squads == squad].any()
        return math.hypot(self.squad_sd_pins, self.unseen_sd_pins * is_unseen)

    @property
    def most_to_come_pins(self) -> Wholes:
        """(n,) pins that nobody can pass in the games to come."""
        added = 0 if self.handicaps is None else self.handicaps
        return self.games_left * (HIGHEST + added)
