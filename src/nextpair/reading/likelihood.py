"""How likely what was seen is, under any belief of lanes and bowler.

Release errors are integrated out along the slopes of each shot's answers, at the release that
intention and readings suggest. A few shots in a hundred are bad in a way that nobody noted: they
say next to nothing.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.sight import (
    BREAKPOINT_ERROR_BOARDS,
    ENTRY_ERROR_BOARDS,
    LAYDOWN_ERROR_BOARDS,
    TARGET_ERROR_BOARDS,
)
from nextpair.domain.units import MPH_MPS
from nextpair.domain.unknowns import (
    CARRY_LOG,
    DRY_LOG,
    FILM_LOG,
    FLATTER_LOG,
    INSIDE_BOARDS,
    LONGER_M,
    OWN_DRY_LOG,
    OWN_FILM_LOG,
    REVS_LOG,
    ROTATION_RAD,
    SPEED_MPS,
    WEAR_LOG,
)
from nextpair.reading.answers import NUMBERS, RELEASE, UNKNOWN, Answers, Mark, Number
from nextpair.reading.lane_story import LaneStory
from nextpair.reading.leaves import Leaves
from nextpair.reading.prior import Prior
from nextpair.reading.releases import Releases, Slip
from nextpair.reading.seen import NOT_SEEN, SPEED_ERROR_MPS, UNSEEN, Seen

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

UNEVEN_BREAKPOINT_BOARDS = 0.5
UNEVEN_ENTRY_BOARDS = 0.3
UNEVEN_ANGLE_DEG = 0.3
"""What oil that lies unevenly does to a shot, beside everything that is drawn and what a lane does
to all of them (assumption: oil uneven by 6 % in patches of 4 boards by 6 ft; tested by repeats of
a robot on several lanes)."""
BAD_SHARE = 0.05
"""Shots that were bad, or read badly, without a note of it (assumption, tested by logs beside a
camera)."""
BAD_BOARDS = 5.0
BAD_MPS = 1.0 * MPH_MPS
"""How far such a shot may be off, one deviation."""
READINGS = 5
"""Lay-down, target, breakpoint, entry, speed."""
_PLACES: Mapping[Number, str] = {
    Number.WEAR: WEAR_LOG.name,
    Number.CARRY: CARRY_LOG.name,
    Number.FLATTER: FLATTER_LOG.name,
    Number.LONGER: LONGER_M.name,
    Number.DRY: DRY_LOG.name,
    Number.FILM: FILM_LOG.name,
    Number.SPEED: SPEED_MPS.name,
    Number.REVS: REVS_LOG.name,
    Number.ROTATION: ROTATION_RAD.name,
}
_OWN = {Number.DRY: OWN_DRY_LOG, Number.FILM: OWN_FILM_LOG}


def number_rows(prior: Prior, lanes: IntArray) -> FloatArray:
    """Matrices (n, 11, p) that turn the p unknowns into the numbers of n shots on some lanes."""
    rows = np.zeros((len(lanes), NUMBERS, len(prior)))
    for number, name in _PLACES.items():
        rows[:, number, prior.place(name)] = 1.0
    for shot, lane in enumerate(lanes.tolist()):
        for number, own in _OWN.items():
            rows[shot, number, prior.place(own.on(lane))] = 1.0
    return rows


def inside_rows(prior: Prior, lanes: IntArray) -> FloatArray:
    """Matrix (n, p) from the p unknowns to the boards by which n shots arrive farther inside
    than they are rolled, each on its lane."""
    rows = np.zeros((len(lanes), len(prior)))
    for shot, lane in enumerate(lanes.tolist()):
        rows[shot, prior.place(INSIDE_BOARDS.on(lane))] = 1.0
    return rows


@dataclass(frozen=True, slots=True)
class Judged:
    """What m draws of the unknowns make of n shots.

    log_likelihood : (m, n). bad_probability : (m, n) that a shot was bad or badly read.
    entry, breakpoint : (m, n) own boards of the line that was meant.
    came_in : (m, n) own board level with the head pin where the shot most likely came in.
    """

    log_likelihood: FloatArray
    bad_probability: FloatArray
    entry: FloatArray
    breakpoint: FloatArray
    came_in: FloatArray


class Likelihood:
    """The likelihood of n shots as a function of the p unknowns.

    releases : of the shots. told : (p,) unknowns that the shots depend on.
    """

    def __init__(
        self, prior: Prior, story: LaneStory, seen: Seen, releases: Releases, answers: Answers
    ) -> None:
        self.releases = releases
        self._prior = prior
        self._answers = answers
        rows = number_rows(prior, seen.lane)[:, UNKNOWN]
        self.told = np.asarray(rows.any(axis=(0, 1)))
        self._on_lane = tuple(
            (np.flatnonzero(seen.lane == lane), rows[np.argmax(seen.lane == lane)])
            for lane in np.unique(seen.lane)
        )
        self._inside = inside_rows(prior, seen.lane)
        slopes = answers.slopes[:, :, RELEASE]
        self._back = np.einsum("nme,ne->nm", slopes, releases.likely)
        self._bent = 0.5 * np.einsum(
            "nmef,ne,nf->nm", answers.bends, releases.likely, releases.likely
        )
        self._speed = rows[:, np.flatnonzero(UNKNOWN == Number.SPEED)[0]]
        self._meant_mps = np.array([release.speed_mps for release in story.releases])
        self._own_laydown = releases.own_laydown
        self._readings = _readings(seen, releases)
        seen_slopes = np.zeros((len(story), READINGS, len(Slip)))
        seen_slopes[:, 0, Slip.LAYDOWN] = seen_slopes[:, 4, Slip.SPEED] = 1.0
        seen_slopes[:, 1:4] = slopes[:, Mark.TARGET : Mark.ENTRY + 1]
        reading, uneven, bad = _variances(self._readings, answers)
        spread = seen_slopes @ releases.covariance @ seen_slopes.transpose(0, 2, 1)
        spread += (reading + uneven)[:, :, None] * np.eye(READINGS)
        self._good = _Normal(spread)
        self._bad = _Normal(spread + np.diag(bad))
        self._entries = _Entries(slopes, seen_slopes, releases.covariance, answers, self._good)
        leave = np.where(releases.known, seen.leave, NOT_SEEN)
        self._leaves = Leaves(
            story.table, leave, releases.planned, self._entries.across, BAD_BOARDS
        )

    def of(self, unknowns: FloatArray) -> FloatArray:
        """Log likelihood (m,) of all shots under draws (m, p) of the unknowns."""
        return np.asarray(self.judged(unknowns).log_likelihood.sum(axis=1))

    def judged(self, unknowns: FloatArray) -> Judged:
        """What draws (m, p) of the unknowns make of every shot."""
        # Back along the slopes to the line that was meant: slips are integrated from there.
        meant = self._marks(unknowns) - self._back
        expected = np.empty((*meant.shape[:2], READINGS))
        expected[..., 0] = self._own_laydown
        expected[..., 1:4] = meant[..., Mark.TARGET : Mark.ENTRY + 1]
        expected[..., 4] = self._meant_mps + unknowns @ self._speed.T
        off = np.where(np.isnan(self._readings), 0.0, self._readings - expected)
        entries = self._entries.means(meant, off)
        good = self._good.log_density(off) + np.log1p(-BAD_SHARE)
        good[:, self._leaves.shots] += np.log(self._leaves.chance(entries))
        bad = self._bad.log_density(off) + np.log(BAD_SHARE)
        bad[:, self._leaves.shots] += np.log(self._leaves.usual)
        both = np.logaddexp(good, bad)
        line = meant + self._bent
        return Judged(
            log_likelihood=both,
            bad_probability=np.exp(bad - both),
            entry=line[..., Mark.ENTRY],
            breakpoint=line[..., Mark.BREAKPOINT],
            came_in=entries[..., 0],
        )

    def _marks(self, unknowns: FloatArray) -> FloatArray:
        """Marks (m, n, len(Mark)) of the likely releases."""
        marks = np.empty((len(unknowns), len(self._own_laydown), len(Mark)))
        for shots, rows in self._on_lane:
            changes = (unknowns - self._prior.mean) @ rows.T
            marks[:, shots] = self._answers.marks(changes, shots)
        marks[..., Mark.ENTRY] += unknowns @ self._inside.T
        return marks


def _readings(seen: Seen, releases: Releases) -> FloatArray:
    """What was seen (n, READINGS); NaN where it was not, or where the line was taken from it."""
    return np.stack(
        (
            np.where(releases.laydown_read, seen.laydown, np.nan),
            np.where(releases.target_read, seen.target, np.nan),
            np.where(releases.known, seen.breakpoint, np.nan),
            np.where(releases.known, seen.entry, np.nan),
            seen.speed_mps,
        ),
        axis=1,
    )


def _variances(
    readings: FloatArray, answers: Answers
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Variances of reading (n, READINGS), of uneven oil with what the answers miss (n, READINGS),
    and what a bad shot adds (READINGS,)."""
    reading = np.array(
        [
            LAYDOWN_ERROR_BOARDS,
            TARGET_ERROR_BOARDS,
            BREAKPOINT_ERROR_BOARDS,
            ENTRY_ERROR_BOARDS,
            SPEED_ERROR_MPS,
        ]
    )
    uneven = np.zeros_like(readings)
    uneven[:, 1:4] = answers.missed[:, Mark.TARGET : Mark.ENTRY + 1]
    uneven[:, 2] += UNEVEN_BREAKPOINT_BOARDS**2
    uneven[:, 3] += UNEVEN_ENTRY_BOARDS**2
    bad = np.array([BAD_BOARDS] * (READINGS - 1) + [BAD_MPS])
    return np.where(np.isnan(readings), UNSEEN, reading**2), uneven, bad**2


class _Normal:
    """Normal densities of n shots with covariances (n, k, k)."""

    def __init__(self, covariance: FloatArray) -> None:
        root = np.linalg.cholesky(covariance)
        self.inverse = np.linalg.inv(covariance)
        self._inverse_root = np.linalg.inv(root)
        self._log_scale = -np.log(np.diagonal(root, axis1=1, axis2=2)).sum(axis=1)

    def log_density(self, off: FloatArray) -> FloatArray:
        """Log density (m, n) at distances (m, n, k) from the means, but for a constant.

        Source: closed form.
        """
        scaled = np.matmul(off.transpose(1, 0, 2), self._inverse_root.transpose(0, 2, 1))
        return np.asarray((self._log_scale[:, None] - 0.5 * (scaled**2).sum(axis=2)).T)


class _Entries:
    """How each shot comes in, given what was seen of it: place level with the head pin, angle and
    speed, normal about a mean that moves with what was seen."""

    def __init__(
        self,
        slopes: FloatArray,
        seen_slopes: FloatArray,
        covariance: FloatArray,
        answers: Answers,
        readings: _Normal,
    ) -> None:
        own = slopes[:, Mark.ENTRY :]
        uneven = answers.missed[:, Mark.ENTRY :] + np.array(
            [UNEVEN_ENTRY_BOARDS**2, UNEVEN_ANGLE_DEG**2, 0.0]
        )
        shared = own @ covariance @ seen_slopes.transpose(0, 2, 1)
        shared[:, 0, 3] += uneven[:, 0]
        self._gain = shared @ readings.inverse
        left = own @ covariance @ own.transpose(0, 2, 1) + uneven[:, :, None] * np.eye(3)
        left -= self._gain @ shared.transpose(0, 2, 1)
        self.across = left[:, :, 0] / np.sqrt(left[:, :1, 0])

    def means(self, meant: FloatArray, off: FloatArray) -> FloatArray:
        """Entries (m, n, 3) of own board, angle [deg] and speed [m/s], from marks (m, n,
        len(Mark)) of the meant lines and distances (m, n, READINGS) of what was seen from them."""
        moved = np.matmul(self._gain, off.transpose(1, 2, 0)).transpose(2, 0, 1)
        return np.asarray(meant[..., Mark.ENTRY :] + moved)
