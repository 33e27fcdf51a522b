"""Random shots on worn and leaning lanes, and where the slow oracle takes each of them."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.ball import Ball, Cover, Layout, Surface
from nextpair.domain.house import House, LaneSurface
from nextpair.domain.units import DEGREE_RAD, FOOT_M, INCH_M, MPH_MPS, POUND_KG, RPM_RADPS
from nextpair.kernel.layout import Bodies, Lanes, Shots, bodies_of
from nextpair.physics import reference
from nextpair.physics.release import launch_spin_radps, launch_velocity_mps
from reference.kernel_lane import on_axis

LENGTH_M = 42 * FOOT_M


def random_batch(count: int) -> tuple[Lanes, Bodies, Shots]:
    """So many shots with three balls on three lanes; the same every time."""
    rng = np.random.default_rng(20)
    lanes = leaning_lanes(rng, np.stack([sport_like_film(rng) for _ in range(3)]))
    bodies = bodies_of(balls(), House("test", 24, LaneSurface.SYNTHETIC, 9))
    return lanes, bodies, random_shots(rng, len(lanes), count)


def sport_like_film(rng: np.random.Generator) -> NDArray[np.float64]:
    """A crowned film that ends at 42 ft, with noise and a worn stripe."""
    boards, cells = np.arange(39), np.arange(120)
    across = 0.6 + 2.2 * np.exp(-(((boards - 19) / 11.0) ** 2))
    down = np.clip((84 - cells) / 30, 0, 1)
    film = down[:, None] * across[None, :] * (1 + 0.03 * rng.standard_normal((120, 39)))
    film[:80, 8:12] *= 0.6
    return film


def balls() -> list[Ball]:
    """A strong ball, a weak one, and one for spares."""

    def ball(rg_in: float, diff_in: float, mid_in: float, grit: int | None, cover: Cover) -> Ball:
        return Ball(
            name=f"{cover} {grit}",
            mass_kg=15 * POUND_KG,
            rg_m=rg_in * INCH_M,
            differential_m=diff_in * INCH_M,
            intermediate_m=mid_in * INCH_M,
            cover=cover,
            surface=Surface(grit),
            layout=Layout(4.5 * INCH_M, 55 * DEGREE_RAD, 40 * DEGREE_RAD),
        )

    return [
        ball(2.48, 0.052, 0.016, 2000, Cover.SOLID),
        ball(2.55, 0.040, 0.000, 4000, Cover.PEARL),
        ball(2.68, 0.012, 0.000, None, Cover.PLASTIC),
    ]


def random_shots(rng: np.random.Generator, films: int, n: int) -> Shots:
    """Shots of every kind of bowler on so many films."""
    return Shots(
        x_m=rng.normal(-0.15, 0.12, n),
        launch_angle_rad=rng.normal(2.0, 1.0, n) * DEGREE_RAD,
        speed_mps=rng.normal(18.0, 1.0, n) * MPH_MPS,
        rev_rate_radps=rng.normal(380, 70, n) * RPM_RADPS,
        axis_rotation_rad=rng.normal(48, 12, n) * DEGREE_RAD,
        axis_tilt_rad=rng.normal(13, 5, n) * DEGREE_RAD,
        loft_m=rng.uniform(0.0, 0.2, n),
        body=rng.integers(0, 3, n),
        film=rng.integers(0, films, n),
        dry_factor=np.exp(rng.normal(0, 0.08, n)),
        film_factor=np.exp(rng.normal(0, 0.08, n)),
    )


def leaning_lanes(rng: np.random.Generator, films: NDArray[np.float64]) -> Lanes:
    """Lanes with oil of their own and slopes that change down the lane."""
    count, cells, boards = films.shape
    down, across = np.arange(cells) / cells, np.arange(boards) / boards
    pull = np.zeros((count, 2, cells, boards))
    pull[:, 0] = rng.normal(0, 0.01, (count, 1, 1)) + 0.01 * np.sin(9 * down)[:, None]
    pull[:, 1] = 0.005 * np.cos(6 * down)[:, None] * across
    return Lanes(films, np.full(count, LENGTH_M), rng.uniform(0.02, 0.04, count), pull)


def oracle_end(
    lanes: Lanes,
    bodies: Bodies,
    shots: Shots,
    shot: int,
    *,
    rtol: float = 1e-8,
    atol: float = 1e-10,
) -> reference.Moment:
    """One shot by the oracle; the core is turned to the spin axis by the shortest way."""
    body, film = shots.body[shot], shots.film[shot]
    spin_radps = launch_spin_radps(
        shots.rev_rate_radps[shot], shots.axis_rotation_rad[shot], shots.axis_tilt_rad[shot]
    )
    oil_friction = lanes.oil_friction[film]
    friction = reference.FilmFriction(
        lanes.film_um[film],
        bodies.film_gain_per_um[body] * shots.film_factor[shot],
        oil_friction,
        bodies.dry_friction[body] * shots.dry_factor[shot] - oil_friction,
        bodies.ring_share[body],
    )
    start = reference.Start(
        x_m=shots.x_m[shot],
        velocity_mps=launch_velocity_mps(shots.speed_mps[shot], shots.launch_angle_rad[shot]),
        spin_radps=spin_radps,
        core=on_axis(bodies.core[body], spin_radps),
        radii_of_gyration_m=tuple(np.sqrt(bodies.k2_m2[body])),
        offset_m=tuple(bodies.offset_m[body]),
        loft_m=shots.loft_m[shot],
    )
    forces = reference.Forces(
        pull=_pull_on(lanes, film),
        drag_per_m=bodies.drag_per_m[body],
        rolling_resistance=bodies.rolling_resistance[body],
    )
    return reference.roll(start, friction, forces=forces, rtol=rtol, atol=atol).end


def _pull_on(lanes: Lanes, film: int) -> Callable[[float, float], tuple[float, float]]:
    """Pull of a lane's slopes, by the oracle's own interpolation."""
    if lanes.pull_mps2 is None:
        return reference.level
    sideways, down = (
        reference.FilmFriction(part, 1.0, 0.0, 0.0).film_at for part in lanes.pull_mps2[film]
    )
    return lambda x_m, y_m: (sideways(x_m, y_m), down(x_m, y_m))
