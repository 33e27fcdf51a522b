"""A rigid ball with three radii of gyration on one point of contact, per unit of mass.

Friction acts at the contact, so it has no moment about it: the angular momentum about the contact
J = L + R z x v stays as it was at the release, however the friction varies. The spin L therefore
follows from J and the velocity, and need not be integrated.

Quaternions (w, x, y, z) turn body axes into lane axes. Body axes: x = low RG (pin), y = high RG,
z = between.
"""

from __future__ import annotations

from nextpair.physics._jit import scalar


@scalar
def spin_momentum(
    J_x: float, J_y: float, v_x: float, v_y: float, radius_m: float
) -> tuple[float, float]:
    """Sideways and down-lane spin angular momentum about the centre [m2/s], per unit mass.

    Source: [model-sheet] section 2; [kernel-notes] point 2: L = J - R z x v.
    """
    return J_x + radius_m * v_y, J_y - radius_m * v_x


@scalar
def contact_slip(
    v_x: float, v_y: float, omega_x: float, omega_y: float, radius_m: float
) -> tuple[float, float]:
    """Velocity of the ball's surface over the lane at the contact [m/s].

    Source: [model-sheet] section 2.2: u = (vx - R wy, vy + R wx).
    """
    return v_x - radius_m * omega_y, v_y + radius_m * omega_x


@scalar
def to_body(
    q_w: float, q_x: float, q_y: float, q_z: float, a_x: float, a_y: float, a_z: float
) -> tuple[float, float, float]:
    """A vector given in lane axes, in body axes.

    Source: [altmann-2005] rotation by the conjugate quaternion, a + 2 w (a x v) + 2 (a x v) x v.
    """
    return to_lane(q_w, -q_x, -q_y, -q_z, a_x, a_y, a_z)


@scalar
def to_lane(
    q_w: float, q_x: float, q_y: float, q_z: float, a_x: float, a_y: float, a_z: float
) -> tuple[float, float, float]:
    """A vector given in body axes, in lane axes.

    Source: [altmann-2005] a + w t + v x t with t = 2 v x a.
    """
    t_x = q_y * a_z - q_z * a_y
    t_y = q_z * a_x - q_x * a_z
    t_z = q_x * a_y - q_y * a_x
    t_x += t_x
    t_y += t_y
    t_z += t_z
    return (
        a_x + q_w * t_x + q_y * t_z - q_z * t_y,
        a_y + q_w * t_y + q_z * t_x - q_x * t_z,
        a_z + q_w * t_z + q_x * t_y - q_y * t_x,
    )


@scalar
def quaternion_product(
    a_w: float,
    a_x: float,
    a_y: float,
    a_z: float,
    b_w: float,
    b_x: float,
    b_y: float,
    b_z: float,
) -> tuple[float, float, float, float]:
    """Product of two quaternions. Source: [altmann-2005] Hamilton's rule."""
    return (
        a_w * b_w - a_x * b_x - a_y * b_y - a_z * b_z,
        a_w * b_x + a_x * b_w + a_y * b_z - a_z * b_y,
        a_w * b_y - a_x * b_z + a_y * b_w + a_z * b_x,
        a_w * b_z + a_x * b_y - a_y * b_x + a_z * b_w,
    )
