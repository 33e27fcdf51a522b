"""The track: where the oil rings lie on the ball, seen from the axis point and from the grip.

A ring is the circle that touches the lane while the ball turns about its spin axis. It lies a
quarter of the way round from the positive axis point, and farther by the axis tilt. Where it
passes the grip follows from the axis point's place over and up from the grip centre; where the
holes are about that centre is not known, so nothing is said of them.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.bowler import Bowler, Release
from nextpair.domain.shot import Track
from nextpair.domain.units import INCH_M
from nextpair.kernel.layout import NODE_M, Trace
from nextpair.physics.layout import GRIP_RADIUS_M, Quaternion, grip_axes
from nextpair.physics.rigid_body import to_body

FloatArray = NDArray[np.float64]
_AXES = [Trace.AXIS_LOW, Trace.AXIS_HIGH, Trace.AXIS_MIDDLE]


def track(
    trace: FloatArray, oiled_m: float, release: Release, bowler: Bowler, core: Quaternion
) -> Track:
    """The first ring and the last one laid in oil, of one shot in the bowler's own frame.

    trace (8, 121) see kernel.layout.Trace; `oiled_m` where the oil ends or the ball leaves the
    lane; `core` from body axes to the frame whose z axis is the spin axis, at the release.
    """
    centre, _, _ = grip_axes(bowler.pap_over_m, bowler.pap_up_m)
    grip = np.array(to_body(*core, *centre))
    from_pap, from_grip = [], []
    for distance_m in (0.0, oiled_m):
        ring_rad = math.pi / 2 + _tilt_rad(trace, distance_m, release)
        axis = np.array([np.interp(distance_m, NODE_M, part) for part in trace[_AXES]])
        cosine = float(axis @ grip / np.linalg.norm(axis))
        from_pap.append(GRIP_RADIUS_M * ring_rad / INCH_M)
        from_grip.append(GRIP_RADIUS_M * (ring_rad - math.acos(cosine)) / INCH_M)
    return Track(
        first_from_pap_in=from_pap[0],
        last_from_pap_in=from_pap[1],
        first_from_grip_in=from_grip[0],
        last_from_grip_in=from_grip[1],
    )


def _tilt_rad(trace: FloatArray, distance_m: float, release: Release) -> float:
    """Axis tilt at a distance. Friction on a point has no moment about the upright, so the spin
    about it stays; a core lets it waver by the share of its differential, 2 % at most.

    Source: [model-sheet] section 2.3.
    """
    upright_radps = release.rev_rate_radps * math.sin(release.axis_tilt_rad)
    level_radps = np.interp(distance_m, NODE_M, trace[Trace.SURFACE_SPEED]) / BALL_RADIUS_M
    return math.atan2(upright_radps, level_radps)
