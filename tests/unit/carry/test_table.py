"""The shipped table: a probability everywhere, read linearly, honest at its edges."""

from __future__ import annotations

from importlib.resources import files

import numpy as np
import pytest
from scipy.interpolate import RegularGridInterpolator
from scipy.stats import beta

from nextpair.carry.neighbours import Bandwidths
from nextpair.carry.nodes import SHARE_UNIT, Nodes, read_table, write_table
from nextpair.carry.racks import KEPT, model_hash
from nextpair.carry.rolls import MIRRORED_LEAVES, load_rolls
from nextpair.carry.smoother import fitted
from nextpair.carry.table import load_table, table_of
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.units import MPH_MPS, POUND_KG
from nextpair.scoring.leaves import FULL_RACK, pin_count
from source_tree import ROOT
from unit.carry.known_field import rolled

TABLE = load_table()
LARGEST_BYTES = 1_000_000


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


@pytest.fixture(scope="module")
def smoothed():
    """A table of two weights from a few thousand rolls."""
    nodes = Nodes(
        weights_lb=np.array([14.0, 16.0]),
        offsets_boards=np.arange(-5.0, 5.1, 0.5),
        angles_deg=np.arange(-2.0, 9.1, 1.0),
        speeds_mps=np.array([13.0, 16.5, 20.0]) * MPH_MPS,
    )
    bandwidths = Bandwidths(0.7, 3.0, 6 * MPH_MPS, 3 * POUND_KG, 0.02)
    return fitted(rolled(4000), bandwidths, nodes=nodes).smoothed


def test_a_mirrored_impact_leaves_the_mirrored_pins_to_the_last_bit(smoothed, tmp_path):
    write_table(tmp_path / "carry.npz", smoothed, {})
    kept, settings = read_table(tmp_path / "carry.npz")
    table = table_of(kept, settings)
    rng = np.random.default_rng(8)
    offset = np.concatenate([rng.uniform(-6, 6, 2000), np.arange(-5, 5.1, 0.5), np.zeros(9)])
    angle = np.concatenate([rng.uniform(-2, 2, 2000), np.tile([-1.0, 0.0, 0.7], 10)])
    speed = rng.uniform(5, 10, len(offset))
    image = [table.leaves.index(MIRRORED_LEAVES[leave]) for leave in table.leaves]
    rows = table.leave_probability(offset, angle, speed)
    np.testing.assert_array_equal(table.leave_probability(-offset, -angle, speed), rows[:, image])
    for told in (table.strike_probability, table.strike_error):
        np.testing.assert_array_equal(told(offset, angle, speed), told(-offset, -angle, speed))


def test_a_file_keeps_chances_to_half_a_part_and_all_else_as_it_was(smoothed, tmp_path):
    write_table(tmp_path / "carry.npz", smoothed, {"seed": 3, "bandwidths": [1, 2]})
    kept, settings = read_table(tmp_path / "carry.npz")
    assert settings == {"seed": 3, "bandwidths": [1, 2]}
    for axis, read in zip(smoothed.nodes, kept.nodes, strict=True):
        np.testing.assert_array_equal(read, axis)
    np.testing.assert_array_equal(kept.leaves, smoothed.leaves)
    np.testing.assert_allclose(kept.rolls, smoothed.rolls, rtol=1e-6)
    # Half a part from rounding, and as much again for each other leave from adding up to one.
    most = 0.5 * (1 + len(smoothed.leaves)) / SHARE_UNIT
    np.testing.assert_allclose(kept.chances, smoothed.chances, atol=most)
    assert kept.chances.sum(axis=-1) == pytest.approx(np.ones(smoothed.nodes.shape), abs=1e-12)


def test_the_error_of_a_chance_is_that_of_the_jeffreys_interval(smoothed):
    table = table_of(smoothed, {}, 14 * POUND_KG)
    node = (10, 4, 1)
    impact = [axis[place] for axis, place in zip(smoothed.nodes[1:], node, strict=True)]
    rolls, chance = table.rolls[node], table.chances[node][0]
    # Its posterior is a beta of the counts with half a roll added to each.
    expected = beta(rolls * chance + 0.5, rolls * (1 - chance) + 0.5).std()
    assert table.strike_error(*impact) == pytest.approx(expected, rel=0.5 / rolls)


def test_the_error_of_a_mean_is_its_spread_over_the_root_of_the_rolls(smoothed):
    table = table_of(smoothed, {}, 14 * POUND_KG)
    worth, node = np.arange(len(table.leaves), dtype=float), (8, 6, 0)
    impact = [axis[place] for axis, place in zip(smoothed.nodes[1:], node, strict=True)]
    row = table.chances[node]
    spread = np.sqrt(row @ worth**2 - (row @ worth) ** 2)
    # One roll more, of the extremes, widens it by a few parts in as many as there are rolls.
    rolls = table.rolls[node]
    expected = spread / np.sqrt(rolls)
    assert table.error_of(worth, *impact) == pytest.approx(expected, rel=4 / rolls)


def test_what_was_never_seen_is_not_certain_and_a_ball_that_never_came_is(smoothed):
    table = table_of(smoothed, {})
    assert 0.0 < table.error_of([0.0, 0.0, 0.0, 0.0, 1.0], 0.0, 4.0, 7.5) < 0.1
    assert table.strike_error(np.nan, 4.0, 7.5) == 0.0


def test_chances_change_evenly_between_nodes(smoothed):
    table = table_of(smoothed, {})
    places = np.linspace(-5.5, 5.5, 2201)
    steepest = np.abs(np.diff(table.chances[..., 0], axis=0)).max() / 0.5
    for angle in (-1.3, 0.0, 3.99, 4.0, 8.7):
        change = np.abs(np.diff(table.strike_probability(places, angle, 7.1)))
        assert change.max() <= steepest * (places[1] - places[0]) * (1 + 1e-9)


def test_a_ball_that_is_too_light_is_never_inside_the_range():
    impact = (2.5, 5.0, 7.5)
    assert load_table(12 * POUND_KG).inside_range(*impact)
    assert load_table(16 * POUND_KG).inside_range(*impact)
    assert not load_table(11.5 * POUND_KG).inside_range(*impact)


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
def test_the_rolls_near_an_impact_agree_with_the_table(offset_boards):
    """Mean pins of the kept racks around it: 0.25 pins for luck and for how sharply they turn."""
    rolls, _ = load_rolls(ROOT / KEPT / "racks.npz")
    near = (np.abs(rolls.offset_boards - offset_boards) < 0.15) & (np.abs(rolls.angle_deg - 5) < 1)
    felled = 10 - np.bitwise_count(rolls.standing[near]).astype(float)
    assert felled.size > 40
    impact = rolls.taken(near)
    told = TABLE.mean_pins(impact.offset_boards, impact.angle_deg, impact.speed_mps)
    assert told.mean() == pytest.approx(felled.mean(), abs=0.25)


def test_the_chance_of_one_leave_is_that_among_all():
    table = load_table()
    impact = np.array([1.2, -3.0, 40.0]), np.array([5.5, 2.0, 4.0]), np.array([6.4, 7.0, 2.0])
    everything = table.leave_probability(*impact)
    places = np.array([0, 5, len(table.leaves) - 1])
    one_each = table.chance_of(places, *impact)
    np.testing.assert_allclose(one_each, everything[np.arange(3), places], atol=1e-12)
    assert table.chance_of(0, *(column[:0] for column in impact)).shape == (0,)
