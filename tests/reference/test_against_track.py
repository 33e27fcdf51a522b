"""Oil rings of a recorded path against the slow oracle, which knows the whole spin."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from nextpair.application.track import track
from nextpair.domain.bowler import Bowler, Hand, Reach, Release, Scatter, Style
from nextpair.domain.units import DEGREE_RAD, INCH_M, RPM_RADPS
from nextpair.physics import reference
from nextpair.physics.layout import GRIP_RADIUS_M, grip_axes
from nextpair.physics.rigid_body import to_body
from reference.kernel_lane import ROUND, STRONG, Core, bodies, dry_lane, roll_in_kernel, shots
from reference.kernel_lane import start_of as oracle_start
from reference.record import Record
from reference.releases import B, uniform

OILED_M = 12.0
FRICTION = 0.04
RELEASE = Release(
    speed_mps=B.speed_mps,
    rev_rate_radps=B.rev_rate_rpm * RPM_RADPS,
    axis_rotation_rad=B.rotation_deg * DEGREE_RAD,
    axis_tilt_rad=B.tilt_deg * DEGREE_RAD,
)
BOWLER = Bowler(
    name="anybody",
    hand=Hand.RIGHT,
    style=Style.ONE_HANDED,
    release=RELEASE,
    pap_over_m=5.0 * INCH_M,
    pap_up_m=0.5 * INCH_M,
    slide_to_laydown_boards=6.5,
    average=200,
    scatter=Scatter(0.5, 0.005, 0.15, 1.5),
    reach=Reach((10, 30), (0.0, 0.05), (0.0, 0.0)),
)


def ring_in(core: Core, distance_m: float) -> tuple[float, float]:
    """Ring's distance from the axis point, and from the grip centre, by the oracle's spin."""
    path = reference.roll(oracle_start(B, core), uniform(FRICTION))
    moment = path.at(distance_m)
    spin = np.array(moment.spin_radps)
    axis = np.array(to_body(*moment.core, *(spin / np.linalg.norm(spin))))
    # The ring goes through the lowest point of the ball, straight below its centre.
    from_pap = math.acos(-spin[2] / np.linalg.norm(spin))
    grip = np.array(to_body(*core.quaternion, *grip_axes(BOWLER.pap_over_m, BOWLER.pap_up_m)[0]))
    from_grip = from_pap - math.acos(float(axis @ grip))
    return from_pap * GRIP_RADIUS_M / INCH_M, from_grip * GRIP_RADIUS_M / INCH_M


@pytest.mark.parametrize(
    "core",
    [ROUND, STRONG, replace(STRONG, pin_to_axis_deg=70.0), replace(STRONG, turn_deg=50.0)],
    ids=["round", "strong", "pin far", "turned"],
)
def test_the_rings_lie_where_the_oracle_lays_them(record: Record, core: Core) -> None:
    paths = roll_in_kernel(dry_lane(), bodies([core], FRICTION), shots([B]))
    assert paths.trace is not None
    told = track(paths.trace[:, :, 0].astype(float), OILED_M, RELEASE, BOWLER, core.quaternion)
    first, last = ring_in(core, 0.0), ring_in(core, OILED_M)
    achieved = (
        told.first_from_pap_in,
        told.first_from_grip_in,
        told.last_from_pap_in,
        told.last_from_grip_in,
    )
    record.agreement(
        "Slow oracle",
        f"oil rings on the ball at 0 and 12 m, RG {core.rg_in} in",
        "largest error of a ring's place, in",
        error=float(np.abs(np.array(achieved) - (*first, *last)).max()),
        tolerance=0.05,
        source="[hairer-1993] by SciPy, physics/reference.py",
    )
    if core is STRONG:
        assert abs(last[1] - first[1]) > 0.5, "the axis must have moved, or nothing is tested"
