"""From what a coach says of a release to velocity and spin at the foul line."""

from __future__ import annotations

import math

from nextpair.physics._jit import scalar


@scalar
def launch_velocity_mps(speed_mps: float, launch_angle_rad: float) -> tuple[float, float]:
    """Sideways (right positive) and down-lane velocity [m/s] of a right-hander's shot.

    `launch_angle_rad` is positive to the right. A left-hander's shot is the mirror image.

    Source: [model-sheet] section 6.1.
    """
    return speed_mps * math.sin(launch_angle_rad), speed_mps * math.cos(launch_angle_rad)


@scalar
def launch_spin_radps(
    rev_rate_radps: float, axis_rotation_rad: float, axis_tilt_rad: float
) -> tuple[float, float, float]:
    """Angular velocity [rad/s] in lane axes of a right-hander's shot.

    Axis rotation 0 is end over end, 90 degrees pure side; axis tilt is positive with the positive
    axis point above the horizontal. The positive axis point lies along the result.

    Source: [model-sheet] section 6.1: w (-cosT cosA, -cosT sinA, sinT).
    """
    level = rev_rate_radps * math.cos(axis_tilt_rad)
    return (
        -level * math.cos(axis_rotation_rad),
        -level * math.sin(axis_rotation_rad),
        rev_rate_radps * math.sin(axis_tilt_rad),
    )
