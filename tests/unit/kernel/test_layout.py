"""The door of the kernel: balls and films as arrays, nodes down the lane, the bowler's frame."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from event_folder import DEMO
from nextpair.domain.ball import Surface
from nextpair.domain.bowler import Hand
from nextpair.domain.lane import BOARDS, CELL_M, CELLS, END_PLANE_M
from nextpair.files import load_event
from nextpair.kernel.layout import (
    NODE_M,
    NODES,
    Column,
    Result,
    Trace,
    at_nodes,
    bodies_of,
    own_frame,
)

EVENT = load_event(DEMO / "event.toml")


def test_nodes_are_the_foul_line_every_cell_centre_and_the_end_plane():
    assert NODES == CELLS + 1
    assert NODE_M[0] == 0.0
    assert NODE_M[-1] == END_PLANE_M
    np.testing.assert_allclose(NODE_M[1:-1], (np.arange(CELLS - 1) + 0.5) * CELL_M)
    assert np.all(np.diff(NODE_M) > 0.0)


@pytest.mark.parametrize("rows", [Column, Result, Trace])
def test_rows_of_an_array_are_numbered_without_gaps(rows):
    assert sorted(rows) == list(range(len(rows)))


def test_a_film_that_runs_straight_down_the_lane_is_read_exactly_at_the_nodes():
    centres_m = (np.arange(CELLS) + 0.5) * CELL_M
    film = 5.0 - 0.2 * centres_m[:, None] + 0.03 * np.arange(BOARDS)
    nodes = at_nodes(film[None])[0]
    expected = 5.0 - 0.2 * NODE_M[:, None] + 0.03 * np.arange(BOARDS)
    np.testing.assert_allclose(nodes[1:], expected[1:], atol=1e-5)
    # Before the first centre that cell's film holds.
    np.testing.assert_allclose(nodes[0], film[0], atol=1e-5)


def test_films_come_out_ready_for_the_compiled_loop():
    nodes = at_nodes(np.ones((3, CELLS, BOARDS))[..., ::-1])
    assert nodes.shape == (3, NODES, BOARDS)
    assert nodes.dtype == np.float32
    assert nodes.flags["C_CONTIGUOUS"]


def test_a_left_hander_sees_the_lane_from_the_other_edge_and_a_right_hander_as_it_is():
    films = np.random.default_rng(1).uniform(0.0, 3.0, (2, CELLS, BOARDS))
    np.testing.assert_array_equal(own_frame(films, Hand.RIGHT), films)
    left = own_frame(films, Hand.LEFT)
    for board in (1, 10, 39):
        np.testing.assert_array_equal(left[..., board - 1], films[..., BOARDS - board])
    np.testing.assert_array_equal(own_frame(left, Hand.LEFT), films)
    np.testing.assert_array_equal(own_frame(films[0], Hand.LEFT), left[0])


def test_balls_become_arrays_in_their_order():
    balls = EVENT.locker
    bodies = bodies_of(balls, EVENT.house)
    assert bodies.k2_m2.shape == (len(balls), 3)
    for row, ball in enumerate(balls):
        np.testing.assert_allclose(bodies.k2_m2[row], np.square(ball.radii_of_gyration_m))
    np.testing.assert_allclose(np.linalg.norm(bodies.core, axis=1), 1.0)
    assert np.all(bodies.film_gain_per_um > 0.0)
    assert np.all((bodies.dry_friction > 0.0) & (bodies.dry_friction < 1.0))


def test_a_rougher_cover_needs_more_film_to_float():
    grits = (500, 1000, 2000, 4000, None)
    ball = EVENT.locker[0]
    sanded = [replace(ball, surface=Surface(grit)) for grit in grits]
    gain = bodies_of(sanded, EVENT.house).film_gain_per_um
    assert np.all(np.diff(gain) > 0.0)
