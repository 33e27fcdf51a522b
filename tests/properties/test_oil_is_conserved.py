"""Whatever is thrown at a film: oil is on the lane or on the balls, and wear has no hand."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nextpair.domain.lane import BOARDS, CELL_M, CELLS, LANE_WIDTH_M
from nextpair.kernel.layout import NODE_M, NODES
from nextpair.kernel.wear import wear
from nextpair.physics.film import volume_ml
from nextpair.physics.wear import WearLaw

laws = st.builds(WearLaw, st.floats(0.0, 1.0), st.floats(0.0, 2.0), st.floats(1e-3, 3e-3))


@st.composite
def traffic(draw):
    """A film and up to 40 curved shots; some end in a gutter, some on the lane."""
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    shots = draw(st.integers(1, 40))
    film_um = rng.uniform(0.0, draw(st.floats(0.1, 20.0)), (CELLS, BOARDS))
    film_um[int(draw(st.floats(6.0, 18.0)) / CELL_M) :] = 0.0
    down = NODE_M / NODE_M[-1]
    start, slope, bend = rng.normal(0.0, 0.25, (3, shots, 1)) * LANE_WIDTH_M
    x_m = start + slope * down + bend * down**2
    ratio = rng.uniform(0.0, 1.5, (shots, 1)) + rng.uniform(-0.2, 0.5, (shots, 1)) * down
    ratio = np.maximum(ratio, 0.0)
    ended = rng.random(shots) < 0.1
    ratio[ended, rng.integers(0, NODES, ended.sum())] = np.nan
    return film_um, x_m, ratio, rng.exponential(0.004, shots)


@given(traffic(), laws)
def test_oil_is_on_the_lane_or_on_the_balls(shots, law):
    film_um, *thrown = shots
    worn = wear(film_um, *thrown, law=law)
    after_ml = volume_ml(worn.film_um) + worn.taken_ul.sum() * 1e-3
    assert after_ml == pytest.approx(volume_ml(film_um), rel=1e-9)
    assert worn.film_um.min() >= 0.0
    assert worn.taken_ul.min() >= 0.0


@given(traffic(), laws)
def test_the_mirrored_lane_wears_as_the_mirror_image(shots, law):
    film_um, x_m, ratio, flare_m = shots
    worn = wear(film_um, x_m, ratio, flare_m, law=law)
    mirrored = wear(film_um[:, ::-1], -x_m, ratio, flare_m, law=law)
    np.testing.assert_allclose(mirrored.film_um[:, ::-1], worn.film_um, rtol=1e-9, atol=1e-12)
    np.testing.assert_allclose(mirrored.taken_ul, worn.taken_ul, rtol=1e-9, atol=1e-9)


@given(traffic(), laws)
def test_no_shot_digs_into_the_retained_film(shots, law):
    film_um, *thrown = shots
    worn = wear(film_um, *thrown, law=law)
    assert (worn.film_um >= np.minimum(film_um, law.retained_um) - 1e-12).all()
