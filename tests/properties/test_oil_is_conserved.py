"""Whatever is thrown at a film: all its oil can be told, and wear has no hand."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nextpair.domain.lane import BOARDS, CELL_M, CELLS, LANE_WIDTH_M
from nextpair.kernel.layout import NODE_M, NODES
from nextpair.kernel.wear import Balls, wear
from nextpair.physics.film import volume_ml
from nextpair.physics.wear import WearLaw

laws = st.builds(
    WearLaw,
    st.floats(0.0, 1.0),
    st.floats(0.0, 2.0),
    st.floats(1e-3, 3e-3),
    st.floats(0.0, 1.0),
)


@st.composite
def traffic(draw):
    """A film and up to 300 curved shots of up to 8 balls; some end in a gutter or on the lane."""
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    shots = draw(st.integers(1, 300))
    film_um = rng.uniform(0.0, draw(st.floats(0.1, 20.0)), (CELLS, BOARDS))
    film_um[int(draw(st.floats(6.0, 18.0)) / CELL_M) :] = 0.0
    down = NODE_M / NODE_M[-1]
    start, slope, bend = rng.normal(0.0, 0.25, (3, shots, 1)) * LANE_WIDTH_M
    x_m = start + slope * down + bend * down**2
    ratio = rng.uniform(0.0, 1.5, (shots, 1)) + rng.uniform(-0.2, 0.5, (shots, 1)) * down
    ratio = np.maximum(ratio, 0.0)
    ended = rng.random(shots) < 0.1
    ratio[ended, rng.integers(0, NODES, ended.sum())] = np.nan
    flare_m = rng.exponential(0.004, (shots, NODES))
    many = draw(st.integers(1, 8))
    balls = Balls(
        rng.integers(0, many, shots),
        10.0 ** rng.uniform(1.0, 6.0, many),
        rng.exponential(120.0, shots),
    )
    return film_um, x_m, ratio, flare_m, balls


def off_the_lane_ul(worn):
    return worn.absorbed_ul.sum() + worn.wiped_ul.sum() + worn.left_ul.sum()


@given(traffic(), laws)
def test_oil_is_on_the_lane_on_the_balls_in_the_covers_or_in_the_towel(traffic, law):
    film_um, *thrown, balls = traffic
    worn = wear(film_um, *thrown, balls=balls, law=law)
    after_ml = volume_ml(worn.film_um) + off_the_lane_ul(worn) * 1e-3
    assert after_ml == pytest.approx(volume_ml(film_um), rel=1e-9)
    assert worn.film_um.min() >= 0.0
    for account_ul in (worn.cover_ul, worn.absorbed_ul, worn.wiped_ul, worn.left_ul):
        assert account_ul.min() >= 0.0


@given(traffic(), laws)
def test_every_shot_on_its_own_keeps_the_account(traffic, law):
    film_um, x_m, ratio, flare_m, _ = traffic
    worn = wear(film_um, x_m[:1], ratio[:1], flare_m[:1], law=law)
    lost_ul = (volume_ml(film_um) - volume_ml(worn.film_um)) * 1e3
    assert worn.cover_ul[0] == pytest.approx(lost_ul, abs=volume_ml(film_um) * 1e-6)
    assert worn.cover_ul[0] == pytest.approx(off_the_lane_ul(worn), rel=1e-12)


@given(traffic(), laws)
def test_the_mirrored_lane_wears_as_the_mirror_image(traffic, law):
    film_um, x_m, ratio, flare_m, balls = traffic
    worn = wear(film_um, x_m, ratio, flare_m, balls=balls, law=law)
    mirrored = wear(film_um[:, ::-1], -x_m, ratio, flare_m, balls=balls, law=law)
    np.testing.assert_allclose(mirrored.strips_um[:, ::-1], worn.strips_um, rtol=1e-12, atol=1e-13)
    for account in ("cover_ul", "absorbed_ul", "wiped_ul", "left_ul"):
        np.testing.assert_allclose(
            getattr(mirrored, account), getattr(worn, account), rtol=1e-11, atol=1e-11
        )


@given(traffic(), laws)
def test_no_shot_digs_into_the_retained_film(traffic, law):
    film_um, *thrown, balls = traffic
    worn = wear(film_um, *thrown, balls=balls, law=law)
    assert (worn.film_um >= np.minimum(film_um, law.retained_um) - 1e-12).all()
