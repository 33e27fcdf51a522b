"""Side pots: what the high game, the high series or a game drawn by lot brings back.

Who enters is not known, only how many: opponents are drawn from the squad, any of them for each
entry. Bowlers of one score share what their places pay.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from scipy.special import gammaln, xlog1py, xlogy

from nextpair.tournament.field_model import Floats, Wholes
from nextpair.tournament.pot_field import PotField
from nextpair.tournament.stake_odds import StakeOdds

TIED_SDS = 8.0
LARGEST_BLOCK = 2_000_000
"""Numbers that are worked on at once."""


def high_game_odds(
    field: PotField, game: int, opponents: int, amounts: Sequence[float], own_entries: int = 1
) -> StakeOdds:
    """One game counts: it may be bowled already. `amounts` are paid by place."""
    pins = field.game_pins()
    return _odds(
        field.others.game_chances(game, pins),
        field.own_at_forms.game_chances(game, pins),
        opponents,
        amounts,
        own_entries,
    )


def best_game_odds(
    field: PotField, opponents: int, amounts: Sequence[float], own_entries: int = 1
) -> StakeOdds:
    """Everybody's best game of all counts."""
    pins = field.game_pins()
    return _odds(
        field.others.best_game_chances(pins),
        field.own_at_forms.best_game_chances(pins),
        opponents,
        amounts,
        own_entries,
    )


def series_odds(
    field: PotField, opponents: int, amounts: Sequence[float], own_entries: int = 1
) -> StakeOdds:
    """All games together count."""
    pins = field.series_pins()
    return _odds(
        field.others.series_chances(pins),
        field.own_at_forms.series_chances(pins),
        opponents,
        amounts,
        own_entries,
    )


def mystery_game_odds(
    field: PotField, opponents: int, amounts: Sequence[float], own_entries: int = 1
) -> StakeOdds:
    """One game counts, drawn by lot of all games, bowled ones too."""
    odds: StakeOdds | None = None
    for done, game in enumerate(range(field.games)):
        of_game = high_game_odds(field, game, opponents, amounts, own_entries)
        odds = of_game if odds is None else of_game.mixed(odds, 1 / (done + 1))
    if odds is None:
        raise ValueError("no games")
    return odds


def _odds(
    others: Floats, own: Floats, opponents: int, amounts: Sequence[float], own_entries: int
) -> StakeOdds:
    """What comes back, from chances of at most so many pins: (n, pins) the others', (forms, pins)
    the bowler's own. Another such pot is decided by another game."""
    at_most = others.mean(axis=0)
    scored = np.diff(own, prepend=0.0, axis=1)
    scored[:, -1] += 1.0 - own[:, -1]
    values, squares, chances = _by_score(
        above=1.0 - at_most,
        equal=np.diff(at_most, prepend=0.0),
        opponents=opponents,
        amounts=np.asarray(amounts, dtype=float),
        own_entries=own_entries,
    )
    returned = scored @ values
    return StakeOdds(returned, scored @ squares, returned**2, scored @ chances)


def _by_score(
    above: Floats, equal: Floats, opponents: int, amounts: Floats, own_entries: int
) -> tuple[Floats, Floats, Floats]:
    """Mean, mean square and chance of what each score brings: the number of opponents above it is
    binomial, and of the others so is the number of those equal to it."""
    most_equal = opponents * float(equal.max())
    tied = np.arange(
        min(opponents, int(most_equal + TIED_SDS * np.sqrt(most_equal) + TIED_SDS)) + 1
    )
    ahead = np.arange(min(len(amounts), opponents + 1))
    paid = _paid(ahead, tied, amounts, own_entries)
    values, squares, chances = (np.zeros(len(above)) for _ in range(3))
    block = max(1, LARGEST_BLOCK // paid.size)
    for start in range(0, len(above), block):
        part = slice(start, start + block)
        likely = _places(above[part], equal[part], opponents, ahead, tied)
        values[part] = np.einsum("xat,at->x", likely, paid)
        squares[part] = np.einsum("xat,at->x", likely, paid**2)
        chances[part] = np.einsum("xat,at->x", likely, (paid > 0).astype(float))
    return values, squares, chances


def _paid(ahead: Wholes, tied: Wholes, amounts: Floats, own_entries: int) -> Floats:
    """(ahead, tied) what own entries get with so many opponents ahead and so many level."""
    places = ahead[-1] + tied[-1] + own_entries + 1
    summed = np.zeros(places + 1)
    count = min(len(amounts), places)
    summed[1 : count + 1] = np.cumsum(amounts[:count])
    summed[count + 1 :] = summed[count]
    level = tied[None, :] + own_entries
    share: Floats = summed[ahead[:, None] + level] - summed[ahead[:, None]]
    return own_entries * share / level


def _places(above: Floats, equal: Floats, opponents: int, ahead: Wholes, tied: Wholes) -> Floats:
    """(scores, ahead, tied) chance of so many opponents ahead and so many level."""
    level = np.clip(equal / np.maximum(1.0 - above, 1e-300), 0.0, 1.0)
    first = _binomial(opponents, above[:, None], ahead[None, :])
    left = (opponents - ahead)[None, :, None]
    then = _binomial(left, level[:, None, None], tied[None, None, :])
    return first[:, :, None] * then


def _binomial(tries: int | Wholes, share: Floats, hits: Wholes) -> Floats:
    """Chance of so many hits. Source: closed form."""
    share = np.clip(share, 0.0, 1.0)
    missed = np.maximum(tries - hits, 0)
    log = gammaln(tries + 1.0) - gammaln(hits + 1.0) - gammaln(missed + 1.0)
    log = log + xlogy(hits, share) + xlog1py(missed, -share)
    return np.where(hits <= tries, np.exp(log), 0.0)
