"""A bowler's usual release and scatter, learned from event to event."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.bowler import Release, Scatter
from nextpair.domain.lane import BOARDS_PER_RAD
from nextpair.domain.sight import LAYDOWN_ERROR_BOARDS, TARGET_ERROR_BOARDS
from nextpair.domain.unknowns import REVS_LOG, ROTATION_RAD, SPEED_MPS
from nextpair.reading.lasting import lasting
from nextpair.reading.likelihood import BAD_BOARDS, BAD_MPS, BAD_SHARE
from nextpair.reading.seen import SPEED_ERROR_MPS, Seen
from nextpair.reading.update import Reading

FloatArray = NDArray[np.float64]

SCATTER_LOG = 0.3
"""One deviation of the logarithm of a bowler's scatter about the one in the file (assumption,
tested by the same logs)."""
FACTORS_LOG: FloatArray = np.linspace(-1.2, 1.2, 49)
"""Logarithms of factors on the scatter that are tried."""


def learned_release(release: Release, readings: Sequence[Reading]) -> Release:
    """The usual release after some events, from the one that their logs were read with.

    Source: closed form, see `reading.lasting`.
    """
    speed, revs, rotation = (
        lasting(name, (reading.learned(name) for reading in readings)).mean
        for name in (SPEED_MPS.name, REVS_LOG.name, ROTATION_RAD.name)
    )
    return replace(
        release,
        speed_mps=release.speed_mps + speed,
        rev_rate_radps=release.rev_rate_radps * float(np.exp(revs)),
        axis_rotation_rad=release.axis_rotation_rad + rotation,
    )


def learned_scatter(
    scatter: Scatter, shots: Iterable[Seen], meant_mps: float, speeds_off_mps: Sequence[float] = ()
) -> Scatter:
    """A bowler's scatter after the logs of some events.

    shots : those of each event. meant_mps : speed at the release that was meant.
    speeds_off_mps : how much faster than that each day was, in the same order; none given: not at
    all. Only shots whose line was meant tell of lay-down and angle, only measured ones of speed;
    what nobody saw stays as it is.
    """
    across, speeds = [], []
    days = list(shots)
    for day, off_mps in zip(days, speeds_off_mps or [0.0] * len(days), strict=True):
        across.append(
            np.stack((day.laydown - day.meant_laydown, day.target - day.meant_target), axis=1)
        )
        speeds.append(day.speed_mps - meant_mps - off_mps)
    laydown, angle = _line_factors(scatter, _complete(across, 2))
    speed = _speed_factor(scatter, _complete([s[:, None] for s in speeds], 1)[:, 0])
    return replace(
        scatter,
        laydown_boards=laydown * scatter.laydown_boards,
        launch_angle_rad=angle * scatter.launch_angle_rad,
        speed_mps=speed * scatter.speed_mps,
    )


def _complete(parts: Sequence[FloatArray], columns: int) -> FloatArray:
    """Rows of several arrays (n, columns) in which everything was seen."""
    rows = np.concatenate([np.empty((0, columns)), *parts])
    return np.asarray(rows[~np.isnan(rows).any(axis=1)])


def _line_factors(scatter: Scatter, off: FloatArray) -> tuple[float, float]:
    """Factors on the scatter of lay-down and of launch angle, from how far shots (n, 2) were seen
    to be off at the foul line and at the arrows."""
    laydown, angle = np.meshgrid(FACTORS_LOG, FACTORS_LOG, indexing="ij")
    v_laydown = (np.exp(laydown) * scatter.laydown_boards) ** 2
    v_arrows = v_laydown + (np.exp(angle) * scatter.launch_angle_rad * BOARDS_PER_RAD) ** 2
    log = -0.5 * (laydown**2 + angle**2) / SCATTER_LOG**2
    for first, second in off:
        log += _log_mixed(
            [_log_pair(first, second, v_laydown, v_arrows, bad**2) for bad in (0.0, BAD_BOARDS)]
        )
    weight = np.exp(log - log.max())
    weight /= weight.sum()
    return float((weight * np.exp(laydown)).sum()), float((weight * np.exp(angle)).sum())


def _log_pair(
    first: float, second: float, v_laydown: FloatArray, v_arrows: FloatArray, more: float
) -> FloatArray:
    """Log density of two readings that share the lay-down, but for a constant.

    Source: closed form, normal of two.
    """
    a = v_laydown + LAYDOWN_ERROR_BOARDS**2 + more
    b = v_arrows + TARGET_ERROR_BOARDS**2 + more
    size = a * b - v_laydown**2
    squares = (b * first**2 - 2 * v_laydown * first * second + a * second**2) / size
    return np.asarray(-0.5 * (np.log(size) + squares))


def _speed_factor(scatter: Scatter, off_mps: FloatArray) -> float:
    """Factor on the scatter of speed, from how far shots (n,) were measured to be off."""
    own = (np.exp(FACTORS_LOG) * scatter.speed_mps) ** 2 + SPEED_ERROR_MPS**2
    log = -0.5 * FACTORS_LOG**2 / SCATTER_LOG**2
    for one in off_mps:
        log += _log_mixed([-0.5 * (np.log(v) + one**2 / v) for v in (own, own + BAD_MPS**2)])
    weight = np.exp(log - log.max())
    return float((weight * np.exp(FACTORS_LOG)).sum() / weight.sum())


def _log_mixed(good_and_bad: Sequence[FloatArray]) -> FloatArray:
    """Log density of a shot that may be bad without a note of it."""
    good, bad = good_and_bad
    return np.asarray(np.logaddexp(good + np.log1p(-BAD_SHARE), bad + np.log(BAD_SHARE)))
