"""Which way wear goes, with no number tuned for it: flare removes, its absence carries down."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nextpair.domain.ball import Cover
from nextpair.domain.lane import BOARDS, CELL_M, CELLS, board_to_x_m
from nextpair.kernel.layout import NODE_M, NODES
from nextpair.kernel.wear import Balls, wear
from nextpair.physics.wear import WearLaw, absorption_s, ball_flare_m_per_rev
from nextpair.planning.traffic import usual_ball

END = int(12.5 / CELL_M)
PAST = slice(END, CELLS)

films_um = st.floats(1.0, 10.0)
laws = st.builds(WearLaw, st.floats(0.2, 1.0), st.floats(0.0, 0.5), st.floats(1.2e-3, 2.5e-3))
seeds = st.integers(0, 2**32 - 1)


def traffic(seed, film_um, shots=30):
    """An even film to 12.5 m, and shots that scatter about board 15 and speed up their turning."""
    rng = np.random.default_rng(seed)
    lane_um = np.zeros((CELLS, BOARDS))
    lane_um[:END] = film_um
    boards = 15.0 + rng.normal(0.0, 1.0, (shots, 1)) + rng.normal(0.0, 0.1, (shots, 1)) * NODE_M
    ratio = np.interp(NODE_M, [0.0, 12.2, 15.4], [rng.uniform(0.4, 0.6), 0.69, 1.0])
    return lane_um, board_to_x_m(boards), np.repeat(ratio[None], shots, axis=0)


def one_ball(shots, cover):
    return Balls(np.zeros(shots, np.int64), np.array([absorption_s(cover)]))


@given(seeds, films_um, laws)
def test_plastic_without_flare_carries_oil_past_the_end(seed, film_um, law):
    lane_um, x_m, ratio = traffic(seed, film_um)
    worn = wear(
        lane_um, x_m, ratio, np.zeros(len(x_m)), balls=one_ball(len(x_m), Cover.PLASTIC), law=law
    )
    past_um = worn.film_um[PAST].sum()
    lost_um = (lane_um - worn.film_um)[:END].sum()
    assert past_um > 0.0
    # All that the oiled part loses lies beyond it, or went off the lane's end and with the towel.
    assert past_um > 0.5 * lost_um


@given(seeds, films_um, laws, st.floats(6e-3, 0.02))
def test_resin_with_flare_removes_oil_and_carries_none(seed, film_um, law, flare_m):
    lane_um, x_m, ratio = traffic(seed, film_um)
    worn = wear(lane_um, x_m, ratio, np.full(len(x_m), flare_m), law=law)
    assert worn.film_um[PAST].max() == 0.0
    assert (worn.film_um <= lane_um).all()
    assert worn.film_um.sum() < lane_um.sum()


@given(seeds, films_um, laws, st.floats(0.0, 4e-3), st.floats(1e-4, 3e-3))
def test_more_flare_removes_more(seed, film_um, law, flare_m, more_m):
    lane_um, x_m, ratio = traffic(seed, film_um)
    less, more = (
        wear(lane_um, x_m, ratio, np.full(len(x_m), spacing_m), law=law).film_um
        for spacing_m in (flare_m, flare_m + more_m)
    )
    assert more.sum() <= less.sum() * (1.0 + 1e-12)
    assert more[PAST].sum() <= less[PAST].sum() * (1.0 + 1e-12)


@given(seeds, films_um, st.floats(0.0, 0.02), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_more_wiping_carries_less_down(seed, film_um, flare_m, one, other):
    lane_um, x_m, ratio = traffic(seed, film_um)
    balls = one_ball(len(x_m), Cover.URETHANE)
    seldom, often = (
        wear(
            lane_um,
            x_m,
            ratio,
            np.full(len(x_m), flare_m),
            balls=balls,
            law=WearLaw(wiped_share=share),
        ).film_um
        for share in sorted((one, other))
    )
    assert often[PAST].sum() <= seldom[PAST].sum() * (1.0 + 1e-9)
    assert often.sum() <= seldom.sum() * (1.0 + 1e-12)


@given(seeds, films_um, st.floats(0.0, 0.02))
def test_a_cover_that_soaks_in_more_leaves_less_on_the_lane(seed, film_um, flare_m):
    lane_um, x_m, ratio = traffic(seed, film_um)
    left = [
        wear(
            lane_um,
            x_m,
            ratio,
            np.full(len(x_m), flare_m),
            balls=one_ball(len(x_m), cover),
            law=WearLaw(wiped_share=0.5),
        ).film_um.sum()
        for cover in (Cover.SOLID, Cover.PEARL, Cover.URETHANE, Cover.PLASTIC)
    ]
    assert left == sorted(left)


def test_usual_balls_carry_the_more_the_less_they_flare_and_soak_in():
    lane_um, x_m, ratio = traffic(5, 2.0, shots=100)
    past_shares = []
    for cover in Cover:
        spacing_m = np.full(len(x_m), ball_flare_m_per_rev(usual_ball(cover)))
        worn = wear(lane_um, x_m, ratio, spacing_m, balls=one_ball(len(x_m), cover))
        past_shares.append(worn.film_um[PAST].sum() / (lane_um - worn.film_um)[:END].sum())
    assert past_shares == sorted(past_shares, reverse=True), "weakest cover first"
    assert past_shares[0] > 2.0 * past_shares[1]


@given(seeds, films_um, laws, st.floats(0.0, 0.02))
def test_shots_on_different_boards_may_swap(seed, film_um, law, flare_m):
    lane_um, x_m, ratio = traffic(seed, film_um, shots=2)
    x_m = board_to_x_m(np.repeat([[10.0], [25.0]], NODES, axis=1))
    flares_m = np.array([flare_m, 0.001])
    there, back = (
        wear(lane_um, x_m[order], ratio[order], flares_m[order], law=law).film_um
        for order in ([0, 1], [1, 0])
    )
    np.testing.assert_array_equal(there, back)


@given(seeds, films_um, laws)
@settings(max_examples=20)
def test_equal_shots_of_equal_balls_may_swap(seed, film_um, law):
    lane_um, x_m, ratio = traffic(seed, film_um, shots=1)
    twice = np.repeat(x_m, 2, axis=0), np.repeat(ratio, 2, axis=0), np.full(2, 0.001)
    balls = Balls(np.array([0, 1]), np.array([400.0, 400.0]))
    swapped = Balls(np.array([1, 0]), np.array([400.0, 400.0]))
    np.testing.assert_array_equal(
        wear(lane_um, *twice, balls=balls, law=law).film_um,
        wear(lane_um, *twice, balls=swapped, law=law).film_um,
    )


@pytest.mark.parametrize("flare_m", [0.0, 0.01])
def test_nothing_heals_between_shots(flare_m):
    lane_um, x_m, ratio = traffic(5, 4.0)
    worn = wear(lane_um, x_m, ratio, np.full(len(x_m), flare_m))
    again = wear(worn.strips_um, x_m[:0], ratio[:0], np.zeros(0))
    np.testing.assert_array_equal(again.strips_um, worn.strips_um)
