"""Whatever meets the pins, carry answers with chances."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from nextpair.carry.table import load_table
from nextpair.domain.units import POUND_KG
from nextpair.scoring.leaves import FULL_RACK

ANY = st.floats(allow_nan=True, allow_infinity=True)
WEIGHTS = st.floats(6.5, 15.9).map(lambda pounds: load_table(pounds * POUND_KG))
NEAR = st.floats(-25.0, 25.0)


@given(WEIGHTS, ANY, ANY, ANY)
def test_leaves_are_chances_that_sum_to_one(table, offset, angle, speed):
    row = table.leave_probability(offset, angle, speed)
    assert row.min() >= 0.0
    assert abs(row.sum() - 1.0) < 1e-12
    assert 0.0 <= table.strike_probability(offset, angle, speed) <= 1.0 + 1e-12
    assert 0.0 <= table.strike_error(offset, angle, speed) <= 0.5


@given(ANY, ANY, ANY)
def test_a_ball_without_place_angle_or_speed_leaves_all_ten(offset, angle, speed):
    table = load_table()
    row = table.leave_probability(offset, angle, speed)
    if np.isnan([offset, angle, speed]).any():
        assert row[table.leaves.index(FULL_RACK)] == 1.0
        assert not table.inside_range(offset, angle, speed)
        assert table.mean_pins(offset, angle, speed) == 0.0


@given(NEAR, st.floats(-3.0, 10.0), st.floats(5.0, 10.0))
def test_beyond_the_range_the_edge_is_told(offset, angle, speed):
    table = load_table()
    axes = table.offsets_boards, table.angles_deg, table.speeds_mps
    impact = (offset, angle, speed)
    edge = [np.clip(value, axis[0], axis[-1]) for value, axis in zip(impact, axes, strict=True)]
    assert table.strike_probability(*impact) == table.strike_probability(*edge)
    assert table.inside_range(*impact) == (list(impact) == edge)
