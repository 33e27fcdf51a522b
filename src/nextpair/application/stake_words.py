"""What a stake is worth, in plain words with the number behind them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from nextpair.domain.money import BRACKETS, amount_words, rounded
from nextpair.domain.stakes import BRACKET, Advice, Stake, StakeValue
from nextpair.tournament.field_model import Floats

EVEN_SHARE = 0.03
"""Of the fee: gains and losses closer to nothing than this are told as even."""
FEW_GAMES = 3
NOT_VALUED = "Only its fee is told: what is won in it is nothing that can be valued here."
DECIDED = "All games that it hangs on are bowled."
BEGUN = (
    "This is of one that begins with the next game. Those that have begun are not valued: who is "
    "left in them is not known."
)
NO_ROUNDS = "Fewer games are left than a bracket takes."
SAME_GAMES = (
    "All of them hang on the same games of yours, so they are won and lost together: {count} "
    "spread by {together}, where {count} that had nothing to do with each other would spread by "
    "{apart}. More of them multiply the average gain or loss and hardly even it out."
)


def stake_words(stake: Stake, advice: Advice, currency: str) -> Stake:
    """The stake with advice and words."""
    return replace(stake, advice=advice, words=tuple(_sentences(stake, advice, currency)))


def advice_on(gain: float, fee: float) -> Advice:
    """What to make of a mean gain over a fee."""
    if abs(gain) <= EVEN_SHARE * fee:
        return Advice.ABOUT_EVEN
    return Advice.WORTH_IT if gain > 0 else Advice.NOT_WORTH_IT


def field_words(own: Floats, others: Floats, form: float, doubt: float) -> tuple[str, ...]:
    """What was seen of the bowler against the squad, and what is believed of the form."""
    believed = f"your form is believed to be {form:.0f} pins a game, give or take {doubt:.0f}"
    if not len(own):
        return (f"{believed[0].upper()}{believed[1:]}.",)
    games = "1 game" if len(own) == 1 else f"{len(own)} games"
    told = f"So far {own.mean():.0f} pins a game over {games}"
    if len(others):
        ahead = round(float(own.mean() - others.mean()))
        told += f", {_apart(ahead)} the others of your squad"
    few = "; few games weigh little against what is known of fields" * (len(own) < FEW_GAMES)
    return (f"{told}; {believed}{few}.",)


def _apart(pins: int) -> str:
    if not pins:
        return "level with"
    return f"{abs(pins)} {'over' if pins > 0 else 'under'}"


def _sentences(stake: Stake, advice: Advice, currency: str) -> Iterator[str]:
    if stake.one is None:
        brackets = stake.kind == BRACKETS
        yield NOT_VALUED if advice is Advice.NOT_VALUED else NO_ROUNDS if brackets else DECIDED
        return
    yield _one(stake.one, stake, currency)
    yield _fair(stake)
    if stake.per == BRACKET and stake.own_entries and not stake.left:
        yield BEGUN
    if stake.all is not None and stake.all.entries * stake.own_entries > 1:
        yield _all(stake.all, stake, currency)
    if stake.further_gain is not None and stake.further_advice is not None:
        yield from _further(stake, stake.further_gain, stake.further_advice, currency)


def _one(one: StakeValue, stake: Stake, currency: str) -> str:
    back = amount_words(one.returned, currency)
    return (
        f"One entry of {amount_words(stake.fee, currency)} brings back {back} on average, "
        f"{_gained(one.gain, currency)}; give or take {amount_words(one.sd, currency)}, and "
        f"anything at all in {_percent(one.cash_chance)} of cases."
    )


def _fair(stake: Stake) -> str:
    if stake.fair_form_pins is None:
        always = stake.one is not None and stake.one.gain > 0
        return f"{'Every' if always else 'No'} form is worth its fee."
    return (
        f"It is fair for a form of {stake.fair_form_pins:.0f} pins a game; the chance that yours "
        f"is at least that is {_percent(stake.gain_chance or 0.0)}."
    )


def _all(held: StakeValue, stake: Stake, currency: str) -> str:
    count = held.entries * stake.own_entries if stake.per != BRACKET else held.entries
    together = amount_words(held.sd, currency)
    told = (
        f"Your {count} still to be decided bring back {amount_words(held.returned, currency)} of "
        f"{amount_words(held.cost, currency)} on average, give or take {together}, and anything "
        f"in {_percent(held.cash_chance)} of cases."
    )
    if stake.per == BRACKET and stake.one is not None:
        apart = stake.one.sd * Decimal(held.entries).sqrt()
        same = SAME_GAMES.format(
            count=count, together=together, apart=amount_words(apart, currency)
        )
        told = f"{told} {same}"
    return told


def _further(stake: Stake, gain: Decimal, advice: Advice, currency: str) -> Iterator[str]:
    """What one more is worth, where there is one already."""
    if not stake.own_entries:
        return
    noun = "bracket" if stake.per == BRACKET else "entry"
    yield (
        f"A further {noun}, where it is still taken, is {advice.value}: "
        f"{_gained(gain, currency)} on average."
    )


def _gained(gain: Decimal, currency: str) -> str:
    if not rounded(gain, currency):
        return "nothing gained or lost"
    return f"{amount_words(abs(gain), currency)} {'gained' if gain > 0 else 'lost'}"


def _percent(chance: float) -> str:
    """A chance as it is said, never as certain as it is not."""
    if 0 < chance < 0.01:
        return "under 1 %"
    if 0.99 < chance < 1:
        return "over 99 %"
    return f"{100 * chance:.0f} %"
