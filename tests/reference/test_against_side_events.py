"""Brackets and side pots beside how they are run: common practice, and what it comes to.

Expected numbers, with their sources, are in data/side_events.toml.
"""

from __future__ import annotations

from decimal import Decimal

import numpy as np
import pytest
from scipy import stats

from nextpair.domain.money import Brackets
from nextpair.tournament.brackets import bracket_chances, bracket_odds, drawn_rounds, rounds_won
from nextpair.tournament.side_pots import high_game_odds
from reference.record import load_entry
from unit.tournament.pot_fields import GAME_SD_PINS, pot_field

SIDE_EVENTS = "side_events"
PRACTICE = load_entry(SIDE_EVENTS, "bracket")
SIZE, FEE, PAYS = PRACTICE["size"], PRACTICE["fee"], PRACTICE["pays"]


def test_a_bracket_pays_back_what_is_published(record):
    brackets = Brackets(Decimal(FEE), SIZE, tuple(Decimal(amount) for amount in PAYS), 1)
    taken, paid = brackets.fee * brackets.size, sum(brackets.pays)
    record.published(
        SIDE_EVENTS,
        "bracket",
        share_paid_back=float(paid / taken),
        kept_by_organiser=float(taken - paid),
    )


def test_equal_players_get_back_seven_eighths(record):
    won = drawn_rounds(np.full((SIZE, SIZE), 0.5))[:, 0]
    returned = PAYS[0] * won[3] + PAYS[1] * (won[2] - won[3])
    record.published(
        SIDE_EVENTS, "equal_players", returned=returned, lost_share=1 - returned / FEE
    )
    field = pot_field([200.0] * 28)
    mean, _ = bracket_odds(field, SIZE, PAYS).of_all(field.belief)
    # Scores over 300 count as 300: a few in ten million.
    expected = load_entry(SIDE_EVENTS, "equal_players")["returned"]["value"]
    assert mean == pytest.approx(expected, rel=1e-6)


def test_chances_agree_with_scores_drawn_by_scipy():
    forms = np.array([214.0, 206, 201, 198, 195, 190, 188, 181])
    sd, draws = GAME_SD_PINS, 400_000
    games = stats.norm(forms, sd).rvs((draws, 3, 8), random_state=np.random.default_rng(6))
    first = np.where(games[:, 0, ::2] > games[:, 0, 1::2], [0, 2, 4, 6], [1, 3, 5, 7])
    rows = np.arange(draws)[:, None]
    second = games[rows, 1, first]
    second = np.where(second[:, ::2] > second[:, 1::2], first[:, ::2], first[:, 1::2])
    third = games[rows, 2, second]
    winner = np.where(third[:, 0] > third[:, 1], second[:, 0], second[:, 1])
    win = stats.norm.cdf((forms[:, None] - forms[None, :]) / (np.sqrt(2) * sd))
    drawn = np.bincount(winner, minlength=8) / draws
    error = np.sqrt(drawn * (1 - drawn) / draws)
    assert (np.abs(bracket_chances(win) - drawn) < 4 * error).all()
    finals = np.bincount(second.ravel(), minlength=8) / draws
    assert rounds_won(win)[2] == pytest.approx(finals, abs=4 * 0.5 / np.sqrt(draws))


@pytest.mark.parametrize("kept_share", [0.0, 0.1])
def test_a_pot_of_equal_entrants_is_worth_its_share_less_the_fee(record, kept_share):
    low, high = load_entry(SIDE_EVENTS, "side_pots")["entries_a_place"]
    for ratio in (low, high, *load_entry(SIDE_EVENTS, "cash_ratios")["side_events"]):
        entries, fee = 5 * ratio, 8.0
        pot = entries * fee * (1 - kept_share)
        amounts = [share * pot for share in (0.4, 0.25, 0.15, 0.12, 0.08)]
        field = pot_field([200.0] * 28)
        odds = high_game_odds(field, 0, entries - 1, amounts)
        record.closed_form(
            f"a high-game pot among {entries} equal entrants, {kept_share:.0%} kept",
            "gain over the fee of an entry",
            expected=-kept_share * fee,
            achieved=odds.of_all(field.belief)[0] - fee,
            tolerance=0.01,
            source="[facts] section 8; closed form: pot paid back over entries, less the fee",
        )
        assert float(field.belief @ odds.chance) == pytest.approx(1 / ratio, rel=0.2)
