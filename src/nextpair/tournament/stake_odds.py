"""What a stake brings back at each form of the bowler: mean, spread, and where it is fair."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from nextpair.tournament.field_model import Floats
from nextpair.tournament.pot_field import FORMS_PINS


@dataclass(frozen=True, slots=True, eq=False)
class StakeOdds:
    """One pot or one bracket, at each of FORMS_PINS, in units of the currency.

    returned, squared : mean of what comes back, and of its square.
    shared : mean of the square of what comes back on average once the bowler's own games are
        known, as far as other stakes of the kind hang on the same games.
    chance : of getting anything back.
    """

    returned: Floats = field(repr=False)
    squared: Floats = field(repr=False)
    shared: Floats = field(repr=False)
    chance: Floats = field(repr=False)

    def of_all(self, belief: Floats, stakes: int = 1) -> tuple[float, float]:
        """Mean and standard deviation of what so many such stakes bring back together."""
        mean, squared, shared = (
            float(belief @ values) for values in (self.returned, self.squared, self.shared)
        )
        variance = stakes * (squared - shared) + stakes**2 * (shared - mean**2)
        return stakes * mean, float(np.sqrt(max(variance, 0.0)))

    def any_chance(self, belief: Floats, stakes: int = 1) -> float:
        """Chance that any of so many such stakes brings something back, of which each hangs on a
        game of its own."""
        return float(1.0 - belief @ (1.0 - self.chance) ** stakes)

    def times(self, entries: int) -> StakeOdds:
        """So many entries that are paid alike."""
        return StakeOdds(
            entries * self.returned,
            entries**2 * self.squared,
            entries**2 * self.shared,
            self.chance,
        )

    def mixed(self, other: StakeOdds, share: float) -> StakeOdds:
        """This one with a chance of `share`, else the other; who bowls does not know which."""
        return StakeOdds(
            *(
                share * getattr(self, name) + (1 - share) * getattr(other, name)
                for name in ("returned", "squared", "shared", "chance")
            )
        )


def fair_form_pins(gained: Floats) -> float | None:
    """The lowest form from which on a stake gains, of its gains at FORMS_PINS; None where it never
    does, or always."""
    at_loss = np.flatnonzero(gained < 0)
    if not len(at_loss) or at_loss[-1] == len(gained) - 1:
        return None
    last = at_loss[-1]
    step = -gained[last] / (gained[last + 1] - gained[last])
    return float(FORMS_PINS[last] + step * (FORMS_PINS[last + 1] - FORMS_PINS[last]))
