"""Many shots at once: arrays in, arrays out, for programs that use nextpair as a library.

Trade units and boards from the right edge, as in every file.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from nextpair.domain.ball import Ball
from nextpair.domain.bowler import Bowler, Hand
from nextpair.domain.errors import InvalidValueError, require
from nextpair.domain.event import DressedLane
from nextpair.domain.units import DEGREE_RAD, INCH_M, MPH_MPS, RPM_RADPS
from nextpair.kernel.layout import Shots, bodies_of, own_frame
from nextpair.kernel.roll import Paths, roll
from nextpair.physics.dressing import film_of
from nextpair.planning.throws import lane_kind, own_x_m

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Releases:
    """What leaves the hand, n times: each field n numbers, or one for all.

    `launch_angle_deg` is positive toward the gutter on the bowler's own side.
    """

    hand: Hand
    laydown_board: ArrayLike
    launch_angle_deg: ArrayLike
    speed_mph: ArrayLike
    rev_rate_rpm: ArrayLike
    axis_rotation_deg: ArrayLike
    axis_tilt_deg: ArrayLike
    loft_in: ArrayLike = 0.0

    @classmethod
    def by(
        cls,
        bowler: Bowler,
        laydown_board: ArrayLike,
        launch_angle_deg: ArrayLike,
        speed_change_mph: ArrayLike = 0.0,
    ) -> Releases:
        """A bowler's own release from other boards, at other angles and speeds."""
        release = bowler.release
        return cls(
            hand=bowler.hand,
            laydown_board=laydown_board,
            launch_angle_deg=launch_angle_deg,
            speed_mph=release.speed_mps / MPH_MPS + np.asarray(speed_change_mph, float),
            rev_rate_rpm=release.rev_rate_radps / RPM_RADPS,
            axis_rotation_deg=release.axis_rotation_rad / DEGREE_RAD,
            axis_tilt_deg=release.axis_tilt_rad / DEGREE_RAD,
            loft_in=release.loft_m / INCH_M,
        )


def roll_releases(lane: DressedLane, balls: Ball | Sequence[Ball], releases: Releases) -> Paths:
    """Roll n shots on one lane as dressed; one ball for all of them, or one for each.

    Returns the kernel's Paths, in the bowler's frame: one status a shot, and `impact`. A shot
    that cannot be rolled gets a status, never an error; InvalidValueError is raised where the
    fields are not of one length.
    """
    rack = [balls] if isinstance(balls, Ball) else list(balls)
    require(bool(rack), "balls", rack, "at least one ball")
    hand = Hand(releases.hand)
    kind = lane_kind(lane, hand)
    x, angle, speed, revs, rotation, tilt, loft, body = _columns(releases, hand, len(rack))
    film = np.ascontiguousarray(own_frame(film_of(lane.pattern), hand))
    shots = Shots(
        x_m=x,
        launch_angle_rad=angle,
        speed_mps=speed,
        rev_rate_radps=revs,
        axis_rotation_rad=rotation,
        axis_tilt_rad=tilt,
        loft_m=loft,
        body=body.astype(np.int64),
        film=np.zeros(len(x), np.int64),
        dry_factor=np.full(len(x), kind.friction),
        film_factor=np.ones(len(x)),
    )
    return roll(kind.under(film), bodies_of(rack, lane.house), shots)


def _columns(releases: Releases, hand: Hand, balls: int) -> list[FloatArray]:
    """Lay-down [m], angle, speed, revs, rotation, tilt and loft in SI, and ball, each (n,)."""
    columns = (
        hand.sign * own_x_m(releases.laydown_board),
        np.asarray(releases.launch_angle_deg, float) * DEGREE_RAD,
        np.asarray(releases.speed_mph, float) * MPH_MPS,
        np.asarray(releases.rev_rate_rpm, float) * RPM_RADPS,
        np.asarray(releases.axis_rotation_deg, float) * DEGREE_RAD,
        np.asarray(releases.axis_tilt_deg, float) * DEGREE_RAD,
        np.asarray(releases.loft_in, float) * INCH_M,
        np.arange(balls) if balls > 1 else np.zeros(1),
    )
    lengths = [np.size(column) for column in columns]
    try:
        return [
            np.ascontiguousarray(column, float)
            for column in np.broadcast_arrays(*(np.atleast_1d(column) for column in columns))
        ]
    except ValueError:
        allowed = "the same number of shots for every field and ball, or one for all"
        raise InvalidValueError("releases", lengths, allowed) from None
