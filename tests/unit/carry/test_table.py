"""The shipped table: a probability everywhere, read linearly, honest at its edges."""

from __future__ import annotations

from importlib.resources import files

import numpy as np
import pytest
from scipy.interpolate import RegularGridInterpolator

from nextpair.carry.deck import Bodies, spotted_racks
from nextpair.carry.discs import roll_into
from nextpair.carry.racks import model_hash
from nextpair.carry.table import load_table
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.units import MPH_MPS, POUND_KG
from nextpair.scoring.leaves import FULL_RACK, pin_count

TABLE = load_table()
LARGEST_BYTES = 2_000_000


def drawn_impacts(count: int):
    rng = np.random.default_rng(1)
    return rng.uniform(-22, 22, count), rng.uniform(-3, 10, count), rng.uniform(5, 10, count)


def test_the_table_was_made_by_this_model():
    assert TABLE.settings["model_hash"] == model_hash()


@pytest.mark.parametrize("name", ["carry.npz", "spares.npz"])
def test_a_shipped_file_stays_small(name):
    assert len((files("nextpair.carry") / "data" / name).read_bytes()) < LARGEST_BYTES


def test_every_cell_is_a_distribution():
    assert TABLE.chances.min() >= 0.0
    assert TABLE.chances.sum(axis=-1) == pytest.approx(np.ones(TABLE.chances.shape[:-1]))


def test_leaves_are_masks_with_strike_and_full_rack_each_once():
    assert sorted(set(TABLE.leaves)) == list(TABLE.leaves)
    assert TABLE.leaves[0] == 0
    assert TABLE.leaves[-1] == FULL_RACK


def test_leaves_of_any_impact_sum_to_one():
    rows = TABLE.leave_probability(*drawn_impacts(500))
    assert rows.shape == (500, len(TABLE.leaves))
    assert rows.sum(axis=-1) == pytest.approx(np.ones(500), abs=1e-12)


def test_the_table_is_read_linearly_between_its_cells():
    axes = (TABLE.offsets_boards, TABLE.angles_deg, TABLE.speeds_mps)
    impacts = drawn_impacts(300)
    inside = [np.clip(v, axis[0], axis[-1]) for v, axis in zip(impacts, axes, strict=True)]
    expected = RegularGridInterpolator(axes, TABLE.chances)(np.stack(inside, axis=-1))
    assert TABLE.leave_probability(*impacts) == pytest.approx(expected, abs=1e-12)


def test_strikes_and_pins_are_means_over_the_leaves():
    impacts = drawn_impacts(200)
    rows = TABLE.leave_probability(*impacts)
    pinfall = np.array([10 - pin_count(leave) for leave in TABLE.leaves])
    assert TABLE.strike_probability(*impacts) == pytest.approx(rows[:, 0])
    assert TABLE.mean_pins(*impacts) == pytest.approx(rows @ pinfall)
    worth = np.random.default_rng(2).random(len(TABLE.leaves))
    assert TABLE.mean_of(worth, *impacts) == pytest.approx(rows @ worth)


def test_arguments_broadcast_to_any_shape():
    strikes = TABLE.strike_probability(np.linspace(0, 5, 4)[:, np.newaxis], [2.0, 4.0, 6.0], 7.5)
    assert strikes.shape == (4, 3)
    assert TABLE.leave_probability(2.5, 5.0, 7.5).shape == (len(TABLE.leaves),)
    assert TABLE.strike_probability(2.5, 5.0, 7.5).shape == ()


@pytest.mark.parametrize("missing", range(3))
def test_a_ball_that_never_reached_the_pins_leaves_all_ten(missing):
    impact = [2.5, 5.0, 7.5]
    impact[missing] = np.nan
    assert TABLE.strike_probability(*impact) == 0.0
    assert TABLE.mean_pins(*impact) == 0.0
    rows = TABLE.leave_probability(*impact)
    assert rows[TABLE.leaves.index(FULL_RACK)] == 1.0
    assert rows.sum() == 1.0
    assert not TABLE.inside_range(*impact)


def test_beyond_its_range_the_table_is_read_at_the_edge_and_says_so():
    assert TABLE.mean_pins(25.0, 5.0, 7.5) == TABLE.mean_pins(20.0, 5.0, 7.5)
    assert TABLE.mean_pins(2.5, 12.0, 7.5) == TABLE.mean_pins(2.5, 9.0, 7.5)
    inside = TABLE.inside_range([2.5, 25.0, 2.5, 2.5], [5.0, 5.0, 12.0, 5.0], [7.5, 7.5, 7.5, 12])
    assert inside.tolist() == [True, False, False, False]


def test_a_wide_ball_hits_only_the_corner_and_none_from_the_gutter():
    assert TABLE.mean_pins(18.0, 0.0, 7.5) < 2.5
    assert TABLE.mean_pins(20.0, 0.0, 7.5) < 0.5


def test_loading_twice_gives_the_same_table():
    assert load_table() is load_table()


def test_weights_between_the_simulated_ones_are_read_linearly():
    lighter, middle, heavier = (load_table(pounds * POUND_KG) for pounds in (14, 15, 16))
    np.testing.assert_allclose(
        middle.chances, 0.5 * (lighter.chances + heavier.chances), atol=1e-5
    )
    lightest = load_table(10 * POUND_KG)
    np.testing.assert_allclose(lightest.chances, load_table(12 * POUND_KG).chances, atol=1e-12)


@pytest.mark.parametrize("ball_kg", [0.0, 8.0, float("nan")])
def test_a_weight_no_ball_has_is_refused(ball_kg):
    with pytest.raises(InvalidValueError, match="ball_kg"):
        load_table(ball_kg)


def test_worth_must_be_given_for_every_leave():
    with pytest.raises(InvalidValueError, match="values"):
        TABLE.mean_of([1.0, 2.0], 2.5, 5.0, 7.5)


@pytest.mark.parametrize("offset_boards", [-2.5, 0.0, 2.5, 4.0, 7.0])
def test_fresh_racks_agree_with_the_shipped_table(offset_boards):
    bodies, count = Bodies(ball_kg=14 * POUND_KG), 2000
    rng = np.random.default_rng(7)
    impact = (np.full(count, offset_boards), np.full(count, 5.0), np.full(count, 16.5 * MPH_MPS))
    fresh = roll_into(spotted_racks(rng, count, bodies), *impact, bodies)
    felled = 10 - np.array([pin_count(int(leave)) for leave in fresh.standing])
    table = load_table(14 * POUND_KG)
    # 0.25 pins: drawing error of both sides and the smoothing of a curve that turns sharply.
    assert table.mean_pins(offset_boards, 5.0, 16.5 * MPH_MPS) == pytest.approx(
        felled.mean(), abs=0.25
    )
