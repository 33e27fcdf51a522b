"""Effects of hands, pairs and squads: the mixed model's closed form, coverage, and no claims from
noise."""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.tournament.effects import EFFECT_SD_PINS, UNKNOWN, Grouping, effects_of

GAME_SD, BOWLER_SD = 27.0, 14.0
NAN = float("nan")


def pairs_of(bowlers: int, games: int, pairs: int) -> Grouping:
    """Everybody moves one pair on after each game."""
    groups = (np.arange(bowlers)[:, None] + np.arange(games)) % pairs
    return Grouping(groups, pairs)


def field_of(rng, grouping: Grouping, effects: np.ndarray) -> np.ndarray:
    n, games = grouping.groups.shape
    levels = rng.normal(200, BOWLER_SD, (n, 1))
    return levels + effects[grouping.groups] + rng.normal(0, GAME_SD, (n, games))


def test_the_equations_are_those_of_the_whole_normal_distribution():
    """Against the mean and covariance of effects given pins, with the bowlers in one large
    covariance matrix."""
    rng = np.random.default_rng(4)
    grouping = pairs_of(7, 4, 3)
    grouping.groups[2, 1] = UNKNOWN
    pins = field_of(rng, pairs_of(7, 4, 3), np.array([4.0, -3.0, 0.0]))
    pins[5, 2:] = NAN
    rows = [(b, g) for b in range(7) for g in range(4) if not np.isnan(pins[b, g])]
    z = np.array([[float(grouping.groups[row] == one) for one in range(3)] for row in rows])
    same = np.array([[float(a[0] == b[0]) for b in rows] for a in rows])
    flat = 1e8  # the field's mean may be anything
    v = GAME_SD**2 * np.eye(len(rows)) + BOWLER_SD**2 * same + EFFECT_SD_PINS**2 * z @ z.T + flat
    y = np.array([pins[row] for row in rows])
    known = EFFECT_SD_PINS**2 * z.T @ np.linalg.inv(v)
    mean, doubt = known @ y, EFFECT_SD_PINS**2 * (np.eye(3) - known @ z)
    off = np.eye(3) - z.sum(axis=0) / z.sum()
    (found,) = effects_of(pins, [grouping], GAME_SD, BOWLER_SD)
    assert found.pins == pytest.approx(off @ mean, abs=1e-3)
    assert found.sd_pins == pytest.approx(np.sqrt(np.diag(off @ doubt @ off.T)), abs=1e-3)


def test_intervals_hold_what_they_promise():
    rng, held, told = np.random.default_rng(8), 0, 0
    grouping = pairs_of(28, 6, 7)
    for _ in range(300):
        true = rng.normal(0, EFFECT_SD_PINS, 7)
        (found,) = effects_of(field_of(rng, grouping, true), [grouping], GAME_SD, BOWLER_SD)
        held += np.sum(np.abs(found.pins - (true - true.mean())) <= 1.2816 * found.sd_pins)
        told += 7
    assert held / told == pytest.approx(0.8, abs=4 * 0.4 / told**0.5)


def test_noise_is_drawn_toward_nothing_and_seldom_two_deviations_off():
    rng, far = np.random.default_rng(9), 0
    grouping = pairs_of(28, 6, 7)
    for _ in range(300):
        (found,) = effects_of(field_of(rng, grouping, np.zeros(7)), [grouping], GAME_SD, BOWLER_SD)
        far += int(np.any(np.abs(found.pins) > 2 * found.sd_pins))
    assert far / 300 < 0.06


def test_what_a_pair_really_takes_is_found_whoever_bowls_on_it():
    rng = np.random.default_rng(10)
    grouping = pairs_of(84, 6, 7)
    true = np.array([-15.0, 0, 0, 0, 0, 0, 15.0])
    (found,) = effects_of(field_of(rng, grouping, true), [grouping], GAME_SD, BOWLER_SD)
    assert found.pins[[0, 6]] == pytest.approx([-13, 13], abs=4)
    assert np.all(np.abs(found.pins[1:6]) < 6)
