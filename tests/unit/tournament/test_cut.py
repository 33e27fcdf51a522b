"""The cut by sums and by draws, both against every outcome of six bowlers counted one by one."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from scipy import stats

from nextpair.tournament.cut import cut_by_draws, lines_of, places_held
from nextpair.tournament.exact_cut import (
    TotalChances,
    exact_cut,
    fewer_than,
    holding_chances,
    is_small,
    line_chances,
    total_chances,
)
from nextpair.tournament.field_model import FieldModel
from nextpair.tournament.totals import draw_totals

LOWEST, SIX = 600, 6
RNG = np.random.default_rng(11)
SIX_TABLE = RNG.dirichlet(np.ones(5), SIX)
"""Six bowlers, each with five totals of their own likelihood: ties are common."""
DRAWS = 40_000


def every_outcome():
    """Each way the six can end, with its chance."""
    for columns in product(range(SIX_TABLE.shape[1]), repeat=SIX):
        yield np.array(columns), float(np.prod(SIX_TABLE[np.arange(SIX), columns]))


def shares_of(columns: np.ndarray, places: int) -> np.ndarray:
    """Who goes on, by the words of the rule: those level share what those above leave."""
    shares = np.zeros(SIX)
    for bowler, own in enumerate(columns):
        above, level = int(np.sum(columns > own)), int(np.sum(columns == own))
        shares[bowler] = min(1.0, max(0.0, (places - above) / level))
    return shares


@pytest.mark.parametrize("places", [1, 2, 3, 5, 6])
def test_the_sums_are_those_of_every_outcome(places):
    held, line = np.zeros(SIX), np.zeros(SIX_TABLE.shape[1])
    for columns, chance in every_outcome():
        held += chance * shares_of(columns, places)
        line[np.sort(columns)[SIX - places]] += chance
    totals = TotalChances(LOWEST, SIX_TABLE)
    found = [SIX_TABLE[one] @ holding_chances(totals, one, places) for one in range(SIX)]
    assert found == pytest.approx(held, abs=1e-12)
    assert line_chances(totals, places) == pytest.approx(line, abs=1e-12)


@pytest.mark.parametrize("places", [1, 2, 3, 5, 6])
def test_draws_are_those_of_every_outcome_within_their_error(places):
    rng = np.random.default_rng(3)
    columns = [rng.choice(SIX_TABLE.shape[1], DRAWS, p=row) for row in SIX_TABLE]
    outlook = cut_by_draws(LOWEST + np.stack(columns, axis=1), 0, places)
    held = np.zeros(SIX)
    own = np.zeros(SIX_TABLE.shape[1])
    for outcome, chance in every_outcome():
        shares = shares_of(outcome, places)
        held += chance * shares
        own[outcome[0]] += chance * shares[0] / SIX_TABLE[0, outcome[0]]
    error = 4 * 0.5 / DRAWS**0.5
    assert np.all(np.abs(outlook.held_chances - held) <= error)
    for total, chance in zip(outlook.totals, outlook.total_chances, strict=True):
        column = total - LOWEST
        expected = 1.0 if column >= len(own) or places == SIX else own[max(column, 0)]
        assert chance == pytest.approx(expected, abs=error) or column < 0


def test_a_total_in_between_has_the_chance_of_the_next_one_asked():
    totals = np.array([[0, 700, 650, 600], [0, 720, 690, 500]])
    outlook = cut_by_draws(totals, 0, 2)
    assert outlook.needed_total(0.5) == 651
    assert outlook.needed_total(0.95) == 691
    assert outlook.needed_total(0.25) == 650


def small_model(**more: object) -> FieldModel:
    facts = {
        "names": tuple("ABCDEF"),
        "totals": np.array([580, 610, 600, 560, 620, 590]),
        "games_left": np.array([2, 2, 1, 3, 0, 2]),
        "form_pins": np.array([200.0, 195.0, 205.0, 190.0, 200.0, 198.0]),
        "form_sd_pins": np.array([9.0, 9.0, 8.0, 10.0, 8.0, 9.0]),
        "game_sd_pins": 27.0,
        "squads": np.zeros(6, dtype=np.int64),
        "squad_sd_pins": 5.0,
        "me": 1,
    }
    return FieldModel(**(facts | more))


def test_totals_are_those_of_a_rounded_normal_distribution():
    model = small_model()
    totals = total_chances(model, 2.0)
    assert totals.table.sum(axis=1) == pytest.approx(np.ones(6))
    sd = np.hypot(2 * 9.0, 27.0 * 2**0.5)
    asked = np.array([900, 980, 1040])
    expected = stats.norm.cdf(asked + 0.5, 580 + 404, sd) - stats.norm.cdf(asked - 0.5, 984, sd)
    assert totals.table[0][asked - totals.lowest] == pytest.approx(expected)
    assert totals.table[4][620 - totals.lowest] == 1.0


def test_exactly_and_by_draws_a_small_field_is_the_same():
    model = small_model()
    totals = draw_totals(model, DRAWS, np.random.default_rng(5))
    drawn, exact = cut_by_draws(totals, model.me, 3), exact_cut(model, 3)
    error = 4 * 0.5 / DRAWS**0.5
    assert np.all(np.abs(drawn.held_chances - exact.held_chances) <= error)
    assert exact.held_chances.sum() == pytest.approx(3, abs=1e-6)
    assert drawn.line_pins == pytest.approx(exact.line_pins, abs=1)
    assert drawn.line_interval_80 == pytest.approx(exact.line_interval_80, abs=1)
    for chance in (0.5, 0.8, 0.95):
        assert drawn.needed_total(chance) == pytest.approx(exact.needed_total(chance), abs=3)


def test_everybody_goes_on_where_there_are_places_enough():
    model = small_model()
    outlook = exact_cut(model, 6)
    assert outlook.held_chances == pytest.approx(np.ones(6))
    totals = draw_totals(model, 100, np.random.default_rng(5))
    assert np.all(places_held(totals, 9) == 1)
    assert cut_by_draws(totals, 1, 6).needed_total(0.95) <= 610
    assert np.all(lines_of(totals, 9) == totals.min(axis=1))


def test_equal_bowlers_have_equal_chances():
    model = small_model(
        totals=np.full(6, 600),
        games_left=np.full(6, 2),
        form_pins=np.full(6, 200.0),
        form_sd_pins=np.full(6, 9.0),
    )
    assert exact_cut(model, 2).held_chances == pytest.approx(np.full(6, 1 / 3), abs=1e-9)


def test_the_count_of_unequal_chances_is_scipys():
    chances = RNG.random(9)
    poisson_binomial = stats.poisson_binom(chances)
    for places in (1, 4, 9):
        (found,) = fewer_than(places, chances[:, None])
        assert found == pytest.approx(poisson_binomial.cdf(places - 1))


def test_a_field_is_small_by_its_bowlers_and_the_squads_on_the_lanes():
    assert is_small(small_model())
    assert not is_small(small_model(squads=np.array([0, 1, 0, 0, 0, 0])))
    assert is_small(small_model(squads=np.array([0, 0, 0, 0, 1, 0])))
    assert not is_small(small_model(), most_bowlers=5)
