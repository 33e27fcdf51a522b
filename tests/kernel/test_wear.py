"""Shots one after the other on a film: where oil goes, and where it stays."""

from __future__ import annotations

import math
import time

import numpy as np
import pytest

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.lane import BOARD_M, BOARDS, CELL_M, CELLS, board_to_x_m
from nextpair.kernel.layout import NODES
from nextpair.kernel.wear import wear
from nextpair.physics.contact import wetted_width_m
from nextpair.physics.wear import USUAL_WEAR, WearLaw, split_films_um

FRESH_COVER_M = 0.02
SAME_RING_M = 0.0


def even_film_um(film_um: float) -> np.ndarray:
    return np.full((CELLS, BOARDS), film_um)


def straight(*boards: float) -> np.ndarray:
    """Paths (n, 121) that stay on a board each."""
    return np.repeat(board_to_x_m(np.array(boards))[:, None], NODES, axis=1)


def turning(surface_ratio: float, shots: int = 1) -> np.ndarray:
    return np.full((shots, NODES), surface_ratio)


def track_boards(film_um: float) -> float:
    """Width of a track on that film, in boards."""
    return wetted_width_m(USUAL_WEAR.patch_radius_m, BALL_RADIUS_M, film_um * 1e-6) / BOARD_M


def loss_um(film_um: float, surface_ratio: float) -> float:
    """What a dry cover takes from the film under it."""
    law = USUAL_WEAR
    left_um, _ = split_films_um(film_um, 0.0, surface_ratio, law.removal_share, law.retained_um)
    return film_um - left_um


def test_a_fresh_cover_takes_its_split_over_the_width_of_the_track():
    worn = wear(even_film_um(2.0), straight(12), turning(0.7), np.array([FRESH_COVER_M]))
    lost_um = 2.0 - worn.film_um
    np.testing.assert_allclose(lost_um[:, 11], loss_um(2.0, 0.7) * track_boards(2.0), rtol=1e-12)
    assert np.count_nonzero(lost_um) == CELLS, "no other board is touched"


def test_a_track_on_a_seam_wears_both_boards_by_halves():
    worn = wear(even_film_um(2.0), straight(12.5), turning(0.7), np.array([FRESH_COVER_M]))
    half_um = 0.5 * loss_um(2.0, 0.7) * track_boards(2.0)
    np.testing.assert_allclose(2.0 - worn.film_um[:, 11:13], half_um, rtol=1e-9)


@pytest.mark.parametrize("board", [0.51, 39.49])
def test_a_track_at_the_lanes_edge_wears_the_outermost_board(board):
    worn = wear(even_film_um(2.0), straight(board), turning(0.7), np.array([FRESH_COVER_M]))
    column = 0 if board < 20 else BOARDS - 1
    np.testing.assert_allclose(
        2.0 - worn.film_um[:, column], loss_um(2.0, 0.7) * track_boards(2.0), rtol=1e-12
    )


@pytest.mark.parametrize(("flare_m", "overlap"), [(SAME_RING_M, 1.0), (1e-3, None), (0.02, 0.0)])
def test_a_ring_comes_round_after_one_turn_with_what_flare_left_on_it(flare_m, overlap):
    # Five cells to a turn: the stretch laid in cell c comes round exactly in cell c + 5.
    ratio = 2.0 * math.pi * BALL_RADIUS_M / (5 * CELL_M)
    film_um = 3.0
    worn = wear(even_film_um(film_um), straight(20), turning(ratio), np.array([flare_m]))
    width_m = track_boards(film_um) * BOARD_M
    kept = 1.0 - flare_m / width_m if overlap is None else overlap
    ball_um = 0.0
    for turn in range(CELLS // 5):
        left_um, ball_um = split_films_um(
            film_um, kept * ball_um, ratio, USUAL_WEAR.removal_share, USUAL_WEAR.retained_um
        )
        expected_um = film_um + (left_um - film_um) * width_m / BOARD_M
        cells = slice(5 * turn, 5 * turn + 5)
        np.testing.assert_allclose(worn.film_um[cells, 19], expected_um, rtol=1e-9)


def test_carried_oil_fades_turn_by_turn_on_a_dry_back_end():
    # A dry lane takes k / (1 + r^1.65) of the ball's oil each turn: closed form of the split.
    film_um = even_film_um(0.0)
    film_um[:60] = 4.0
    law = WearLaw(removal_share=0.5, retained_um=0.0)
    ratio = 2.0 * math.pi * BALL_RADIUS_M / (4 * CELL_M)
    worn = wear(film_um, straight(20), turning(ratio), np.array([SAME_RING_M]), law=law)
    back_end_um = worn.film_um[60:, 19]
    kept = 1.0 - 0.5 / (1.0 + ratio**1.65)
    assert back_end_um[0] > 0.01
    np.testing.assert_allclose(back_end_um[4:] / back_end_um[:-4], kept, rtol=1e-9)


def test_flare_takes_oil_off_and_its_absence_carries_oil_down():
    film_um = even_film_um(0.0)
    film_um[:80] = 4.0
    flaring = wear(film_um, straight(20), turning(0.8), np.array([FRESH_COVER_M]))
    carrying = wear(film_um, straight(20), turning(0.8), np.array([SAME_RING_M]))
    assert flaring.film_um[80:].sum() == 0.0
    assert carrying.film_um[80:].sum() > 0.0
    assert flaring.taken_ul[0] > 10.0 * carrying.taken_ul[0]


def test_later_shots_find_less_oil():
    shots = 30
    worn = wear(
        even_film_um(3.0), straight(*[15.0] * shots), turning(0.7, shots), np.full(shots, 0.02)
    )
    assert (np.diff(worn.taken_ul) < 0.0).all()
    assert worn.film_um.min() > USUAL_WEAR.retained_um


def test_shots_act_in_their_order():
    # A flaring ball first leaves little for the carrying one; the other way round it is not so.
    film_um = even_film_um(0.0)
    film_um[:80] = 4.0
    paths, ratio = straight(20, 20), turning(0.8, 2)
    one = wear(film_um, paths, ratio, np.array([FRESH_COVER_M, SAME_RING_M]))
    other = wear(film_um, paths, ratio, np.array([SAME_RING_M, FRESH_COVER_M]))
    first = wear(film_um, paths[:1], ratio[:1], np.array([FRESH_COVER_M]))
    second = wear(first.film_um, paths[:1], ratio[:1], np.array([SAME_RING_M]))
    np.testing.assert_array_equal(one.film_um, second.film_um)
    assert not np.array_equal(one.film_um, other.film_um)


@pytest.mark.parametrize("spoilt", ["x", "ratio", "gutter", "spinning"])
def test_a_shot_wears_nothing_from_where_it_left_the_lane(spoilt):
    paths, ratio = straight(3), turning(0.8)
    if spoilt == "x":
        paths[0, 61] = math.nan
    elif spoilt == "ratio":
        ratio[0, 61] = math.nan
    elif spoilt == "gutter":
        paths[0, 61] = board_to_x_m(0.4)
    else:
        ratio[0, 61] = 5.0
    worn = wear(even_film_um(2.0), paths, ratio, np.array([SAME_RING_M]))
    assert (worn.film_um[60:] == 2.0).all(), "node 61 is the centre of cell 60"
    assert (worn.film_um[:60, 2] != 2.0).any()
    assert worn.taken_ul[0] > 0.0


def test_a_skidding_ball_that_does_not_turn_takes_nothing():
    worn = wear(even_film_um(2.0), straight(10), turning(0.0), np.array([SAME_RING_M]))
    np.testing.assert_array_equal(worn.film_um, even_film_um(2.0))
    assert worn.taken_ul[0] == 0.0


def test_the_film_given_is_left_as_it_was():
    film_um = even_film_um(2.0)
    wear(film_um, straight(10), turning(0.8), np.array([FRESH_COVER_M]))
    np.testing.assert_array_equal(film_um, even_film_um(2.0))


def test_no_shots_leave_the_film_alone():
    worn = wear(even_film_um(2.0), np.empty((0, NODES)), np.empty((0, NODES)), np.empty(0))
    np.testing.assert_array_equal(worn.film_um, even_film_um(2.0))
    assert worn.taken_ul.shape == (0,)


def test_arrays_that_do_not_fit_are_refused():
    with pytest.raises(InvalidValueError, match="film_um"):
        wear(np.zeros((BOARDS, CELLS)), straight(10), turning(0.8), np.array([0.01]))
    with pytest.raises(InvalidValueError, match="x_m"):
        wear(even_film_um(1.0), straight(10)[:, :-1], turning(0.8), np.array([0.01]))
    with pytest.raises(InvalidValueError, match="surface_ratio"):
        wear(even_film_um(1.0), straight(10), turning(0.8, 2), np.array([0.01]))


def test_a_day_of_traffic_takes_well_under_a_tenth_of_a_second():
    shots = 2000
    scatter = np.random.default_rng(3).normal(15.0, 3.0, shots)
    paths, ratio = straight(*scatter), turning(0.7, shots)
    flare_m = np.full(shots, 0.002)
    wear(even_film_um(4.0), paths[:1], ratio[:1], flare_m[:1])
    took_s = []
    for _ in range(5):
        start_s = time.perf_counter()
        wear(even_film_um(4.0), paths, ratio, flare_m)
        took_s.append(time.perf_counter() - start_s)
    assert min(took_s) < 0.1
