"""Pins on strings: the published share of the strikes is gone, and nothing else is made up."""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.carry.impacts import carry_of
from nextpair.carry.rolls import MIRRORED_LEAVES
from nextpair.carry.strings import strung_chances
from nextpair.carry.table import CarryTable, load_table
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.house import Pinfall
from nextpair.domain.units import POUND_KG
from nextpair.kernel.outcome import Impact
from nextpair.scoring.leaves import FULL_RACK

PUBLISHED_SHARE = 0.071
"""Strikes fewer than with free pins. Source: [string-pin-study-2021]."""
FREE = load_table()
STRUNG = load_table(pinfall=Pinfall.STRING)


def drawn_impacts(count: int):
    rng = np.random.default_rng(4)
    return rng.uniform(-22, 22, count), rng.uniform(-3, 10, count), rng.uniform(5, 10, count)


def small_table(*nodes: list[float]) -> CarryTable:
    """Nodes from offset to offset, alike at all angles and speeds; strike, 10 pin, 7 pin, all."""
    chances = np.repeat(np.array(nodes)[:, np.newaxis, np.newaxis], 2, axis=1).repeat(2, axis=2)
    offsets = np.arange(len(nodes)) - (len(nodes) - 1) / 2
    return CarryTable(
        offsets,
        np.array([-5.0, 5.0]),
        np.array([5.0, 10.0]),
        (0, 1 << 6, 1 << 9, FULL_RACK),
        chances,
        np.full(chances.shape[:-1], 50.0),
        {},
    )


def test_every_impact_loses_the_published_share_of_its_strikes():
    impacts = drawn_impacts(2000)
    np.testing.assert_allclose(
        STRUNG.strike_probability(*impacts),
        (1 - PUBLISHED_SHARE) * FREE.strike_probability(*impacts),
        rtol=1e-9,
    )


@pytest.mark.parametrize("pounds", [12.0, 13.7, 16.0])
def test_chances_on_strings_still_sum_to_one(pounds):
    table = load_table(pounds * POUND_KG, Pinfall.STRING)
    assert table.chances.min() >= 0.0
    np.testing.assert_allclose(table.chances.sum(axis=-1), 1.0, atol=1e-12)


def test_leaves_keep_their_proportions_at_every_node():
    shares = [table.chances[..., 1:] / (1 - table.chances[..., :1]) for table in (STRUNG, FREE)]
    np.testing.assert_allclose(*shares, atol=1e-9)


def test_fewer_pins_fall_wherever_there_were_strikes():
    impacts = drawn_impacts(2000)
    lost = FREE.mean_pins(*impacts) - STRUNG.mean_pins(*impacts)
    strikes = FREE.strike_probability(*impacts)
    assert lost[strikes > 0.01].min() > 0.0
    assert np.abs(lost[strikes == 0.0]).max() < 1e-9
    # Each lost strike leaves one pin or more, and never more than ten.
    assert np.all(lost >= PUBLISHED_SHARE * strikes - 1e-9)
    assert np.all(lost <= 10 * PUBLISHED_SHARE * strikes + 1e-9)


def test_a_ball_that_never_came_leaves_all_ten_on_strings_too():
    assert STRUNG.mean_pins(np.nan, 4.0, 7.5) == 0.0
    assert STRUNG.strike_error(np.nan, 4.0, 7.5) == 0.0


def test_the_error_of_a_strike_is_that_of_free_pins_in_the_same_proportion():
    impacts = drawn_impacts(500)
    np.testing.assert_allclose(
        STRUNG.strike_error(*impacts),
        (1 - PUBLISHED_SHARE) * FREE.strike_error(*impacts),
        rtol=1e-9,
    )


def test_an_error_has_the_shape_of_its_impacts():
    assert STRUNG.strike_error(2.5, 4.0, 7.5).shape == ()
    assert STRUNG.strike_error([[2.5], [3.0]], [4.0, 5.0, 6.0], 7.5).shape == (2, 3)


def test_the_error_of_a_mean_is_the_spread_of_what_a_rolled_rack_is_worth():
    """Closed form: a strike rolled is worth 0.929 strike and 0.071 of what else is left."""
    table = small_table([0.6, 0.3, 0.1, 0.0], [0.6, 0.3, 0.1, 0.0]).on_strings()
    worth = np.array([30.0, 18.0, 14.0, 0.0])
    left = (0.3 * 18.0 + 0.1 * 14.0) / 0.4
    rolled = np.array([(1 - PUBLISHED_SHARE) * 30.0 + PUBLISHED_SHARE * left, 18.0, 14.0])
    row, rolls = np.array([0.6, 0.3, 0.1]), 50.0
    # One roll more, half the lowest value there is and half the highest, as of free pins.
    seen = np.append(rolls * row, [0.5, 0.5]) / (rolls + 1)
    values = np.append(rolled, [0.0, rolled[0]])
    spread = np.sqrt(seen @ values**2 - (seen @ values) ** 2)
    assert table.error_of(worth, 0.0, 0.0, 7.5) == pytest.approx(spread / np.sqrt(rolls + 1))


def test_a_node_that_only_strikes_leaves_what_its_neighbours_leave():
    free = small_table(
        [0.5, 0.5, 0.0, 0.0], [1.0, 0, 0, 0], [1.0, 0, 0, 0], [0.5, 0.1, 0.4, 0.0], [0, 0, 0, 1.0]
    )
    strung = free.on_strings().chances[:, 0, 0]
    for node in (1, 2):
        # Closed form: 0.071 of strikes over 0.6 and 0.4 of two neighbours that each leave half.
        assert strung[node] == pytest.approx([0.929, 0.071 * 0.6, 0.071 * 0.4, 0.0])
    assert strung[0] == pytest.approx([0.4645, 0.5355, 0.0, 0.0])
    assert strung[-1] == pytest.approx([0, 0, 0, 1.0])


def test_at_the_tables_edge_the_one_neighbour_counts():
    strung = small_table([1.0, 0, 0, 0], [0.5, 0.5, 0, 0]).on_strings().chances[0, 0, 0]
    assert strung == pytest.approx([0.929, 0.071, 0.0, 0.0])


def test_a_table_that_only_strikes_is_refused():
    with pytest.raises(InvalidValueError, match="leaves"):
        strung_chances(np.ones((3, 1, 1, 1)), 0)


def test_mirrored_impacts_stay_mirrored_to_the_last_bit():
    half = [[0.0, 0.2, 0.3, 0.5], [1 / 3, 0.4, 4 / 15, 0.0], [1.0, 0.0, 0.0, 0.0]]
    table = small_table(*half, *([row[0], row[2], row[1], row[3]] for row in half[::-1]))
    strung = table.on_strings()
    image = [strung.leaves.index(MIRRORED_LEAVES[leave]) for leave in strung.leaves]
    np.testing.assert_array_equal(strung.chances[::-1, ..., image], strung.chances)
    offsets = np.linspace(-3.0, 3.0, 101)
    np.testing.assert_array_equal(
        strung.strike_error(offsets, 0.0, 7.0), strung.strike_error(-offsets, 0.0, 7.0)
    )


def test_programs_ask_for_strings_by_name():
    impact = Impact(np.array([2.5, 1.0]), np.array([4.0, 4.0]), np.array([7.5, 7.5]))
    free, strung = carry_of(impact), carry_of(impact, pinfall="string")
    np.testing.assert_allclose(
        strung.strike_probability, (1 - PUBLISHED_SHARE) * free.strike_probability
    )
    assert strung.leaves == free.leaves
