"""Bandwidths by held-out rolls, and the blur they cost."""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.carry.held_out import blur_rolls, trials_of, used_trial
from nextpair.carry.neighbours import Bandwidths
from nextpair.carry.rolls import MIRRORED_LEAVES
from nextpair.domain.units import MPH_MPS, POUND_KG
from unit.carry.known_field import LEAVES, chances, rolled

IMAGE = np.searchsorted(LEAVES, MIRRORED_LEAVES[LEAVES])
COUNT = 1500
SLOW, FAST = 0.06, 0.4


def trials(rolls, only=None):
    return trials_of(rolls, np.searchsorted(LEAVES, rolls.standing), IMAGE, only)


@pytest.fixture(scope="module")
def slow():
    rolls = rolled(COUNT, waves_per_board=SLOW)
    return rolls, trials(rolls)


@pytest.fixture(scope="module")
def fast():
    rolls = rolled(COUNT, waves_per_board=FAST)
    return rolls, trials(rolls)


def test_held_out_rolls_are_told_almost_as_well_as_by_who_knows_their_chances(slow):
    rolls, tried = slow
    p = chances(rolls, SLOW)
    entropy = float(-(p * np.log(p)).sum(axis=1).mean())
    # The mean of 1,500 rolls is known to some 0.02 nats: three of those. Nobody can do better
    # than the entropy in the long run; a parameter costs half a roll's worth, 1 / (2 x 1,500).
    assert tried[0].nats_a_roll == pytest.approx(entropy, abs=0.06)


def test_chances_that_turn_within_a_board_are_given_narrow_bandwidths(slow, fast):
    narrow, wide = (used_trial(tried).bandwidths.offset_boards for _, tried in (fast, slow))
    # Half a wave of the fast field is 1.25 boards, of the slow one eight.
    assert narrow <= 1.25 < wide


def test_far_narrower_and_far_wider_bandwidths_tell_worse(fast):
    rolls, tried = fast
    best = tried[0].bandwidths
    for times in (0.1, 10.0):
        other = best._replace(offset_boards=times * best.offset_boards)
        assert trials(rolls, other)[0].nats_a_roll > tried[0].nats_a_roll + 0.02


def test_trials_come_best_first_and_the_widest_good_one_is_used(slow):
    _, tried = slow
    assert tried[0].worse_by == tried[0].worse_by_error == 0.0
    nats = [trial.nats_a_roll for trial in tried]
    assert nats == sorted(nats)
    used = used_trial(tried)
    assert used.worse_by <= used.worse_by_error
    assert np.prod(used.bandwidths[:4]) >= np.prod(tried[0].bandwidths[:4])


def test_bandwidths_that_are_given_are_the_only_trial():
    given = Bandwidths(1.0)
    (trial,) = trials(rolled(500), given)
    assert trial.bandwidths == given


def test_blur_is_found_where_a_kernel_is_wider_than_the_waves_and_nowhere_else():
    rolls = rolled(12_000, waves_per_board=FAST)
    leave = np.searchsorted(LEAVES, rolls.standing)

    def blur_share(width_boards: float) -> float:
        bandwidths = Bandwidths(width_boards, 3.0, 6 * MPH_MPS, 3 * POUND_KG, 0.02)
        (trial,) = trials(rolls, bandwidths)
        return 1.0 / blur_rolls(rolls, leave, IMAGE, trial)

    # Strikes swing by a third of their mean spread of 0.2: two waves in a kernel leave nothing of
    # the swing, and its square is a third of the spread. Some 40,000 pairs know it to 0.005.
    assert blur_share(0.3) < 0.02
    assert 0.1 < blur_share(2.5) < 0.5
