"""Rolls whose chances are known: leaves drawn from a formula, mirrored as real ones are."""

from __future__ import annotations

import numpy as np
from scipy.special import softmax

from nextpair.carry.rolls import Rolls
from nextpair.domain.units import MPH_MPS, POUND_KG
from nextpair.scoring.leaves import FULL_RACK, parse_leave

LEAVES = np.array([0, parse_leave("7"), parse_leave("10"), parse_leave("4-6-7-10"), FULL_RACK])
WIDEST_BOARDS = 6.0


def chances(rolls: Rolls, waves_per_board: float = 0.12):
    """Chance of each of LEAVES (n, 5): strikes come and go over the offset, more of them with
    speed; the corner pins trade places in a mirror."""
    level = rolls.offset_boards - 0.02 * np.abs(rolls.offset_boards) * rolls.angle_deg
    phase = 2 * np.pi * waves_per_board * level
    faster = (rolls.speed_mps - 7.5) / 1.5
    side = np.sin(0.5 * phase) + 0.1 * rolls.angle_deg
    strike = 1.0 + 1.5 * np.cos(phase) + 0.4 * faster
    middle = np.full_like(phase, -0.5)
    return softmax(np.stack([strike, -side, side, middle, middle - 1.0], axis=-1), axis=-1)


def impacts(count: int, seed: int) -> Rolls:
    """Rolls drawn evenly over the design, nothing standing yet."""
    rng = np.random.default_rng(seed)
    return Rolls(
        offset_boards=rng.uniform(-WIDEST_BOARDS, WIDEST_BOARDS, count),
        angle_deg=rng.uniform(0.0, 9.0, count),
        speed_mps=rng.uniform(13.0, 20.0, count) * MPH_MPS,
        ball_kg=rng.uniform(12.0, 16.0, count) * POUND_KG,
        roll_share=rng.uniform(0.75, 1.0, count),
        side_rotation_radps=rng.uniform(0.0, 12.0, count),
        spotted=np.full(count, FULL_RACK, np.uint16),
        standing=np.zeros(count, np.uint16),
        exit_x_m=np.full(count, np.nan),
    )


def rolled(count: int, seed: int = 1, **field: float) -> Rolls:
    """The same with leaves drawn from the field."""
    rolls = impacts(count, seed)
    draw = np.random.default_rng([seed, 1]).random((count, 1))
    left = (np.cumsum(chances(rolls, **field), axis=1) < draw).sum(axis=1)
    return rolls._replace(standing=LEAVES[left].astype(np.uint16))
