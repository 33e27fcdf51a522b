"""An eliminator: after each game the lower half go out, until no more are left than are paid.

How high the rest of the field sets the bar does not depend on what the bowler scores, as long as
the bowler stays in: so it is drawn once, and then valued at every form. A tie is decided by lot.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from scipy.special import ndtr

from nextpair.tournament.field_model import Floats
from nextpair.tournament.pot_field import PotField
from nextpair.tournament.stake_odds import StakeOdds

MOST_SCORES = 4_000_000
MOST_DRAWS, FEWEST_DRAWS = 4000, 200
LONG_AGO = -1e9


@dataclass(frozen=True, slots=True, eq=False)
class Bars:
    """What a bowler must beat, (draws, ...): the score to stay in of each game but the last, and
    the best of who is left in the last, best first."""

    to_stay: Floats = field(repr=False)
    last: Floats = field(repr=False)


def eliminator_odds(
    field: PotField, opponents: int, amounts: Sequence[float], rng: np.random.Generator
) -> StakeOdds:
    """What one entry brings back, at each form of the bowler."""
    bars = drawn_bars(field, opponents, len(amounts), rng)
    own = field.own_at_forms
    stays = np.ones((len(bars.last), len(own.form_pins)))
    for number in range(bars.to_stay.shape[1]):
        stays = stays * _beats(own, number, bars.to_stay[:, number, None])
    beaten = [
        _beats(own, bars.to_stay.shape[1], bars.last[:, place, None])
        for place in range(bars.last.shape[1])
    ]
    # Beating the one at a place is to be at that place or better.
    beaten.append(np.ones_like(stays))
    paid = np.zeros(len(beaten))
    paid[: len(amounts)] = amounts[: len(beaten)]
    returned, squared, chance = (np.zeros(1) for _ in range(3))
    before = np.zeros_like(stays)
    for amount, here in zip(paid, beaten, strict=True):
        likely = (stays * (here - before)).mean(axis=0)
        returned = returned + amount * likely
        squared = squared + amount**2 * likely
        chance = chance + (amount > 0) * likely
        before = here
    return StakeOdds(returned, squared, returned**2, chance)


def left_after(entries: int, games: int, paid: int) -> tuple[int, ...]:
    """How many are left after each game that puts somebody out. One more game then places them."""
    left: list[int] = []
    while entries > max(paid, 1) and len(left) < games - 1:
        entries = max((entries + 1) // 2, paid, 1)
        left.append(entries)
    return tuple(left)


def drawn_bars(field: PotField, opponents: int, paid: int, rng: np.random.Generator) -> Bars:
    """What the others set for a bowler who stays in, drawn."""
    keeps = left_after(opponents + 1, field.games, paid)
    games = len(keeps) + 1
    draws = int(np.clip(MOST_SCORES // (max(opponents, 1) * games), FEWEST_DRAWS, MOST_DRAWS))
    scores = _drawn_scores(field.others, (draws, opponents), games, rng)
    is_in = np.ones((draws, opponents), dtype=bool)
    to_stay = np.full((draws, len(keeps)), LONG_AGO)
    for number, kept in enumerate(keeps):
        here = np.where(is_in, scores[:, :, number], LONG_AGO)
        # The bowler is one of those who stay: one less of the others does.
        order = np.sort(here, axis=1)[:, ::-1]
        if kept <= opponents:
            to_stay[:, number] = order[:, kept - 1]
        bar = order[:, kept - 2] if kept > 1 else np.full(draws, np.inf)
        is_in &= here >= bar[:, None]
    last = np.sort(np.where(is_in, scores[:, :, -1], LONG_AGO), axis=1)[:, ::-1]
    return Bars(to_stay, last[:, :paid])


def _drawn_scores(
    others: PotField, shape: tuple[int, int], games: int, rng: np.random.Generator
) -> Floats:
    """(draws, opponents, games) of opponents who are any of the others, ties broken by lot."""
    who = rng.integers(len(others.form_pins), size=shape)
    form = others.form_pins[who] + others.form_sd_pins[who] * rng.standard_normal(shape)
    noise = others.game_sd_pins * rng.standard_normal((*shape, games))
    scores = np.minimum(np.rint(form[..., None] + noise), others.most_pins[who][..., None])
    bowled = others.bowled_pins[who][..., :games]
    known: Floats = np.where(np.isnan(bowled), scores, bowled)
    return known + rng.uniform(-0.25, 0.25, known.shape)


def _beats(own: PotField, game: int, bars: Floats) -> Floats:
    """(draws, forms) chance to score more than each bar, which lies off the whole pins."""
    whole = np.rint(bars)
    bowled = own.bowled_pins[0, game]
    if not np.isnan(bowled):
        level = (bowled == whole) & (bowled > LONG_AGO)
        return np.broadcast_to((bowled > whole) + 0.5 * level, (len(bars), len(own.form_pins)))
    over, under = (ndtr((whole + side - own.form_pins) / own.game_sd_pins) for side in (0.5, -0.5))
    beaten: Floats = 1.0 - 0.5 * (over + under)
    return beaten
