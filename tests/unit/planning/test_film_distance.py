"""How far films are apart: closed forms, and the order that any bowler would put them in."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from nextpair.domain.lane import BOARDS, CELLS
from nextpair.domain.pattern import Direction, Pass, Pattern
from nextpair.domain.units import FOOT_M, OIL_UNIT_UM
from nextpair.files import load_library
from nextpair.physics.dressing import film_of
from nextpair.physics.friction import film_gain_per_um
from nextpair.physics.roughness import fresh_roughness_um
from nextpair.planning.film_distance import FELT_UNITS, felt_share, film_distance

UNITS = 12.0


def flat(length_ft, units=UNITS, boards=slice(0, BOARDS)):
    film = np.zeros((CELLS, BOARDS))
    film[: round(2 * length_ft), boards] = units * OIL_UNIT_UM
    return film


def laid(length_ft, outside_boards, oil_ul=50.0, loads=(4, 5)):
    """Oil over boards 2 to 38, and more inside of a board on either side."""
    return Pattern(
        "an example",
        length_ft * FOOT_M,
        passes=tuple(
            Pass(Direction.FORWARD, board, 40 - board, count, oil_ul, 0.0, length_ft * FOOT_M)
            for board, count in zip((2, outside_boards), loads, strict=True)
        ),
    )


def test_a_foot_more_of_length_is_about_a_foot():
    # One foot of 39 boards grips on the one and slides on the other; 12 units on it are
    # 39 boards x 12 units x 1.481 uL = 0.69 mL ([facts] section 4).
    apart = film_distance(flat(40), flat(41))
    assert apart.grip_ft == pytest.approx(1 - math.exp(-UNITS / FELT_UNITS))
    assert apart.across_boards == pytest.approx(0.0, abs=1e-12)
    assert apart.oil_ml == pytest.approx(39 * 12 * 1.481e-3, rel=1e-3)
    assert apart.feet == pytest.approx(1.0, abs=0.1)


def test_oil_one_board_to_the_left_is_one_board():
    one, other = flat(40, boards=slice(5, 25)), flat(40, boards=slice(6, 26))
    assert film_distance(one, other).across_boards == pytest.approx(1.0)


def test_a_dry_lane_lies_as_far_across_as_a_flat_one():
    dry = np.zeros((CELLS, BOARDS))
    assert film_distance(dry, flat(40)).across_boards == pytest.approx(0.0, abs=1e-12)
    assert film_distance(dry, flat(40)).grip_ft == pytest.approx(40 * (1 - math.exp(-4)))


def test_oil_is_felt_where_the_friction_law_feels_it():
    # A 2000 grit cover has lost all but 1/e of its dry excess at 1 / gain.
    felt_um = 1 / film_gain_per_um(fresh_roughness_um(2000))
    assert pytest.approx(felt_um, rel=0.05) == FELT_UNITS * OIL_UNIT_UM
    assert felt_share(np.array([FELT_UNITS * OIL_UNIT_UM])) == pytest.approx(1 - math.exp(-1))


def test_a_little_more_oil_is_nearer_than_another_length_and_that_than_another_shape():
    pattern = laid(40, outside_boards=11)
    film = film_of(pattern)
    more_oil = film_of(laid(40, outside_boards=11, oil_ul=52.5))
    longer = film_of(laid(43, outside_boards=11))
    house_like = film_of(laid(40, outside_boards=11, loads=(1, 10)))
    feet = [film_distance(film, other).feet for other in (more_oil, longer, house_like)]
    assert feet == sorted(feet)
    assert feet[0] < 1.0
    assert feet[1] == pytest.approx(3.0, abs=1.0)
    assert feet[2] > 1.5 * feet[1]


def test_more_of_a_difference_is_farther():
    for of in (
        lambda step: film_of(laid(36 + step, outside_boards=11)),
        lambda step: film_of(laid(40, outside_boards=8 + step)),
        lambda step: film_of(laid(40, outside_boards=11, oil_ul=40.0 + 5 * step)),
    ):
        feet = [film_distance(of(0), of(step)).feet for step in range(4)]
        assert feet == sorted(feet)
        assert len(set(feet)) == 4


def test_a_copy_under_another_name_is_the_same_film():
    for pattern in load_library():
        copy = replace(pattern, name="another name", description="")
        assert film_distance(film_of(pattern), film_of(copy)).feet == 0.0
