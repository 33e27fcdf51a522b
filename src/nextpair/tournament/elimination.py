"""Single and double elimination of seeds, with byes for the best where they are no power of two.

Who goes out in one round is placed by seed. Seats are those of the seeds all along: nobody is
seeded anew between rounds.
"""

from __future__ import annotations

import numpy as np

from nextpair.tournament.field_model import Wholes
from nextpair.tournament.match import MatchPlay


def seats_of_seeds(seats: int) -> Wholes:
    """(seats,) seeds from 0 in the order of a draw sheet, so that the first two can only meet in
    the final: of eight 1-8, 4-5, 2-7, 3-6."""
    order = np.zeros(1, dtype=np.int64)
    while len(order) < seats:
        order = np.stack([order, 2 * len(order) - 1 - order], axis=1).ravel()
    return order


def single_elimination(play: MatchPlay) -> Wholes:
    """(draws, k) seeds by final place: once beaten is out."""
    entrants = play.form_pins.shape[1]
    play, left = _seated(play)
    out = []
    while left.shape[1] > 1:
        left, beaten = play.played(left[:, ::2], left[:, 1::2])
        out.append(beaten)
    return _by_place([*out, left], entrants)


def double_elimination(play: MatchPlay) -> Wholes:
    """(draws, k) seeds by final place: twice beaten is out.

    Who is beaten goes on among the beaten, crossed over to the other end so as not to meet the
    same again at once. The last unbeaten meets the last of the beaten; if the unbeaten loses that
    match, one more decides.
    """
    entrants = play.form_pins.shape[1]
    play, left = _seated(play)
    out: list[Wholes] = []
    unbeaten, once_beaten = play.played(left[:, ::2], left[:, 1::2])
    while unbeaten.shape[1] > 1:
        once_beaten, twice = play.played(once_beaten[:, ::2], once_beaten[:, 1::2])
        out.append(twice)
        unbeaten, fallen = play.played(unbeaten[:, ::2], unbeaten[:, 1::2])
        once_beaten, twice = play.played(once_beaten, fallen[:, ::-1])
        out.append(twice)
    ahead, behind = play.played(unbeaten, once_beaten)
    winner, second = play.played(unbeaten, once_beaten)
    held = ahead == unbeaten
    out.append(np.where(held, behind, second))
    return _by_place([*out, np.where(held, ahead, winner)], entrants)


def _seated(play: MatchPlay) -> tuple[MatchPlay, Wholes]:
    """Matches with empty seats up to a power of two, two at least, and who sits where."""
    entrants = play.form_pins.shape[1]
    order = seats_of_seeds(max(2, 1 << (entrants - 1).bit_length()))
    return play.with_byes(len(order)), np.tile(order, (len(play.form_pins), 1))


def _by_place(out: list[Wholes], entrants: int) -> Wholes:
    """(draws, k) seeds by the round in which they went out, the last round first, then by seed;
    empty seats are left out."""
    seats = sum(beaten.shape[1] for beaten in out)
    keys = np.empty((len(out[0]), seats), dtype=np.int64)
    for number, beaten in enumerate(reversed(out)):
        np.put_along_axis(keys, beaten, number * seats + beaten, axis=1)
    return np.argsort(keys[:, :entrants], axis=1)
