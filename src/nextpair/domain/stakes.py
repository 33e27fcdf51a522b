"""What side pots and brackets are worth to a bowler: estimates, and never more than that.

Documents for people and programs outside: the fields are those of `stakes` in `nextpair standing
--json`, as docs/guide/json.md lists them.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

BRACKET = "bracket"
"""What a bracket is one for each of, as pots are for a game or a squad."""


class Advice(StrEnum):
    """What an entry is worth on average, less its fee."""

    WORTH_IT = "worth it"
    ABOUT_EVEN = "about even"
    NOT_WORTH_IT = "not worth it"
    TOO_LATE = "too late"
    """It is decided, or too few games are left."""
    NOT_VALUED = "not valued"
    """What is won by it is nothing that the program knows."""


@dataclass(frozen=True, slots=True)
class StakeValue:
    """What entries bring back: on average, with what standard deviation, and the chance of
    anything at all."""

    entries: int
    cost: Decimal
    returned: Decimal
    sd: Decimal
    cash_chance: float

    @property
    def gain(self) -> Decimal:
        """What comes back on average, less what they cost."""
        return self.returned - self.cost


@dataclass(frozen=True, slots=True)
class Stake:
    """One kind of side pot, or the brackets.

    kind, per, fee : as in the event's file; `per` of brackets is "bracket".
    entries : how many enter a pot, the bowler's own entries too; players of a bracket.
    own_entries : how many of them the bowler makes in each pot; brackets that are entered.
    left : pots that are still to be decided, or brackets that can still begin.
    one, all : one entry, and all that the bowler has in what is left; None where not valued.
    further_gain : what one entry more would bring back on average, less its fee.
    fair_form_pins : form of the bowler at which one entry is worth its fee; None where no form
        is, or every one. gain_chance : that the bowler's is at least that.
    """

    kind: str
    per: str
    fee: Decimal
    entries: int
    places_paid: int
    own_entries: int
    left: int
    advice: Advice
    one: StakeValue | None = None
    all: StakeValue | None = None
    further_gain: Decimal | None = None
    further_advice: Advice | None = None
    fair_form_pins: float | None = None
    gain_chance: float | None = None
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Stakes:
    """Everything that a bowler may stake at an event beside the entry.

    form_pins, form_sd_pins : mean of a game to come as it is believed, and the doubt of it.
    field_form_pins : the mean of the others in the bowler's squad.
    returned, cost : of all entries still to be decided that are valued, together.
    """

    event: str
    bowler: str
    currency: str
    seed: int
    games_bowled: int
    games_left: int
    form_pins: float
    form_sd_pins: float
    field_form_pins: float
    stakes: tuple[Stake, ...]
    returned: Decimal
    cost: Decimal
    words: tuple[str, ...]
    cautions: tuple[str, ...]
