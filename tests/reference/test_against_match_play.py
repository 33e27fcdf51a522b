"""Match play beside how it is run: the published bonus, and a master event's finals bowled out.

Expected numbers, with their sources, are in data/match_play.toml and data/side_events.toml.
"""

from __future__ import annotations

from collections import Counter
from random import Random

import numpy as np
import pytest

from nextpair.domain.format import Stage, StageKind
from nextpair.tournament.elimination import double_elimination, single_elimination
from nextpair.tournament.round_robin import bonus_pins
from reference.record import load_entry
from unit.tournament.match_play import (
    DRAWS,
    GAME_SD_PINS,
    errors_of,
    match_play,
    place_shares,
)

MATCH_PLAY, SIDE_EVENTS = "match_play", "side_events"
MASTERS = load_entry(MATCH_PLAY, "master_event")
EVENTS = 800


class Finals:
    """One double elimination, bowled out game by game in whole pins, each one's losses counted."""

    def __init__(self, forms, games, random):
        self.forms, self.games, self.random = forms, games, random
        self.losses, self.matches = Counter(), 0

    def meet(self, one, other):
        """Winner and loser of a match; equal totals bowl again."""
        self.matches += 1
        ahead = 0
        while ahead == 0:
            ahead = self.pins(one) - self.pins(other)
        winner, loser = (one, other) if ahead > 0 else (other, one)
        self.losses[loser] += 1
        return winner, loser

    def pins(self, seed):
        return sum(
            round(self.random.gauss(self.forms[seed], GAME_SD_PINS)) for _ in range(self.games)
        )

    def winner(self):
        unbeaten = [0]
        while len(unbeaten) < len(self.forms):
            lowest = 2 * len(unbeaten) - 1
            unbeaten = [seed for high in unbeaten for seed in (high, lowest - high)]
        unbeaten, beaten = self._round(unbeaten)
        while len(unbeaten) > 1:
            beaten, _ = self._round(beaten)
            unbeaten, fallen = self._round(unbeaten)
            beaten = [
                self.meet(one, other)[0] for one, other in zip(beaten, fallen[::-1], strict=True)
            ]
        winner, loser = self.meet(unbeaten[0], beaten[0])
        while self.losses[loser] < 2:
            winner, loser = self.meet(winner, loser)
        return winner

    def _round(self, seeds):
        met = [self.meet(*pair) for pair in zip(seeds[::2], seeds[1::2], strict=True)]
        return [winner for winner, _ in met], [loser for _, loser in met]


def test_a_round_robins_bonus_is_the_published_one_and_a_match_gives_it_once(record):
    usual = Stage(StageKind.ROUND_ROBIN, 8)
    win, tie = usual.win_bonus_pins, usual.tie_bonus_pins
    record.published(MATCH_PLAY, "round_robin", win_bonus_pins=win, tie_bonus_pins=tie)
    pins = np.arange(180, 230)
    one, other = bonus_pins(pins[:, None], pins[None, :], win, tie)
    assert np.all(one + other == win)


def test_a_master_events_finals_agree_with_finals_bowled_out_match_by_match(record):
    entrants, games = MASTERS["qualified"] + 1, MASTERS["games_a_match"]
    forms = np.linspace(222, 202, entrants)
    random = Random(17)
    won = Counter()
    for _ in range(EVENTS):
        finals = Finals(forms.tolist(), games, random)
        won[finals.winner()] += 1
        assert finals.matches in (2 * entrants - 2, 2 * entrants - 1)
    shares = place_shares(double_elimination(match_play(forms, games)))[:, 0]
    for best in (1, 4, 16):
        share = shares[:best].sum()
        record.agreement(
            "Finals bowled out match by match",
            f"double elimination of {entrants}, matches of {games} games",
            f"chance that one of the first {best} seeds wins",
            error=abs(share - sum(won[seed] for seed in range(best)) / EVENTS),
            tolerance=4 * float(errors_of(share, EVENTS) + errors_of(share)),
            source=f"{MASTERS['source']}; {MASTERS['mark']}",
        )


def test_a_bracket_of_equals_brings_back_what_is_published():
    bracket = load_entry(SIDE_EVENTS, "bracket")
    shares = place_shares(single_elimination(match_play([200.0] * bracket["size"])))
    paid = np.array(bracket["pays"] + [0] * (bracket["size"] - len(bracket["pays"])))
    returned = shares @ paid
    sd = np.sqrt(shares @ paid**2 - returned**2)
    expected = load_entry(SIDE_EVENTS, "equal_players")["returned"]["value"]
    assert returned == pytest.approx(np.full(len(paid), expected), abs=4 * sd.max() / DRAWS**0.5)
