"""Rolls: kept, mirrored, joined."""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.carry.hits import rack_hits
from nextpair.carry.rolls import Rolls, joined, load_rolls, save_rolls
from nextpair.scoring.leaves import mirrored_leave, parse_leave

ROLLS = rack_hits(0, 20)._replace(
    standing=np.arange(20, dtype=np.uint16), exit_x_m=np.linspace(-0.5, np.nan, 20)
)


def test_what_is_kept_comes_back(tmp_path):
    save_rolls(tmp_path / "rolls.npz", ROLLS, {"seed": 3})
    back, settings = load_rolls(tmp_path / "rolls.npz")
    assert settings == {"seed": 3}
    for name in Rolls._fields:
        np.testing.assert_allclose(getattr(back, name), getattr(ROLLS, name), rtol=1e-6, atol=1e-6)
    assert not list(tmp_path.glob("*.part"))


def test_two_mirrors_give_the_rolls_back():
    for name, column in ROLLS.mirrored().mirrored()._asdict().items():
        np.testing.assert_array_equal(column, getattr(ROLLS, name))


def test_a_mirror_swaps_sides():
    image = ROLLS.mirrored()
    np.testing.assert_array_equal(image.offset_boards, -ROLLS.offset_boards)
    np.testing.assert_array_equal(image.angle_deg, -ROLLS.angle_deg)
    assert image.standing[2] == mirrored_leave(2) == parse_leave("3")


@pytest.mark.parametrize("cut", [1, 7])
def test_parts_join_to_the_whole(cut):
    index = np.arange(20)
    whole = joined([ROLLS.taken(index < cut), ROLLS.taken(index >= cut)])
    for name in Rolls._fields:
        np.testing.assert_array_equal(getattr(whole, name), getattr(ROLLS, name))
