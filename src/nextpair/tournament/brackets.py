"""Brackets: single elimination over consecutive games, a game a round, drawn by lot.

A tie is worth half a win to both. Of several brackets of one bowler the opponents are others, and
the bowler's own games are the same: won and lost together, they spread wider than brackets would
that had nothing to do with each other.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

import numpy as np
from scipy.special import ndtr

from nextpair.domain.errors import require
from nextpair.tournament.field_model import Floats
from nextpair.tournament.pot_field import (
    FORMS_PINS,
    NODE_WEIGHTS,
    NODES_PINS,
    PotField,
    spread_over,
)
from nextpair.tournament.stake_odds import StakeOdds

MOST_DRAWN = 8
"""Players of a bracket whose every draw is gone through: eight have 315."""
DRAWS = 100_000


def rounds_won(win: Floats) -> Floats:
    """(..., rounds + 1, k) chance of each of k players to win at least so many rounds.

    win : (..., k, k) chance of the row's player to beat the column's; k is 2, 4, 8, 16 or 32. In
        the first round 0 meets 1, 2 meets 3, in the second the winners of those, and so on.
    """
    players = win.shape[-1]
    reached = [np.ones(win.shape[:-1])]
    groups = np.arange(players)
    size = 1
    while size < players:
        here = reached[-1]
        opposite = groups // size ^ 1
        meets = opposite[:, None] == groups[None, :] // size
        beaten = np.einsum("...ij,...j,ij->...i", win, here, meets.astype(float))
        reached.append(here * beaten)
        size *= 2
    return np.stack(reached, axis=-2)


def bracket_chances(win: Floats) -> Floats:
    """(..., k) chance of each of k players to win a bracket, in the order of `rounds_won`."""
    chances: Floats = rounds_won(win)[..., -1, :]
    return chances


def drawn_rounds(win: Floats) -> Floats:
    """(..., rounds + 1, k) as `rounds_won`, the mean over every draw of at most eight players."""
    players = win.shape[-1]
    require(players <= MOST_DRAWN, "players", players, f"at most {MOST_DRAWN}")
    won, many = np.zeros((*win.shape[:-2], players.bit_length(), players)), 0
    for order in _draws(tuple(range(players))):
        seats = np.argsort(order)
        placed = win[..., np.asarray(order)[:, None], np.asarray(order)[None, :]]
        won += rounds_won(placed)[..., seats]
        many += 1
    return won / many


def _draws(players: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    """Every draw of some players, each once: who meets whom matters, not in which order."""
    if len(players) == 1:
        yield players
        return
    first, *others = players
    for beside in combinations(others, len(players) // 2 - 1):
        half = (first, *beside)
        rest = tuple(player for player in others if player not in beside)
        for upper in _draws(half):
            for lower in _draws(rest):
                yield upper + lower


def bracket_odds(field: PotField, size: int, amounts: Sequence[float]) -> StakeOdds:
    """What one bracket of `size` brings back at each form, over the next games of the squad.

    `amounts` are paid by place; who goes out in one round shares what its places pay. Where the
    squad is no larger than a bracket everybody is in it, and every draw of it is gone through;
    else opponents are drawn from the squad, any of them for each seat.
    """
    pins = field.game_pins()
    rounds = size.bit_length() - 1
    by_score = _winning_by_score(field, pins, rounds)
    scored = _scored(field, pins)
    wins, squares = scored @ by_score.T, scored @ (by_score**2).T
    if len(field.form_pins) == size <= MOST_DRAWN:
        known = _closed_wins(field)
        squares += known**2 - wins**2
        wins = known
    lost = _lost_amounts(size, amounts)
    returned = np.full(len(FORMS_PINS), float(amounts[0]) if amounts else 0.0)
    squared, shared = returned**2, returned**2
    for number in reversed(range(rounds)):
        win, square, low = wins[:, number], squares[:, number], lost[number]
        shared = (
            low**2
            + 2 * low * win * (returned - low)
            + square * (shared - 2 * low * returned + low**2)
        )
        squared = (1 - win) * low**2 + win * squared
        returned = low + win * (returned - low)
    first_paid = int((lost == 0).sum())
    chance = np.prod(wins[:, :first_paid], axis=1) if any(amounts) else 0.0 * returned
    return StakeOdds(returned, squared, shared, chance)


def any_bracket_chance(
    field: PotField,
    size: int,
    amounts: Sequence[float],
    brackets: int,
    rng: np.random.Generator,
) -> float:
    """Chance that any of several brackets pays, by draws of the bowler's form and games: they are
    the same in all of them."""
    first_paid = int((_lost_amounts(size, amounts) == 0).sum())
    if not any(amounts) or not brackets:
        return 0.0
    pins = field.game_pins()
    form = field.form_pins[field.me] + field.form_sd_pins[field.me] * rng.standard_normal(DRAWS)
    paid = np.ones(DRAWS)
    for winning in _winning_by_score(field, pins, first_paid):
        game = np.rint(form + field.game_sd_pins * rng.standard_normal(DRAWS))
        paid *= winning[np.clip(game, 0, len(pins) - 1).astype(int)]
    return float(1.0 - ((1.0 - paid) ** brackets).mean())


def _lost_amounts(size: int, amounts: Sequence[float]) -> Floats:
    """(rounds,) what whoever goes out in a round gets: the mean of the places that it decides."""
    paid = np.zeros(size)
    paid[: len(amounts)] = amounts[:size]
    rounds = size.bit_length() - 1
    return np.array(
        [paid[size >> (number + 1) : size >> number].mean() for number in range(rounds)]
    )


def _scored(field: PotField, pins: Floats) -> Floats:
    """(forms, pins) chance of each score of the bowler in a game to come."""
    own = field.own_at_forms
    edges = np.concatenate(([-np.inf], pins[:-1] + 0.5, [np.inf]))
    chances = ndtr((edges - own.form_pins[:, None]) / field.game_sd_pins)
    return np.diff(chances, axis=1)


def _winning_by_score(field: PotField, pins: Floats, rounds: int) -> Floats:
    """(rounds, pins) chance to win each round with a score, against whoever is left in it."""
    others = field.others
    forms = others.form_pins[:, None] + others.form_sd_pins[:, None] * NODES_PINS
    weights = np.broadcast_to(NODE_WEIGHTS, forms.shape)
    left = spread_over(FORMS_PINS, forms.ravel(), weights.ravel())
    left /= left.sum()
    sd = field.game_sd_pins
    beats = ndtr((FORMS_PINS[:, None] - FORMS_PINS[None, :]) / (np.sqrt(2.0) * sd))
    lower = ndtr((pins[:, None] - FORMS_PINS[None, :]) / sd)
    won = []
    for _ in range(rounds):
        won.append(lower @ left)
        left = left * (beats @ left)
        left /= left.sum()
    return np.array(won)


def _closed_wins(field: PotField) -> Floats:
    """(forms, rounds) chance to win each round, once in it, where everybody is in the bracket."""
    others = field.others
    forms = np.concatenate(
        [
            FORMS_PINS[:, None],
            np.broadcast_to(others.form_pins, (len(FORMS_PINS), len(others.form_pins))),
        ],
        axis=1,
    )
    doubt = np.concatenate(([0.0], others.form_sd_pins))
    sd = np.sqrt(2 * field.game_sd_pins**2 + doubt[:, None] ** 2 + doubt[None, :] ** 2)
    reached = drawn_rounds(ndtr((forms[:, :, None] - forms[:, None, :]) / sd))[:, :, 0]
    return reached[:, 1:] / reached[:, :-1]
