"""Many shots at once: arrays in, arrays out, for programs that use nextpair as a library.

Trade units and boards from the right edge, as in every file.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import Any, TypeVar

import numpy as np
from numpy.typing import ArrayLike

from nextpair.domain.ball import Ball
from nextpair.domain.bowler import Bowler, Hand
from nextpair.domain.errors import InvalidValueError, require
from nextpair.domain.event import DressedLane
from nextpair.domain.house import House
from nextpair.domain.lane import BOARDS, CELLS
from nextpair.domain.units import DEGREE_RAD, INCH_M, MPH_MPS, RPM_RADPS
from nextpair.kernel.layout import Bodies, IntArray, Lanes, Shots, bodies_of, own_frame
from nextpair.kernel.roll import Paths, roll
from nextpair.kernel.throws import LaneKind, lane_kind, own_x_m
from nextpair.physics.dressing import film_of

T = TypeVar("T")


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


def roll_releases(
    lanes: DressedLane | Sequence[DressedLane], balls: Ball | Sequence[Ball], releases: Releases
) -> Paths:
    """Roll n shots on lanes as dressed: one lane and one ball for all of them, or one for each.

    Returns the kernel's Paths, in the bowler's frame: one status a shot; `impact` where it met
    the pins; `lane_impact` where it would have met them on a lane without gutters. A shot that
    cannot be rolled gets a status, never an error; InvalidValueError is raised where the fields
    are not of one length.
    """
    hand = Hand(releases.hand)
    dressed, lane = _distinct("lanes", [lanes] if isinstance(lanes, DressedLane) else lanes)
    houses, house = _distinct("houses", [place.house for place in dressed])
    rack, ball = _distinct("balls", [balls] if isinstance(balls, Ball) else balls)
    x, angle, speed, revs, rotation, tilt, loft, lane, ball = _columns(releases, hand, lane, ball)
    kinds = [lane_kind(place, hand) for place in dressed]
    shots = Shots(
        x_m=x,
        launch_angle_rad=angle,
        speed_mps=speed,
        rev_rate_radps=revs,
        axis_rotation_rad=rotation,
        axis_tilt_rad=tilt,
        loft_m=loft,
        body=house[lane] * len(rack) + ball,
        film=lane,
        dry_factor=np.array([kind.friction for kind in kinds])[lane],
        film_factor=np.ones(len(x)),
    )
    return roll(_lanes(dressed, kinds, hand), _bodies(rack, houses), shots)


def _distinct(field: str, things: Sequence[T]) -> tuple[list[T], IntArray]:
    """The things, each once; and which of them each shot has: one number, or n."""
    require(len(things) > 0, field, things, "at least one")
    place = {thing: number for number, thing in enumerate(dict.fromkeys(things))}
    return list(place), np.array([place[thing] for thing in things])


def _lanes(dressed: Sequence[DressedLane], kinds: Sequence[LaneKind], hand: Hand) -> Lanes:
    """Every lane under its film; a level one has no pull beside one that slopes."""
    each = [
        kind.under(own_frame(film_of(place.pattern), hand))
        for kind, place in zip(kinds, dressed, strict=True)
    ]
    pulls = [lane.pull_mps2 for lane in each]
    level = np.zeros((1, 2, CELLS, BOARDS))
    return Lanes(
        film_um=np.concatenate([lane.film_um for lane in each]),
        length_m=np.concatenate([lane.length_m for lane in each]),
        oil_friction=np.concatenate([lane.oil_friction for lane in each]),
        pull_mps2=None
        if all(pull is None for pull in pulls)
        else np.concatenate([level if pull is None else pull for pull in pulls]),
    )


def _bodies(rack: Sequence[Ball], houses: Sequence[House]) -> Bodies:
    """Every ball on the lanes of every house, house by house."""
    each = [bodies_of(rack, house) for house in houses]
    return Bodies(
        **{
            field.name: np.concatenate([getattr(bodies, field.name) for bodies in each])
            for field in fields(Bodies)
        }
    )


def _columns(releases: Releases, hand: Hand, lane: IntArray, ball: IntArray) -> list[Any]:
    """Lay-down [m], angle, speed, revs, rotation, tilt, loft in SI, lane and ball, each (n,)."""
    columns = (
        hand.sign * own_x_m(releases.laydown_board),
        np.asarray(releases.launch_angle_deg, float) * DEGREE_RAD,
        np.asarray(releases.speed_mph, float) * MPH_MPS,
        np.asarray(releases.rev_rate_rpm, float) * RPM_RADPS,
        np.asarray(releases.axis_rotation_deg, float) * DEGREE_RAD,
        np.asarray(releases.axis_tilt_deg, float) * DEGREE_RAD,
        np.asarray(releases.loft_in, float) * INCH_M,
        lane,
        ball,
    )
    lengths = [np.size(column) for column in columns]
    try:
        return [
            np.ascontiguousarray(column)
            for column in np.broadcast_arrays(*(np.atleast_1d(column) for column in columns))
        ]
    except ValueError:
        allowed = "the same number of shots for every field, lane and ball, or one for all"
        raise InvalidValueError("releases", lengths, allowed) from None
