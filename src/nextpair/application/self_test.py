"""The compiled kernel against the slow oracle, on this computer: some shots of an event."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from time import process_time

import numpy as np

from nextpair.domain.errors import InvalidValueError
from nextpair.domain.event import Event
from nextpair.domain.lane import BOARD_M
from nextpair.domain.units import DEGREE_RAD, MPH_MPS
from nextpair.kernel.layout import Bodies, Lanes, Shots, bodies_of, own_frame
from nextpair.kernel.roll import roll
from nextpair.kernel.throws import lane_kind, shots_of
from nextpair.physics import reference
from nextpair.physics.dressing import film_of
from nextpair.physics.layout import Quaternion
from nextpair.physics.release import launch_spin_radps, launch_velocity_mps

LARGEST_BOARDS, LARGEST_DEGREES = 0.05, 0.02
"""What the kernel may be off at the pins, as tests/kernel holds it."""
SHOTS = 6
SPEED_SHOTS = 4096
RTOL, ATOL = 1e-8, 1e-10
SLOW_RTOL, SLOW_ATOL = 1e-5, 1e-7
"""Of the oracle that speed is held against, as in benchmarks/rates.py."""


@dataclass(frozen=True, slots=True)
class SelfTest:
    """How far the kernel was off at worst, and how fast it was, by one core's own seconds."""

    shots: int
    error_board_max: float
    error_deg_max: float
    shots_per_cpu_s: float
    ratio_to_oracle: float

    @property
    def agrees(self) -> bool:
        """Whether it is within its tolerance; what is no number is not."""
        return self.error_board_max <= LARGEST_BOARDS and self.error_deg_max <= LARGEST_DEGREES


def self_test(event: Event, count: int = SHOTS) -> SelfTest:
    """Roll shots with balls of an event's locker both ways. Raises InvalidValueError where the
    oracle does not get a ball to the pins."""
    hand = event.bowler.hand
    lane = event.start_pair.left_lane
    kind = lane_kind(event.lane(lane), hand)
    lanes = kind.under(own_frame(film_of(event.pattern_of(lane)), hand))
    bodies = bodies_of(event.locker[:3], event.house, event.bowler.pap_m)

    def thrown(number: int) -> Shots:
        return shots_of(
            event.bowler.release,
            kind,
            own_laydown=np.linspace(16.0, 28.0, number),
            launch_angle_rad=np.linspace(0.5, 3.5, number) * DEGREE_RAD,
            speed_change_mps=np.linspace(1.0, -1.0, number) * MPH_MPS,
            body=np.arange(number) % len(bodies.dry_friction),
        )

    shots = thrown(count)
    paths = roll(lanes, bodies, shots)
    ends = [_oracle_end(lanes, bodies, shots, shot, RTOL, ATOL) for shot in range(count)]
    angle_rad = np.arctan2(-paths.v_x_mps, paths.v_y_mps)
    boards = np.abs(paths.x_m - [end.x_m for end in ends]) / BOARD_M
    degrees = np.abs(angle_rad - [end.angle_left_rad for end in ends]) / DEGREE_RAD
    many, begun_s = thrown(SPEED_SHOTS), process_time()
    roll(lanes, bodies, many)
    kernel_s = process_time() - begun_s
    begun_s = process_time()
    for shot in range(count):
        _oracle_end(lanes, bodies, shots, shot, SLOW_RTOL, SLOW_ATOL)
    oracle_s = process_time() - begun_s
    per_s = SPEED_SHOTS / max(kernel_s, 1e-6)
    return SelfTest(
        count,
        float(np.max(boards)),
        float(np.max(degrees)),
        per_s,
        per_s * oracle_s / count,
    )


def _oracle_end(
    lanes: Lanes, bodies: Bodies, shots: Shots, shot: int, rtol: float, atol: float
) -> reference.Moment:
    body, film = shots.body[shot], shots.film[shot]
    spin_radps = launch_spin_radps(
        shots.rev_rate_radps[shot], shots.axis_rotation_rad[shot], shots.axis_tilt_rad[shot]
    )
    oil = lanes.oil_friction[film]
    friction = reference.FilmFriction(
        lanes.film_um[film],
        bodies.film_gain_per_um[body] * shots.film_factor[shot],
        oil,
        bodies.dry_friction[body] * shots.dry_factor[shot] - oil,
        bodies.ring_share[body],
    )
    start = reference.Start(
        x_m=shots.x_m[shot],
        velocity_mps=launch_velocity_mps(shots.speed_mps[shot], shots.launch_angle_rad[shot]),
        spin_radps=spin_radps,
        core=_on_axis(bodies.core[body].tolist(), spin_radps),
        radii_of_gyration_m=tuple(np.sqrt(bodies.k2_m2[body])),
        offset_m=tuple(bodies.offset_m[body]),
        loft_m=shots.loft_m[shot],
    )
    forces = reference.Forces(
        pull=_pull_of(lanes, film),
        drag_per_m=bodies.drag_per_m[body],
        rolling_resistance=bodies.rolling_resistance[body],
    )
    end = reference.roll(start, friction, forces=forces, rtol=rtol, atol=atol).end
    if not math.isfinite(end.x_m):
        raise InvalidValueError("oracle", end.x_m, "a place at the pins")
    return end


def _on_axis(core: list[float], spin_radps: tuple[float, float, float]) -> Quaternion:
    """A core in the spin frame turned to a spin in lane axes, the shortest way from upright.

    Source: closed form, the half-way quaternion (1 + a·b, a × b) times the core's.
    """
    size = math.hypot(*spin_radps)
    x, y, z = (part / size for part in spin_radps) if size else (0.0, 0.0, 1.0)
    a, b, c = 1.0 + z, -y, x
    norm = math.sqrt(a * a + b * b + c * c)
    if norm == 0.0:
        a, b, norm = 0.0, 1.0, 1.0
    a, b, c = a / norm, b / norm, c / norm
    w, i, j, k = core
    return (
        a * w - b * i - c * j,
        a * i + b * w + c * k,
        a * j - b * k + c * w,
        a * k + b * j - c * i,
    )


def _pull_of(lanes: Lanes, film: int) -> Callable[[float, float], tuple[float, float]]:
    if lanes.pull_mps2 is None:
        return reference.level
    sideways, down = (
        reference.FilmFriction(part, 1.0, 0.0, 0.0).film_at for part in lanes.pull_mps2[film]
    )
    return lambda x_m, y_m: (sideways(x_m, y_m), down(x_m, y_m))
