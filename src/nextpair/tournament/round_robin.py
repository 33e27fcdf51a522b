"""A round robin: everybody meets everybody once, and pins with the bonus of won matches decide.

Source: [facts] section 7: 30 bonus pins for a win, 15 each for a tie.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from nextpair.tournament.field_model import Floats, Wholes
from nextpair.tournament.match import MatchPlay


def rounds_of_everybody(entrants: int) -> Iterator[Wholes]:
    """(matches, 2) of each round, from 0: the first stays and the others move on round the circle.
    Of an odd number one in turn bowls no match of a round."""
    seats = entrants + entrants % 2
    moving = np.arange(1, seats)
    for turn in range(seats - 1):
        circle = np.concatenate([[0], np.roll(moving, turn)])
        pairs = np.stack([circle[: seats // 2], circle[: seats // 2 - 1 : -1]], axis=1)
        yield pairs[(pairs < entrants).all(axis=1)]


def bonus_pins(one: Wholes, other: Wholes, win: int, tie: int) -> tuple[Wholes, Wholes]:
    """What both get for a match that they bowled with so many pins."""
    tied = np.where(one == other, tie, 0)
    return np.where(one > other, win, tied), np.where(other > one, win, tied)


def round_robin(play: MatchPlay, most_a_game_pins: Wholes, win: int, tie: int) -> Wholes:
    """(draws, k) pins of every seed over all matches, bonus added; a tied match stays one.

    most_a_game_pins : (draws, k) that nobody can pass in a game.
    """
    forms, most = (np.ascontiguousarray(facts.T) for facts in (play.form_pins, most_a_game_pins))
    pins = np.zeros(forms.shape, dtype=np.int64)
    for matches in rounds_of_everybody(len(forms)):
        one, other = matches.T
        one_pins = block_pins(play, forms[one], most[one])
        other_pins = block_pins(play, forms[other], most[other])
        one_bonus, other_bonus = bonus_pins(one_pins, other_pins, win, tie)
        pins[one] += one_pins + one_bonus
        pins[other] += other_pins + other_bonus
    return pins.T


def block_pins(play: MatchPlay, form_pins: Floats, most_a_game_pins: Wholes) -> Wholes:
    """Pins of as many games as a match has, by forms of any shape."""
    sd = play.game_sd_pins * np.sqrt(play.games)
    drawn = play.rng.standard_normal(form_pins.shape, dtype=np.float32)
    pins = np.rint(play.games * form_pins + sd * drawn).astype(np.int64)
    bowled: Wholes = np.clip(pins, 0, play.games * most_a_game_pins)
    return bowled
