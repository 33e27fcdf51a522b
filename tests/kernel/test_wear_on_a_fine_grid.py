"""The strips of the kernel against a tenth of a millimetre, in plain NumPy, written apart from it.

The reference covers part of a strip by part of the loss and needs no rounding. It remembers a
ball's ring as the oil laid up to each turn of the surface, and reads what comes round from that.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.lane import BOARD_M, BOARDS, CELL_M, CELLS, board_to_x_m
from nextpair.kernel.layout import NODE_M
from nextpair.kernel.wear import wear
from nextpair.physics.wear import USUAL_WEAR

FINE = 270
"""Parts of a board, a tenth of a millimetre each."""
SHOTS = 60
LAW = USUAL_WEAR
APART_M, ON_EACH_OTHER_M, BESIDE_M = 0.01, 0.0, 0.0012
STRAIGHT, CURVED = 0.0, 1.0


def fine_wear_um(film_um, x_m, ratio, spacing_m):
    """Film (120, 39) after shots of a wiped ball each, on FINE parts of a board."""
    part_m = BOARD_M / FINE
    fine_um = np.repeat(film_um, FINE, axis=1)
    edges_m = (np.arange(BOARDS * FINE + 1) - 0.5 * BOARDS * FINE) * part_m
    turned_m = np.concatenate(([0.0], np.cumsum(ratio[1:] * CELL_M)))
    back_m = turned_m - 2.0 * math.pi * BALL_RADIUS_M
    for shot_x_m in x_m:
        laid_um_m2 = [0.0]
        for row, (place_m, r) in enumerate(zip(-shot_x_m[1:], ratio[1:], strict=True)):
            middle = int(np.searchsorted(edges_m, place_m))
            under_um = fine_um[row, middle - 1 : middle + 1].mean()
            half_m = math.sqrt(LAW.patch_radius_m**2 + 2.0 * BALL_RADIUS_M * under_um * 1e-6)
            near, far = np.searchsorted(edges_m, (place_m - half_m, place_m + half_m))
            covered = np.minimum(edges_m[near : far + 1], place_m + half_m) - np.maximum(
                edges_m[near - 1 : far], place_m - half_m
            )
            came_um_m2 = np.diff(
                np.interp(back_m[row : row + 2], turned_m[: row + 1], laid_um_m2, left=0.0)
            )[0]
            ball_um = came_um_m2 * max(1.0 - 0.5 * spacing_m / half_m, 0.0)
            ball_um /= 2.0 * half_m * r * CELL_M
            lane_um = fine_um[row, near - 1 : far]
            gone_um = LAW.removal_share * taken_um(lane_um, ball_um, r)
            laid_um = ball_um + (gone_um @ covered) / (2.0 * half_m * r)
            fine_um[row, near - 1 : far] = lane_um - gone_um * covered / part_m
            laid_um_m2.append(laid_um_m2[-1] + laid_um * 2.0 * half_m * r * CELL_M)
    return fine_um.reshape(CELLS, BOARDS, FINE).mean(axis=2)


def taken_um(lane_um, ball_um, r):
    """What a full split takes off the lane: what is mobile less its share of all that comes in.

    Model sheet 4.1: h' = (h + r b) / (1 + r^1.65).
    """
    mobile_um = np.maximum(lane_um - LAW.retained_um, 0.0)
    return mobile_um - (mobile_um + r * ball_um) / (1.0 + r**1.65)


def lane_film_um():
    """Oil to 12.5 m, thicker inside."""
    centre_m = (np.arange(CELLS) + 0.5) * CELL_M
    along_um = np.interp(centre_m, [0.0, 3.0, 11.0, 12.5, 12.501], [6.0, 4.0, 2.0, 0.6, 0.0])
    across = 0.4 + 1.6 * np.exp(-(((np.arange(BOARDS) - 19) / 9.0) ** 4))
    return along_um[:, None] * across


def paths(scatter_boards, bend, start_board=24.0):
    """Places (60, 121) of shots that scatter at the foul line and bend out and back, or not."""
    rng = np.random.default_rng(1)
    start = start_board + rng.normal(0.0, scatter_boards, (SHOTS, 1))
    down = NODE_M / 12.5
    return board_to_x_m(start - bend * 14.0 * down * (1.0 - 0.5 * down))


@pytest.mark.parametrize("spacing_m", [APART_M, BESIDE_M, ON_EACH_OTHER_M])
@pytest.mark.parametrize(
    ("scatter_boards", "bend", "tolerance"),
    [(0.7, CURVED, 0.02), (0.1, CURVED, 0.02), (0.0, CURVED, 0.03), (0.0, STRAIGHT, 0.05)],
    ids=["scattered", "a robot's", "repeated", "repeated and straight"],
)
def test_boards_lose_and_gain_what_they_do_on_a_fine_grid(
    scatter_boards, bend, tolerance, spacing_m
):
    fresh_um = lane_film_um()
    x_m = paths(scatter_boards, bend)
    ratio = np.interp(NODE_M, [0.0, 12.2, 15.4], [0.576, 0.689, 1.0])
    fine_um = fine_wear_um(fresh_um, x_m, ratio, spacing_m)
    worn = wear(fresh_um, x_m, np.repeat(ratio[None], SHOTS, axis=0), np.full(SHOTS, spacing_m))
    lost_um, fine_lost_um = fresh_um - worn.film_um, fresh_um - fine_um
    # By board and two feet, the root mean square of what is off over that of the loss.
    by_two_feet = (30, 4, BOARDS)
    off_um = (lost_um - fine_lost_um).reshape(by_two_feet).mean(axis=1)
    loss_um = fine_lost_um.reshape(by_two_feet).mean(axis=1)
    assert np.sqrt((off_um**2).mean() / (loss_um**2).mean()) < tolerance
    assert lost_um.sum() == pytest.approx(fine_lost_um.sum(), rel=tolerance)
    past = fresh_um[:, 19] == 0.0
    carried_um, fine_carried_um = worn.film_um[past].sum(), fine_um[past].sum()
    # On one straight line strips are rounded alike in every cell, and what has been carried
    # there and on again by sixty shots is the small rest of much.
    of_carried = 0.35 if bend == STRAIGHT else tolerance
    assert carried_um == pytest.approx(fine_carried_um, rel=of_carried, abs=1e-9)
    assert (carried_um > 0.0) == (spacing_m < APART_M)


def test_a_board_by_its_mean_alone_loses_far_too_much_to_a_repeated_track():
    """Why there are strips: a board evened out before each shot never runs out of oil to give."""
    fresh_um = lane_film_um()
    x_m = paths(0.0, STRAIGHT)
    ratio = np.interp(NODE_M, [0.0, 12.2, 15.4], [0.576, 0.689, 1.0])
    fine_lost_um = fresh_um - fine_wear_um(fresh_um, x_m, ratio, APART_M)
    evened_um = fresh_um
    for shot in range(SHOTS):
        one = slice(shot, shot + 1)
        evened_um = wear(evened_um, x_m[one], ratio[None], np.full(1, 0.01)).film_um
    assert (fresh_um - evened_um).sum() > 3.0 * fine_lost_um.sum()
