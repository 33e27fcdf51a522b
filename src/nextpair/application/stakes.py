"""What side pots and brackets of an event are worth, by the scores of its field so far."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

import numpy as np
from scipy.special import ndtr

from nextpair.application.entries import Entries, entries_of
from nextpair.application.stake_words import advice_on, field_words, stake_words
from nextpair.domain.event import Event
from nextpair.domain.field_score import HIGHEST, FieldScore
from nextpair.domain.money import BRACKETS, Brackets, PotKind, SidePot
from nextpair.domain.stakes import BRACKET, Advice, Stake, Stakes, StakeValue
from nextpair.tournament.brackets import any_bracket_chance, bracket_odds
from nextpair.tournament.eliminator import eliminator_odds
from nextpair.tournament.field_model import Floats
from nextpair.tournament.form import form_of
from nextpair.tournament.pot_field import PotField
from nextpair.tournament.side_pots import (
    best_game_odds,
    high_game_odds,
    mystery_game_odds,
    series_odds,
)
from nextpair.tournament.stake_odds import StakeOdds, fair_form_pins

FEWEST_OTHERS = 3
"""Of the own squad; with fewer the whole field stands for those who enter."""
CENTS = Decimal("0.0001")
"""How finely an estimate is kept."""
ESTIMATES = (
    "Estimates: of the others only is known how many enter, so they are taken for any of your "
    "squad, and what is believed of forms may be wrong."
)
ALLOWED = (
    "Laws on gambling and the rules of the event decide what is allowed, and for whom; this "
    "program cannot tell."
)
Value = Callable[[int, int, Sequence[float], int], StakeOdds]
"""Odds of a pot: opponents, own entries, amounts by place, and the game (from 0) where it is one
of a game."""


def stakes_of(event: Event, scores: Sequence[FieldScore], seed: int) -> Stakes | None:
    """Every side pot and the brackets of an event; None where there is none, where the event is
    over, or where the bowler wants to see none."""
    money = event.money
    is_over = money.winnings is not None
    if is_over or not event.bowler.side_pots or not (money.side_pots or money.brackets):
        return None
    table = _Table(entries_of(event, scores), seed)
    field = table.field(None)
    stakes = [_pot(pot, table, money.currency) for pot in money.side_pots]
    if money.brackets is not None:
        stakes.append(_brackets(money.brackets, table, money.currency))
    held = [stake.all for stake in stakes if stake.all is not None]
    others = field.others
    form, doubt = float(field.form_pins[field.me]), float(field.form_sd_pins[field.me])
    return Stakes(
        event=event.name,
        bowler=event.bowler_name,
        currency=money.currency,
        seed=seed,
        games_bowled=table.bowled,
        games_left=len(field.to_come),
        form_pins=form,
        form_sd_pins=doubt,
        field_form_pins=float(others.form_pins.mean()) if len(others.form_pins) else form,
        stakes=tuple(stakes),
        returned=sum((value.returned for value in held), Decimal(0)),
        cost=sum((value.cost for value in held), Decimal(0)),
        words=field_words(table.own_pins, table.others_pins, form, doubt),
        cautions=(*_cautions(event, table), ESTIMATES, ALLOWED),
    )


@dataclass(frozen=True, eq=False)
class _Table:
    """Everybody at the event, and those of them who may be in a pot of the bowler's squad."""

    entries: Entries
    seed: int
    fields: dict[bool, PotField] = field(default_factory=dict)

    @property
    def bowled(self) -> int:
        return len(self.entries.own.games)

    @property
    def own_pins(self) -> Floats:
        """The bowler's own games so far."""
        return _known(self.field(None).bowled_pins[self.field(None).me])

    @property
    def others_pins(self) -> Floats:
        """Everybody else's games so far, in the squad."""
        return _known(self.field(None).others.bowled_pins)

    def field(self, handicap: bool | None) -> PotField:
        """Who may be in a pot. Handicap counts in it as in the event (None), or as told."""
        with_handicap = handicap is not False
        if with_handicap not in self.fields:
            self.fields[with_handicap] = self._field(with_handicap)
        return self.fields[with_handicap]

    def _field(self, with_handicap: bool) -> PotField:
        entries = self.entries
        form = form_of(entries.games_of(with_handicap))
        squad = entries.own.squad
        here = np.array([one.squad == squad for one in entries.all])
        if here.sum() <= FEWEST_OTHERS:
            here[:] = True
        most = [HIGHEST + one.handicap * with_handicap for one in entries.all]
        return PotField(
            form_pins=form.level_pins[here],
            form_sd_pins=form.level_sd_pins[here],
            game_sd_pins=form.game_sd_pins,
            bowled_pins=entries.pins(with_handicap)[here],
            most_pins=np.array(most, dtype=float)[here],
            me=int(here[: entries.me].sum()),
        )


def _pot(pot: SidePot, table: _Table, currency: str) -> Stake:
    field = table.field(pot.handicap)
    to_come = field.to_come
    left = len(to_come) if pot.per == "game" else int(bool(to_come))
    own = pot.count
    stake = Stake(
        kind=pot.kind,
        per=pot.per,
        fee=pot.fee,
        entries=pot.entries,
        places_paid=len(pot.pays),
        own_entries=own,
        left=left,
        advice=Advice.TOO_LATE,
    )
    value = _value_of(pot, field, table.seed)
    if value is None or len(field.form_pins) < 2:
        return stake_words(stake, Advice.NOT_VALUED, currency)
    if not left:
        return stake_words(stake, Advice.TOO_LATE, currency)
    opponents = pot.entries - min(own, pot.entries)
    fee = float(pot.fee)

    def odds(entries: int) -> StakeOdds:
        amounts = [share * fee * (opponents + entries) for share in pot.pays]
        return value(opponents, entries, amounts, to_come[0])

    one = odds(1)
    held = one if own <= 1 else odds(own)
    further = _further(pot, held, odds)
    return _told(stake, _Odds(field, one, held, own, left, further), currency)


def _further(pot: SidePot, held: StakeOdds, odds: Callable[[int], StakeOdds]) -> Floats | None:
    """What one entry more brings at each form, less its fee; None where the own entries are told
    apart by nothing, as in an eliminator."""
    if pot.count and pot.kind == PotKind.ELIMINATOR:
        return None
    before = held.returned if pot.count else np.zeros_like(held.returned)
    return odds(pot.count + 1).returned - before - float(pot.fee)


def _value_of(pot: SidePot, field: PotField, seed: int) -> Value | None:
    """How a kind of pot is valued; None for one that is not known."""
    if pot.kind == PotKind.HIGH_GAME:
        if pot.per == "game":
            return lambda m, own, paid, game: high_game_odds(field, game, m, paid, own)
        return lambda m, own, paid, _game: best_game_odds(field, m, paid, own)
    if pot.kind == PotKind.HIGH_SERIES and pot.per == "squad":
        return lambda m, own, paid, _game: series_odds(field, m, paid, own)
    if pot.kind == PotKind.MYSTERY_GAME and pot.per == "squad":
        return lambda m, own, paid, _game: mystery_game_odds(field, m, paid, own)
    if pot.kind == PotKind.ELIMINATOR and pot.per == "squad":
        return lambda m, own, paid, _game: eliminator_odds(
            field, m, paid, np.random.default_rng(seed)
        ).times(own)
    return None


def _brackets(brackets: Brackets, table: _Table, currency: str) -> Stake:
    field = table.field(brackets.handicap)
    fits = len(field.to_come) >= brackets.rounds
    own, left = brackets.count, 0 if table.bowled else brackets.count
    stake = Stake(
        kind=BRACKETS,
        per=BRACKET,
        fee=brackets.fee,
        entries=brackets.size,
        places_paid=len(brackets.pays),
        own_entries=own,
        left=left if fits else 0,
        advice=Advice.TOO_LATE,
    )
    if not fits or len(field.form_pins) < 2:
        return stake_words(stake, Advice.TOO_LATE, currency)
    amounts = [float(amount) for amount in brackets.pays]
    odds = bracket_odds(field, brackets.size, amounts)
    rng = np.random.default_rng(table.seed)
    chance = any_bracket_chance(field, brackets.size, amounts, max(own, 1), rng)
    further = odds.returned - float(brackets.fee)
    return _told(stake, _Odds(field, odds, odds, min(own, 1), left, further, chance), currency)


@dataclass(frozen=True, slots=True, eq=False)
class _Odds:
    """A stake valued: one entry, and the own ones of each of so many alike."""

    field: PotField
    one: StakeOdds
    held: StakeOdds
    own: int
    left: int
    further: Floats | None
    any_chance: float | None = None


def _told(stake: Stake, odds: _Odds, currency: str) -> Stake:
    """The stake with its value, advice and words."""
    belief, fee = odds.field.belief, float(stake.fee)
    gained = odds.one.returned - fee
    further = None if odds.further is None else float(belief @ odds.further)
    fair = fair_form_pins(gained)
    valued = Stake(
        **{name: getattr(stake, name) for name in _KEPT},
        advice=advice_on(float(belief @ gained), fee),
        one=_value(odds.one, belief, 1, stake.fee, None),
        all=(
            _value(odds.held, belief, odds.left, stake.fee * odds.own, odds.any_chance)
            if odds.own and odds.left
            else None
        ),
        further_gain=None if further is None else _amount(further),
        further_advice=None if further is None else advice_on(further, fee),
        fair_form_pins=fair,
        gain_chance=_gain_chance(odds.field, fair, float(gained[-1])),
    )
    return stake_words(valued, valued.advice, currency)


def _gain_chance(field: PotField, fair: float | None, best: float) -> float:
    """Chance that the bowler's form is fair; `best` is the gain of the best form there is."""
    if fair is None:
        return float(best > 0)
    form, doubt = field.form_pins[field.me], field.form_sd_pins[field.me]
    return float(ndtr((form - fair) / doubt)) if doubt else float(form >= fair)


_KEPT = ("kind", "per", "fee", "entries", "places_paid", "own_entries", "left")


def _value(
    odds: StakeOdds, belief: Floats, stakes: int, cost: Decimal, chance: float | None
) -> StakeValue:
    """So many stakes alike, each at that cost."""
    mean, sd = odds.of_all(belief, stakes)
    return StakeValue(
        entries=stakes,
        cost=cost * stakes,
        returned=_amount(mean),
        sd=_amount(sd),
        cash_chance=odds.any_chance(belief, stakes) if chance is None else chance,
    )


def _amount(value: float) -> Decimal:
    return Decimal(repr(float(value))).quantize(CENTS)


def _known(pins: Floats) -> Floats:
    return pins[~np.isnan(pins)]


def _cautions(event: Event, table: _Table) -> Iterator[str]:
    if not table.bowled:
        yield "No game of yours is known yet: your form is taken from your average and the field."
    money = event.money
    asked = [pot.handicap for pot in money.side_pots]
    asked += [money.brackets.handicap] if money.brackets else []
    if True in asked and not any(one.handicap for one in table.entries.all):
        yield "Handicap is to count, and nobody's is known: pins are taken as they fell."
