"""Where each shot really was laid down and sent, as far as intention and readings tell."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.bowler import Scatter
from nextpair.domain.lane import BOARDS_PER_RAD
from nextpair.domain.sight import LAYDOWN_ERROR_BOARDS, TARGET_ERROR_BOARDS
from nextpair.reading.answers import Mark, Number, marks_at
from nextpair.reading.lane_story import LaneStory
from nextpair.reading.seen import SPEED_ERROR_MPS, UNSEEN, Seen

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

AIMING_ROUNDS = 2
"""Times that an angle is put right by where it crosses the arrows: the ball hardly bends there."""


class Slip(IntEnum):
    """What a release may differ in from what was meant: own boards, rad, m/s, log, rad."""

    LAYDOWN = 0
    ANGLE = 1
    SPEED = 2
    REVS = 3
    ROTATION = 4


@dataclass(frozen=True, slots=True)
class Releases:
    """n releases as one may believe them before looking at the lane.

    known : (n,) whether lay-down and target were meant or seen, and the shot can be rolled; the
        others tell nothing.
    own_laydown, angle_rad : (n,) of the line that was meant, or seen where nobody said.
    planned : (n, len(Mark)) marks of that line, everything as believed beforehand.
    covariance : (n, 5, 5) of the slips from it. likely : (n, 5) slips that the readings suggest.
    laydown_read, target_read : (n,) whether a reading there is news.
    """

    known: BoolArray
    own_laydown: FloatArray
    angle_rad: FloatArray
    planned: FloatArray
    covariance: FloatArray
    likely: FloatArray
    laydown_read: BoolArray
    target_read: BoolArray

    def numbers(self, unknown: FloatArray) -> FloatArray:
        """Numbers (n, 11) of the meant lines, from changes (n, 11) of everything."""
        found = unknown.copy()
        found[:, Number.LAYDOWN] += self.own_laydown
        found[:, Number.ANGLE] += self.angle_rad
        return found


def releases_of(story: LaneStory, seen: Seen, unknown: FloatArray) -> Releases:
    """Releases of n shots, with the lanes as `unknown` (n, 11) has them beforehand.

    Where nobody said what was meant, the line is the one that was seen, as well as people see.
    """
    laydown_meant, target_meant = ~np.isnan(seen.meant_laydown), ~np.isnan(seen.meant_target)
    own_laydown = np.where(laydown_meant, seen.meant_laydown, seen.laydown)
    own_target = np.where(target_meant, seen.meant_target, seen.target)
    known = ~np.isnan(own_laydown + own_target)
    own_laydown, own_target = np.where(known, (own_laydown, own_target), 20.0)
    angle_rad, planned = _aimed(story, unknown, own_laydown, own_target)
    known &= np.isfinite(planned).all(axis=1)
    covariance = _covariance(story, laydown_meant, target_meant)
    laydown_read = known & laydown_meant & ~np.isnan(seen.laydown)
    target_read = known & target_meant & ~np.isnan(seen.target)
    releases = Releases(
        known=known,
        own_laydown=own_laydown,
        angle_rad=angle_rad,
        planned=planned,
        covariance=covariance,
        likely=np.zeros((len(story), len(Slip))),
        laydown_read=laydown_read,
        target_read=target_read,
    )
    return _with_likely(releases, story, seen)


def _aimed(
    story: LaneStory, unknown: FloatArray, own_laydown: FloatArray, own_target: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Launch angles (n,) that go from lay-downs over targets, and the marks of these lines."""
    numbers = unknown.copy()
    numbers[:, Number.LAYDOWN] += own_laydown
    numbers[:, Number.ANGLE] += (own_laydown - own_target) / BOARDS_PER_RAD
    marks = np.empty((len(story), len(Mark)))
    for left in reversed(range(AIMING_ROUNDS + 1)):
        marks = marks_at(story, range(len(story)), numbers[:, None, None])[:, 0, 0]
        if left:
            numbers[:, Number.ANGLE] += (marks[:, Mark.TARGET] - own_target) / BOARDS_PER_RAD
    return numbers[:, Number.ANGLE] - unknown[:, Number.ANGLE], marks


def _covariance(story: LaneStory, laydown_meant: BoolArray, target_meant: BoolArray) -> FloatArray:
    """Covariance (n, 5, 5) of the slips: a bowler's scatter about what was meant, or what reading
    errors leave open where the line is the one that was seen.

    Source: closed form: an angle taken from two readings shares the lay-down's error.
    """
    scatter: Scatter = story.scatter
    covariance = np.zeros((len(story), len(Slip), len(Slip)))
    laydown = np.where(laydown_meant, scatter.laydown_boards, LAYDOWN_ERROR_BOARDS) ** 2
    shared = np.where(target_meant, 0.0, laydown / BOARDS_PER_RAD)
    angle = (laydown + TARGET_ERROR_BOARDS**2) / BOARDS_PER_RAD**2
    covariance[:, Slip.LAYDOWN, Slip.LAYDOWN] = laydown
    covariance[:, Slip.LAYDOWN, Slip.ANGLE] = covariance[:, Slip.ANGLE, Slip.LAYDOWN] = shared
    covariance[:, Slip.ANGLE, Slip.ANGLE] = np.where(
        target_meant, scatter.launch_angle_rad**2, angle
    )
    covariance[:, Slip.SPEED, Slip.SPEED] = scatter.speed_mps**2
    revs = np.array([release.rev_rate_radps for release in story.releases])
    covariance[:, Slip.REVS, Slip.REVS] = (scatter.rev_rate_radps / np.maximum(revs, 1.0)) ** 2
    covariance[:, Slip.ROTATION, Slip.ROTATION] = scatter.axis_rotation_rad**2
    # A bowler without any scatter is one whose scatter nobody can see.
    covariance += np.diag([1e-2, 1e-4, 1e-2, 1e-3, 1e-3]) ** 2
    return covariance


def _with_likely(releases: Releases, story: LaneStory, seen: Seen) -> Releases:
    """Slips (n, 5) that the readings in front suggest, by the normal rule.

    Source: closed form, mean of a normal given another.
    """
    rows = np.zeros((len(story), 3, len(Slip)))
    rows[:, 0, Slip.LAYDOWN] = rows[:, 1, Slip.LAYDOWN] = rows[:, 2, Slip.SPEED] = 1.0
    rows[:, 1, Slip.ANGLE] = -BOARDS_PER_RAD
    meant_mps = np.array([release.speed_mps for release in story.releases])
    off = np.stack(
        (
            np.where(releases.laydown_read, seen.laydown - releases.own_laydown, np.nan),
            np.where(releases.target_read, seen.target - releases.planned[:, Mark.TARGET], np.nan),
            seen.speed_mps - meant_mps,
        ),
        axis=1,
    )
    reading = np.array([LAYDOWN_ERROR_BOARDS, TARGET_ERROR_BOARDS, SPEED_ERROR_MPS]) ** 2
    spread = rows @ releases.covariance @ rows.transpose(0, 2, 1)
    spread += np.where(np.isnan(off), UNSEEN, reading)[:, :, None] * np.eye(3)
    gain = releases.covariance @ rows.transpose(0, 2, 1) @ np.linalg.inv(spread)
    likely = (gain @ np.nan_to_num(off)[:, :, None])[:, :, 0]
    return replace(releases, likely=likely)
