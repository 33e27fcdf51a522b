"""The belief after some shots, without the reader's short cuts, sampled by `emcee`
([foreman-mackey-2013]).

Every shot is rolled for every belief, and so are its slopes to the slips; what was seen and how
the ball came in are one normal of seven numbers, and what was left is summed over a fine grid of
entries.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import emcee
import numpy as np
from numpy.typing import NDArray

from nextpair.carry.smoother import stand_ins
from nextpair.domain import sight
from nextpair.domain.lane import CENTRE_BOARD
from nextpair.kernel.outcome import offset_boards_at
from nextpair.reading import likelihood as model
from nextpair.reading.answers import RELEASE, SHAPES, Mark, Number, marks_at
from nextpair.reading.lane_story import LaneStory
from nextpair.reading.leaves import LEAST_CHANCE
from nextpair.reading.prior import Prior
from nextpair.reading.releases import Releases, releases_of
from nextpair.reading.seen import SPEED_ERROR_MPS, Seen

FloatArray = NDArray[np.float64]

SLIPS = 5
STEP = 0.5
"""Of slopes to slips, in their deviations."""
UNEVEN_MARKS = np.array(
    [0.0, model.UNEVEN_BREAKPOINT_BOARDS, model.UNEVEN_ENTRY_BOARDS, model.UNEVEN_ANGLE_DEG, 0.0]
)
READING = np.array(
    [
        sight.LAYDOWN_ERROR_BOARDS,
        SPEED_ERROR_MPS,
        sight.TARGET_ERROR_BOARDS,
        sight.BREAKPOINT_ERROR_BOARDS,
        sight.ENTRY_ERROR_BOARDS,
    ]
)
BAD = np.array([model.BAD_BOARDS, model.BAD_MPS, *[model.BAD_BOARDS] * 3])
ACROSS = np.linspace(-4.0, 4.0, 41)


@dataclass(frozen=True)
class Posterior:
    """The belief after shots that were all meant, and of which everything was seen; the unknowns
    at the places `free` are free, the others are as believed beforehand."""

    prior: Prior
    story: LaneStory
    seen: Seen
    free: tuple[int, ...]

    @cached_property
    def releases(self) -> Releases:
        rows = model.number_rows(self.prior, self.seen.lane)
        return releases_of(self.story, self.seen, rows @ self.prior.mean)

    @cached_property
    def kept(self) -> NDArray[np.int64]:
        """Places (n,) of what was left among the leaves of the table."""
        return stand_ins(np.array(self.story.table.leaves))[self.seen.leave]

    @cached_property
    def usual(self) -> FloatArray:
        """Chances (n,) of what was left by a shot that came in anywhere, five boards about where
        it should have."""
        planned = self.releases.planned
        place = planned[:, Mark.ENTRY, None] + model.BAD_BOARDS * ACROSS
        angle, speed = planned[:, Mark.ANGLE, None], planned[:, Mark.SPEED, None]
        offset = offset_boards_at(CENTRE_BOARD - place, angle)
        weight = np.exp(-0.5 * ACROSS**2)
        chances = self.story.table.chance_of(self.kept[:, None], offset, angle, speed)
        return np.maximum(chances @ (weight / weight.sum()), LEAST_CHANCE)

    @cached_property
    def one_shape(self) -> bool:
        """Whether the shape of the films is held, so that one film a shot will do."""
        rows = model.number_rows(self.prior, self.seen.lane)[0, :SHAPES]
        return not rows[:, list(self.free)].any()

    def __call__(self, free: FloatArray) -> FloatArray:
        """Log densities (m,) at (m, f) of the free unknowns, but for a constant."""
        unknowns = np.tile(self.prior.mean, (len(free), 1))
        unknowns[:, self.free] = free
        off = (unknowns - self.prior.mean) / self.prior.sd
        marks, slopes, speed_mps = self._rolled(unknowns)
        whole = np.zeros(len(unknowns))
        for shot in range(len(self.story)):
            whole += self._of_shot(shot, marks[shot], slopes[shot], speed_mps[shot])
        return whole - 0.5 * (off**2).sum(axis=1)

    def _rolled(self, unknowns: FloatArray) -> tuple[FloatArray, ...]:
        """Marks (n, m, 5) of likely releases, their slopes (n, m, 5, 5) to slips, and the speed
        (n, m) that was meant on the day."""
        releases = self.releases
        rows = model.number_rows(self.prior, self.seen.lane)
        numbers = np.einsum("nip,mp->nmi", rows, unknowns)
        speed_mps = numbers[..., Number.SPEED] + self.story.releases[0].speed_mps
        numbers[..., Number.LAYDOWN] += releases.own_laydown[:, None]
        numbers[..., Number.ANGLE] += releases.angle_rad[:, None]
        numbers[..., RELEASE] += releases.likely[:, None]
        step = STEP * np.sqrt(np.diagonal(releases.covariance, axis1=1, axis2=2)[0])
        batch = numbers[:, :, None].repeat(1 + 2 * SLIPS, axis=2)
        for slip in range(SLIPS):
            batch[:, :, 1 + 2 * slip, RELEASE.start + slip] += step[slip]
            batch[:, :, 2 + 2 * slip, RELEASE.start + slip] -= step[slip]
        shape = batch.shape
        if self.one_shape:
            batch = batch.reshape(shape[0], 1, -1, shape[3])
        marks = marks_at(self.story, range(shape[0]), batch).reshape(*shape[:3], len(Mark))
        slopes = (marks[:, :, 1::2] - marks[:, :, 2::2]) / (2 * step[:, None])
        return marks[:, :, 0], slopes.transpose(0, 1, 3, 2), speed_mps

    def _of_shot(
        self, shot: int, marks: FloatArray, slopes: FloatArray, speed_mps: FloatArray
    ) -> FloatArray:
        """Log likelihoods (m,) of one shot: lay-down, speed and the marks are one normal."""
        releases, seen = self.releases, self.seen
        rows = np.zeros((len(marks), 7, SLIPS))
        rows[:, 0, 0] = rows[:, 1, 2] = 1.0
        rows[:, 2:] = slopes
        slips = releases.likely[shot]
        mean = np.empty((len(marks), 7))
        mean[:, 0], mean[:, 1], mean[:, 2:] = releases.own_laydown[shot], speed_mps, marks
        mean[:, 2:] -= slopes @ slips
        spread = rows @ releases.covariance[shot] @ rows.transpose(0, 2, 1)
        spread += np.diag([0.0, 0.0, *UNEVEN_MARKS**2])
        readings = np.array(
            [getattr(seen, name)[shot] for name in
             ("laydown", "speed_mps", "target", "breakpoint", "entry")]
        )  # fmt: skip
        off = readings - mean[:, :5]
        of_readings = spread[:, :5, :5] + np.diag(READING**2)
        gain = spread[:, 4:, :5] @ np.linalg.inv(of_readings)
        entry = mean[:, 4:] + (gain @ off[..., None])[..., 0]
        left = spread[:, 4:, 4:] - gain @ spread[:, :5, 4:]
        good = _log_normal(off, of_readings) + np.log(self._left(shot, entry, left))
        bad = _log_normal(off, of_readings + np.diag(BAD**2)) + np.log(self.usual[shot])
        return np.logaddexp(good + np.log1p(-model.BAD_SHARE), bad + np.log(model.BAD_SHARE))

    def _left(self, shot: int, entry: FloatArray, spread: FloatArray) -> FloatArray:
        """Chance (m,) of what a shot left, over its entry along the place level with the head
        pin."""
        along = spread[:, :, 0] / np.sqrt(spread[:, :1, 0])
        place, angle, speed = (entry[:, None] + ACROSS[:, None] * along[:, None]).transpose(
            2, 0, 1
        )
        offset = offset_boards_at(CENTRE_BOARD - place, angle)
        weight = np.exp(-0.5 * ACROSS**2)
        chances = self.story.table.chance_of(self.kept[shot], offset, angle, speed)
        chance = chances @ (weight / weight.sum())
        return np.maximum(chance, LEAST_CHANCE)


def _log_normal(off: FloatArray, covariance: FloatArray) -> FloatArray:
    """Log densities (m,) of normals, but for a constant."""
    _, size = np.linalg.slogdet(covariance)
    squares = np.einsum("mi,mij,mj->m", off, np.linalg.inv(covariance), off)
    return np.asarray(-0.5 * (size + squares))


def sampled(posterior: Posterior, walkers: int, steps: int, seed: int) -> FloatArray:
    """Draws (s, f) of a belief, the first third of the steps left out."""
    prior, free = posterior.prior, list(posterior.free)
    rng = np.random.default_rng(seed)
    start = prior.mean[free] + prior.sd[free] * rng.normal(size=(walkers, len(free)))
    sampler = emcee.EnsembleSampler(walkers, len(free), posterior, vectorize=True)
    sampler.random_state = np.random.RandomState(seed).get_state()
    sampler.run_mcmc(start, steps)
    return np.asarray(sampler.get_chain(discard=steps // 3, flat=True))
