"""A centre of mass off the ball's centre: how it turns under the ball, and loads the contact.

D is the offset from the ball's centre to its centre of mass in lane axes [m], v the velocity of
the centre of mass. With J the angular momentum about the contact, per unit mass,
J = L + (R z + D) x v, friction and load have no moment about the contact and dJ/dt is the moment
of the weight, less c x v for the contact's own motion c. Terms of second order in D are left out
(1e-4 of the spin's momentum at one millimetre); the oracle in physics.reference keeps them.

Source: [model-sheet] section 2.5, taken about the contact.
"""

from __future__ import annotations

from nextpair.physics._jit import scalar


@scalar
def offset_spin_momentum(
    J_x: float,
    J_y: float,
    J_z: float,
    D_x: float,
    D_y: float,
    D_z: float,
    v_x: float,
    v_y: float,
    radius_m: float,
) -> tuple[float, float, float]:
    """Spin angular momentum about the centre of mass [m2/s]: J - (R z + D) x v.

    Source: [model-sheet] section 2.5.
    """
    height = radius_m + D_z
    return J_x + height * v_y, J_y - height * v_x, J_z - D_x * v_y + D_y * v_x


@scalar
def offset_velocity(
    w_x: float, w_y: float, w_z: float, D_x: float, D_y: float, D_z: float
) -> tuple[float, float, float]:
    """Velocity of the centre of mass about the ball's centre [m/s]: w x D.

    Source: [model-sheet] section 2.5.
    """
    return w_y * D_z - w_z * D_y, w_z * D_x - w_x * D_z, w_x * D_y - w_y * D_x


@scalar
def offset_moment(
    D_x: float,
    D_y: float,
    W_x: float,
    W_y: float,
    W_z: float,
    c_x: float,
    c_y: float,
    gravity_mps2: float,
) -> tuple[float, float, float]:
    """Rate of J [m2/s2]: -g D x z - c x W, with c the velocity of the ball's centre, W = w x D.

    Source: [model-sheet] section 2.5, taken about the moving contact.
    """
    return (
        -gravity_mps2 * D_y - c_y * W_z,
        gravity_mps2 * D_x + c_x * W_z,
        c_y * W_x - c_x * W_y,
    )
