"""From a layout to how the core lies about the spin axis at the release."""

from __future__ import annotations

import math

from nextpair.domain.ball import Balance, Layout
from nextpair.domain.units import INCH_M

GRIP_RADIUS_M = 4.27 * INCH_M
"""Radius that turns inches along the cover into angles. Source: [model-sheet] section 6.3."""

Vector = tuple[float, float, float]
Quaternion = tuple[float, float, float, float]


def core_angles_rad(layout: Layout) -> tuple[float, float]:
    """Angle from spin axis to pin, and of the high axis about the pin [rad].

    Source: [model-sheet] section 6.3: theta = pin-to-PAP / R, delta = drilling angle.
    """
    return layout.pin_to_pap_m / GRIP_RADIUS_M, layout.drilling_angle_rad


def core_axes(layout: Layout, spin_axis: Vector) -> tuple[Vector, Vector, Vector]:
    """Unit vectors in lane axes of the low, high and middle axis at the release.

    `spin_axis` is the unit vector to the positive axis point. The VAL angle turns the core about
    that axis, from a direction that is fixed to the axis: it is the phase in which the ball leaves
    the hand, and moves a strong core's path by up to half a board at the pins.

    Source: [model-sheet] section 6.3: e1 = cos(theta) p + sin(theta)(...), e2, e3 = e1 x e2.
    """
    theta_rad, delta_rad = core_angles_rad(layout)
    up = _orthogonal_to(spin_axis)
    side = _cross(spin_axis, up)
    val_rad = layout.val_angle_rad
    rim = _sum(_scaled(up, math.cos(val_rad)), _scaled(side, math.sin(val_rad)))
    low = _sum(_scaled(spin_axis, math.cos(theta_rad)), _scaled(rim, math.sin(theta_rad)))
    toward_axis = _sum(_scaled(spin_axis, math.sin(theta_rad)), _scaled(rim, -math.cos(theta_rad)))
    across = _cross(low, toward_axis)
    high = _sum(_scaled(toward_axis, math.cos(delta_rad)), _scaled(across, math.sin(delta_rad)))
    return low, high, _cross(low, high)


def grip_axes(pap_over_m: float, pap_up_m: float) -> tuple[Vector, Vector, Vector]:
    """Unit vectors to the grip centre, across the grip to the axis point's side, and along the
    grip to the fingers, in the spin frame of a right-hander: z to the positive axis point, y up
    along the vertical axis line, x away from the grip.

    Source: [model-sheet] section 6.3: p = cos b (cos a c + sin a r) + sin b n, turned round.
    """
    a, b = pap_over_m / GRIP_RADIUS_M, pap_up_m / GRIP_RADIUS_M
    return (
        (-math.sin(a), -math.sin(b) * math.cos(a), math.cos(b) * math.cos(a)),
        (math.cos(a), -math.sin(b) * math.sin(a), math.cos(b) * math.sin(a)),
        (0.0, math.cos(b), math.sin(b)),
    )


def offset_in_spin_frame_m(balance: Balance, pap_over_m: float, pap_up_m: float) -> Vector:
    """Centre of mass from the ball's centre [m] in the frame of grip_axes.

    Source: [model-sheet] section 6.3.
    """
    grip, side, fingers = grip_axes(pap_over_m, pap_up_m)
    return _sum(
        _scaled(grip, balance.top_m),
        _sum(_scaled(side, balance.side_m), _scaled(fingers, balance.finger_m)),
    )


def axes_to_quaternion(low: Vector, high: Vector, middle: Vector) -> Quaternion:
    """Quaternion that turns body axes (low, high, middle) into the given lane directions.

    Source: [altmann-2005] rotation matrix to quaternion, largest component first.
    """
    (m00, m10, m20), (m01, m11, m21), (m02, m12, m22) = low, high, middle
    candidates = (
        (1 + m00 + m11 + m22, m21 - m12, m02 - m20, m10 - m01),
        (m21 - m12, 1 + m00 - m11 - m22, m01 + m10, m02 + m20),
        (m02 - m20, m01 + m10, 1 - m00 + m11 - m22, m12 + m21),
        (m10 - m01, m02 + m20, m12 + m21, 1 - m00 - m11 + m22),
    )
    best = max(range(4), key=lambda i: candidates[i][i])
    norm = math.sqrt(sum(part * part for part in candidates[best]))
    w, x, y, z = (part / norm for part in candidates[best])
    return w, x, y, z


def _orthogonal_to(axis: Vector) -> Vector:
    """The upward direction made orthogonal to an axis (down-lane if the axis is upright)."""
    start = (0.0, 0.0, 1.0) if abs(axis[2]) < 0.99 else (0.0, 1.0, 0.0)
    along = sum(a * b for a, b in zip(start, axis, strict=True))
    rest = _sum(start, _scaled(axis, -along))
    return _scaled(rest, 1.0 / math.sqrt(sum(part * part for part in rest)))


def _cross(a: Vector, b: Vector) -> Vector:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def _sum(a: Vector, b: Vector) -> Vector:
    return a[0] + b[0], a[1] + b[1], a[2] + b[2]


def _scaled(a: Vector, factor: float) -> Vector:
    return a[0] * factor, a[1] * factor, a[2] * factor
