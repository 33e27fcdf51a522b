"""Draws from a belief, by particles that take in what was seen little by little."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
LogLikelihood = Callable[[FloatArray], FloatArray]

KEPT_SHARE = 0.5
"""Effective share of the particles that one round may leave."""
MOVES = 4
"""Moves of every particle after a round."""
LAST_MOVES = 8
LONGEST_STEP = 0.7
"""Of a move, as a share of the particles' own spread."""
MOST_ROUNDS = 60
HELD_OPEN = 0.05
"""Least deviation of a move, of that before any shot."""


def tempered(
    mean: FloatArray,
    sd: FloatArray,
    log_likelihood: LogLikelihood,
    rng: np.random.Generator,
    draws: int,
) -> FloatArray:
    """Draws (draws, p), equally likely, of a belief: independent normals of that mean and
    deviation (p,) before, and a log likelihood of (m, p) as (m,).

    The likelihood's exponent grows from 0 to 1, as fast as half of the particles stay effective;
    after each step they are drawn anew by weight and moved so that the belief stays as it is.

    Source: [delmoral-2006] tempered sequential Monte Carlo; [neal-1998] moves that
    leave a normal belief as it is, about the particles' own mean.
    """
    particles = rng.normal(size=(draws, len(mean)))

    def of(scaled: FloatArray) -> FloatArray:
        return log_likelihood(mean + sd * scaled)

    likely = of(particles)
    exponent = 0.0
    for _ in range(MOST_ROUNDS):
        step = _step(likely, 1.0 - exponent)
        exponent = min(exponent + step, 1.0)
        chosen = _drawn(step * likely, rng)
        particles, likely = particles[chosen], likely[chosen]
        moves = LAST_MOVES if exponent >= 1.0 else MOVES
        particles, likely = _moved(of, rng, particles, likely, exponent, moves)
        if exponent >= 1.0:
            break
    return np.asarray(mean + sd * particles)


def _step(likely: FloatArray, left: float) -> float:
    """How far the exponent may grow."""
    if _kept(left * likely) >= KEPT_SHARE:
        return left
    low, high = 0.0, left
    for _ in range(40):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if _kept(middle * likely) >= KEPT_SHARE else (low, middle)
    return high


def _kept(log_weight: FloatArray) -> float:
    """Effective share of particles with such weights."""
    weight = np.exp(log_weight - log_weight.max())
    return float(weight.sum() ** 2 / (weight**2).sum() / len(weight))


def _drawn(log_weight: FloatArray, rng: np.random.Generator) -> NDArray[np.int64]:
    """Places of particles drawn by weight, evenly."""
    weight = np.exp(log_weight - log_weight.max())
    along = np.cumsum(weight) / weight.sum()
    at = (rng.random() + np.arange(len(weight))) / len(weight)
    return np.minimum(np.searchsorted(along, at), len(weight) - 1)


def _moved(
    log_likelihood: LogLikelihood,
    rng: np.random.Generator,
    particles: FloatArray,
    likely: FloatArray,
    exponent: float,
    moves: int,
) -> tuple[FloatArray, FloatArray]:
    """Particles, in deviations from what was believed before, moved so many times, and their log
    likelihoods.

    Halves move about the mean and spread of the other half, so that no move depends on where it
    starts.
    """
    halves = np.array_split(rng.permutation(len(particles)), 2)
    particles, likely = particles.copy(), likely.copy()
    length = LONGEST_STEP
    for _ in range(moves):
        accepted = []
        for half, other in (halves, halves[::-1]):
            mean = particles[other].mean(axis=0)
            root = np.linalg.cholesky(_covariance(particles[other]))
            inverse = np.linalg.inv(root)
            at = particles[half]
            off = (at - mean) @ inverse.T
            noise = rng.normal(size=off.shape)
            stepped = np.sqrt(1 - length**2) * off + length * noise
            there = mean + stepped @ root.T
            found = log_likelihood(there)
            gain = exponent * (found - likely[half])
            gain += 0.5 * ((at**2).sum(axis=1) - (there**2).sum(axis=1))
            gain += 0.5 * ((stepped**2).sum(axis=1) - (off**2).sum(axis=1))
            taken = np.log(rng.random(len(half))) < gain
            particles[half[taken]], likely[half[taken]] = there[taken], found[taken]
            accepted.append(taken.mean())
        length = float(np.clip(length * np.exp(np.mean(accepted) - 0.4), 0.1, 0.98))
    return particles, likely


def _covariance(particles: FloatArray) -> FloatArray:
    """Covariance (p, p) of particles, held open by a little of what was believed before."""
    covariance = np.atleast_2d(np.cov(particles.T))
    return np.asarray(covariance + HELD_OPEN**2 * np.eye(particles.shape[1]))
