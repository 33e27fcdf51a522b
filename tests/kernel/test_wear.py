"""Shots one after the other on a film: where oil goes, and where it stays."""

from __future__ import annotations

import math

import numpy as np
import pytest

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.lane import BOARD_M, BOARDS, CELL_M, CELLS, board_to_x_m
from nextpair.kernel.flare import ring_spacing_m
from nextpair.kernel.layout import NODES, Trace
from nextpair.kernel.roll import roll
from nextpair.kernel.wear import STRIPS, STRIPS_PER_BOARD, Balls, surface_ratios, wear
from nextpair.physics.contact import wetted_width_m
from nextpair.physics.wear import USUAL_WEAR, WearLaw, split_films_um
from unit.kernel.straight_ball import lanes_under, straight_ball, straight_shots

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
    touched = 2.0 - worn.strips_um[:, 11 * STRIPS_PER_BOARD : 12 * STRIPS_PER_BOARD]
    strips = np.count_nonzero(touched, axis=1)
    np.testing.assert_allclose(touched.max(axis=1), loss_um(2.0, 0.7), rtol=1e-12)
    np.testing.assert_allclose(touched.sum(axis=1), loss_um(2.0, 0.7) * strips, rtol=1e-12)
    assert (abs(strips - track_boards(2.0) * STRIPS_PER_BOARD) <= 1.0).all()
    assert np.count_nonzero(2.0 - worn.film_um) == CELLS, "no other board is touched"


def test_over_many_places_a_track_is_as_wide_as_it_wets():
    lost_um = [
        2.0 * BOARDS
        - wear(even_film_um(2.0), straight(board), turning(0.7), np.array([FRESH_COVER_M]))
        .film_um[0]
        .sum()
        for board in np.linspace(10.0, 11.0, 997)
    ]
    assert np.mean(lost_um) == pytest.approx(loss_um(2.0, 0.7) * track_boards(2.0), rel=1e-3)


def test_a_track_on_a_seam_wears_both_boards_by_halves():
    worn = wear(even_film_um(2.0), straight(12.5), turning(0.7), np.array([FRESH_COVER_M]))
    lost_um = 2.0 - worn.film_um[:, 11:13]
    assert lost_um.min() > 0.0
    np.testing.assert_allclose(lost_um[:, 0], lost_um[:, 1], rtol=1e-12)


@pytest.mark.parametrize("board", [0.51, 39.49])
def test_a_track_at_the_lanes_edge_wears_the_outermost_board(board):
    at_edge, inside = (
        wear(even_film_um(2.0), straight(b), turning(0.7), np.array([FRESH_COVER_M])).film_um
        for b in (board, board + (1.0 if board < 20 else -1.0))
    )
    column = 0 if board < 20 else BOARDS - 1
    assert np.count_nonzero(2.0 - at_edge) == CELLS
    np.testing.assert_allclose(
        2.0 - at_edge[:, column], BOARDS * 2.0 - inside.sum(axis=1), rtol=1e-9
    )


def test_strips_go_on_where_they_were_left_and_boards_do_not():
    paths, ratio, flare_m = straight(20, 20), turning(0.7, 2), np.full(2, FRESH_COVER_M)
    both = wear(even_film_um(2.0), paths, ratio, flare_m)
    first = wear(even_film_um(2.0), paths[:1], ratio[:1], flare_m[:1])
    again = wear(first.strips_um, paths[1:], ratio[1:], flare_m[1:])
    smoothed = wear(first.film_um, paths[1:], ratio[1:], flare_m[1:])
    np.testing.assert_array_equal(again.strips_um, both.strips_um)
    assert smoothed.film_um.sum() < both.film_um.sum(), "a worn track has less left to give"


def test_boards_are_the_means_of_their_strips():
    worn = wear(even_film_um(2.0), straight(3.3), turning(0.7), np.array([0.001]))
    assert worn.strips_um.shape == (CELLS, STRIPS)
    for column in (1, 2, 3):
        strips = slice(column * STRIPS_PER_BOARD, (column + 1) * STRIPS_PER_BOARD)
        np.testing.assert_allclose(
            worn.film_um[:, column], worn.strips_um[:, strips].mean(axis=1), rtol=1e-14
        )


@pytest.mark.parametrize(("flare_m", "overlap"), [(SAME_RING_M, 1.0), (1e-3, None), (0.02, 0.0)])
def test_a_ring_comes_round_after_one_turn_with_what_flare_left_on_it(flare_m, overlap):
    # Five cells to a turn: the stretch laid in cell c comes round exactly in cell c + 5.
    ratio = 2.0 * math.pi * BALL_RADIUS_M / (5 * CELL_M)
    film_um = 3.0
    worn = wear(even_film_um(film_um), straight(20), turning(ratio), np.array([flare_m]))
    width_m = track_boards(film_um) * BOARD_M
    middle_um = worn.strips_um[:, STRIPS // 2]
    kept = 1.0 - flare_m / width_m if overlap is None else overlap
    ball_um = 0.0
    for turn in range(CELLS // 5):
        left_um, ball_um = split_films_um(
            film_um, kept * ball_um, ratio, USUAL_WEAR.removal_share, USUAL_WEAR.retained_um
        )
        np.testing.assert_allclose(middle_um[5 * turn : 5 * turn + 5], left_um, rtol=1e-9)


def test_carried_oil_fades_turn_by_turn_on_a_dry_back_end():
    # A dry lane takes k / (1 + r^1.65) of the ball's oil each turn: closed form of the split.
    film_um = even_film_um(0.0)
    film_um[:60] = 4.0
    law = WearLaw(removal_share=0.5, retained_um=0.0)
    ratio = 2.0 * math.pi * BALL_RADIUS_M / (4 * CELL_M)
    worn = wear(film_um, straight(20), turning(ratio), np.array([SAME_RING_M]), law=law)
    back_end_um = worn.strips_um[60:, STRIPS // 2]
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
    assert flaring.cover_ul[0] > 10.0 * carrying.cover_ul[0]


def test_later_shots_find_less_oil():
    shots = 30
    worn = wear(
        even_film_um(3.0), straight(*[15.0] * shots), turning(0.7, shots), np.full(shots, 0.02)
    )
    assert (np.diff(worn.cover_ul) < 0.0).all()
    assert worn.strips_um.min() > USUAL_WEAR.retained_um


def test_shots_act_in_their_order():
    # A flaring ball first leaves little for the carrying one; the other way round it is not so.
    film_um = even_film_um(0.0)
    film_um[:80] = 4.0
    paths, ratio = straight(20, 20), turning(0.8, 2)
    one = wear(film_um, paths, ratio, np.array([FRESH_COVER_M, SAME_RING_M]))
    other = wear(film_um, paths, ratio, np.array([SAME_RING_M, FRESH_COVER_M]))
    first = wear(film_um, paths[:1], ratio[:1], np.array([FRESH_COVER_M]))
    second = wear(first.strips_um, paths[:1], ratio[:1], np.array([SAME_RING_M]))
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
    assert worn.cover_ul[0] > 0.0


def test_a_ball_wears_nothing_before_it_comes_down():
    landing_m = np.array([1.3, 0.0])
    thrown = straight(10, 30), turning(0.8, 2), np.zeros(2)
    worn = wear(even_film_um(2.0), *thrown, landing_m=landing_m)
    down = (np.arange(CELLS) + 0.5) * CELL_M >= 1.3
    assert (worn.film_um[~down, 9] == 2.0).all()
    assert (worn.film_um[down, 9] < 2.0).any()
    assert (worn.film_um[:5, 29] < 2.0).all()
    late = wear(even_film_um(2.0), *thrown, landing_m=np.array([99.0, 0.0]))
    assert (late.film_um[:, 9] == 2.0).all()
    assert late.cover_ul[0] == 0.0


def test_a_skidding_ball_that_does_not_turn_takes_nothing():
    worn = wear(even_film_um(2.0), straight(10), turning(0.0), np.array([SAME_RING_M]))
    np.testing.assert_array_equal(worn.film_um, even_film_um(2.0))
    assert worn.cover_ul[0] == 0.0


UNWIPED = WearLaw(wiped_share=0.0)
ONE_BALL = Balls(np.zeros(2, np.int64), np.array([1e9]), 0.0)


def dry_after_oil(law, balls, flare_m):
    """A shot on board 10, which is oiled, then one on board 30, which is dry."""
    film_um = even_film_um(0.0)
    film_um[:, :20] = 4.0
    return wear(
        film_um, straight(10, 30), turning(0.7, 2), np.full(2, flare_m), balls=balls, law=law
    )


@pytest.mark.parametrize("flare_m", [SAME_RING_M, FRESH_COVER_M])
def test_a_ball_that_is_never_wiped_lays_its_oil_where_it_goes_next(flare_m):
    dry_um = dry_after_oil(UNWIPED, ONE_BALL, flare_m).film_um[:, 20:]
    assert dry_um.max() > 0.03
    if flare_m:
        assert (dry_um.max(axis=1) > 0.0).all(), "old rings come round all the way"


def test_a_wiped_ball_and_another_ball_lay_nothing():
    clean = dry_after_oil(WearLaw(wiped_share=1.0), ONE_BALL, SAME_RING_M)
    two = Balls(np.arange(2), np.full(2, 1e9), 0.0)
    other = dry_after_oil(UNWIPED, two, SAME_RING_M)
    assert clean.film_um[:, 20:].max() == other.film_um[:, 20:].max() == 0.0
    assert clean.left_ul.max() == 0.0
    assert other.left_ul[0] > 0.0
    assert other.left_ul[1] == 0.0


def test_oil_on_a_ball_soaks_in_and_then_the_towel_takes_its_share():
    balls = Balls(np.zeros(2, np.int64), np.array([400.0]), np.array([60.0, 120.0]))
    worn = dry_after_oil(WearLaw(wiped_share=0.7), balls, FRESH_COVER_M)
    soaked = 1.0 - np.exp(-np.array([60.0, 120.0]) / 400.0)
    np.testing.assert_allclose(worn.absorbed_ul, soaked * worn.cover_ul, rtol=1e-12)
    np.testing.assert_allclose(worn.wiped_ul, 0.7 * (worn.cover_ul - worn.absorbed_ul), rtol=1e-12)
    left_ul = worn.cover_ul - worn.absorbed_ul - worn.wiped_ul
    assert worn.left_ul[0] == pytest.approx(left_ul[1], rel=1e-12)
    dry_ul = worn.film_um[:, 20:].sum() * CELL_M * BOARD_M * 1e3
    assert worn.cover_ul[1] + dry_ul == pytest.approx(left_ul[0], rel=1e-9)


def test_a_ball_that_misses_the_lane_keeps_its_oil():
    paths = straight(10, 30)
    paths[1] = math.nan
    worn = wear(
        even_film_um(4.0), paths, turning(0.7, 2), np.zeros(2), balls=ONE_BALL, law=UNWIPED
    )
    assert worn.cover_ul[1] == pytest.approx(worn.cover_ul[0], rel=1e-12)


def test_balls_that_do_not_fit_the_shots_are_refused():
    for balls in (
        Balls(np.zeros(3, np.int64), np.ones(1)),
        Balls(np.array([0, 1]), np.ones(1)),
        Balls(np.array([-1, 0]), np.ones(1)),
        Balls(np.zeros(2, np.int64), np.ones(1), np.ones(3)),
    ):
        with pytest.raises(InvalidValueError, match="balls"):
            dry_after_oil(UNWIPED, balls, 0.0)


def test_rings_that_draw_apart_on_the_way_stop_the_carrying():
    film_um = even_film_um(4.0)
    near, apart = np.zeros((1, NODES)), np.zeros((1, NODES))
    apart[:, 61:] = FRESH_COVER_M
    carried, dropped = (
        wear(film_um, straight(20), turning(0.8), flare_m).film_um for flare_m in (near, apart)
    )
    np.testing.assert_array_equal(carried[:60], dropped[:60])
    assert dropped[60:].sum() < carried[60:].sum()


def test_the_film_given_is_left_as_it_was():
    film_um = even_film_um(2.0)
    wear(film_um, straight(10), turning(0.8), np.array([FRESH_COVER_M]))
    np.testing.assert_array_equal(film_um, even_film_um(2.0))


def test_no_shots_leave_the_film_alone():
    worn = wear(even_film_um(2.0), np.empty((0, NODES)), np.empty((0, NODES)), np.empty(0))
    np.testing.assert_array_equal(worn.film_um, even_film_um(2.0))
    assert worn.cover_ul.shape == (0,)


def test_arrays_that_do_not_fit_are_refused():
    with pytest.raises(InvalidValueError, match="film_um"):
        wear(np.zeros((BOARDS, CELLS)), straight(10), turning(0.8), np.array([0.01]))
    with pytest.raises(InvalidValueError, match="x_m"):
        wear(even_film_um(1.0), straight(10)[:, :-1], turning(0.8), np.array([0.01]))
    with pytest.raises(InvalidValueError, match="surface_ratio"):
        wear(even_film_um(1.0), straight(10), turning(0.8, 2), np.array([0.01]))
    with pytest.raises(InvalidValueError, match="landing_m"):
        wear(
            even_film_um(1.0),
            straight(10),
            turning(0.8),
            np.array([0.01]),
            landing_m=np.zeros(2),
        )
    with pytest.raises(InvalidValueError, match="flare_m_per_rev"):
        wear(even_film_um(1.0), straight(10), turning(0.8), np.full(3, 0.01))


def test_a_shot_whose_flare_is_not_known_wears_nothing_from_there_on():
    flare_m = np.full((1, NODES), FRESH_COVER_M)
    flare_m[0, 61:] = np.nan
    worn = wear(even_film_um(2.0), straight(12), turning(0.7), flare_m)
    assert np.isfinite(worn.film_um).all()
    touched = (worn.film_um[:, 11] < 2.0).nonzero()[0]
    assert (touched[0], touched[-1]) == (0, 59)


def test_gutter_balls_stopped_balls_and_lofted_balls_leave_a_finite_film_and_lose_no_oil():
    shots = straight_shots(
        board_to_x_m(np.array([12.0, 3.0, 20.0, 20.0])),
        np.array([0.01, 0.09, 0.0, 0.0]),
        speed_mps=np.array([8.0, 8.0, 1.2, 8.0]),
        rev_rate_radps=35.0,
        axis_rotation_rad=0.8,
        loft_m=np.array([0.3, 0.1, 0.0, 0.0]),
    )
    film_um = even_film_um(2.0)
    lanes = lanes_under(film_um[None], 18.0)
    paths = roll(lanes, straight_ball(), shots, record=True)
    assert len({int(status) for status in paths.status}) == 3
    worn = wear(
        film_um,
        paths.trace[Trace.X].T.astype(float),
        surface_ratios(paths.trace),
        ring_spacing_m(paths.trace, paths.turns),
    )
    assert np.isfinite(worn.film_um).all()
    ul_per_um = CELL_M * BOARD_M * 1e3
    kept_ul = worn.film_um.sum() * ul_per_um + worn.left_ul.sum()
    gone_ul = worn.absorbed_ul.sum() + worn.wiped_ul.sum()
    assert kept_ul + gone_ul == pytest.approx(film_um.sum() * ul_per_um, rel=1e-9)
