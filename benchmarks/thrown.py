"""The shots that are timed: those of a strong amateur, scattered widely over lines and lanes."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.ball import Ball, Cover, Layout, Surface
from nextpair.domain.house import House, LaneSurface
from nextpair.domain.lane import BOARD_M, BOARDS, CELL_M, CELLS
from nextpair.domain.units import DEGREE_RAD, INCH_M, MPH_MPS, POUND_KG, RPM_RADPS
from nextpair.kernel.layout import Bodies, Lanes, Shots, bodies_of
from nextpair.physics.constants import OIL_FRICTION

FILMS = 4
PATTERN_M = 12.5
LOFT_M = 0.1


def lanes() -> Lanes:
    """Level lanes: oil to 12.5 m, thicker inside, with 3 % of unevenness from cell to cell."""
    rng = np.random.default_rng(7)
    down = np.clip((PATTERN_M / CELL_M - np.arange(CELLS)) / 30, 0, 1)
    across = 0.8 + 2.6 * np.exp(-(((np.arange(BOARDS) - 19) / 9.0) ** 4))
    films = down[:, None] * across * rng.normal(1.0, 0.03, (FILMS, CELLS, BOARDS))
    return Lanes(films, np.full(FILMS, PATTERN_M), np.full(FILMS, OIL_FRICTION.value))


def bodies() -> Bodies:
    """A ball with a strong core, laid out to flare."""
    layout = Layout(4.5 * INCH_M, 60 * DEGREE_RAD, 40 * DEGREE_RAD)
    ball = Ball(
        name="Kestrel",
        mass_kg=15 * POUND_KG,
        rg_m=2.49 * INCH_M,
        differential_m=0.050 * INCH_M,
        intermediate_m=0.014 * INCH_M,
        cover=Cover.SOLID,
        surface=Surface(1500),
        layout=layout,
    )
    return bodies_of([ball], House("Copperfield Lanes", 24, LaneSurface.SYNTHETIC, 9))


def by_friction_alone(each: Bodies) -> Bodies:
    """The same balls without air, rolling resistance and oil on their own ring."""
    return Bodies.by_friction_alone(
        each.k2_m2, each.core, each.film_gain_per_um, each.dry_friction
    )


def shots(count: int, *, films: int = FILMS, loft_m: float = LOFT_M) -> Shots:
    """Random shots on the first so many lanes."""
    rng = np.random.default_rng(7)

    def around(mean: float, sd: float) -> NDArray[np.float64]:
        return rng.normal(mean, sd, count)

    return Shots(
        x_m=around(-5.0, 2.0) * BOARD_M,
        launch_angle_rad=around(2.0, 0.5) * DEGREE_RAD,
        speed_mps=around(18.0, 0.6) * MPH_MPS,
        rev_rate_radps=around(380, 30) * RPM_RADPS,
        axis_rotation_rad=around(50, 8) * DEGREE_RAD,
        axis_tilt_rad=around(12, 3) * DEGREE_RAD,
        loft_m=np.full(count, loft_m),
        body=np.zeros(count, np.int64),
        film=rng.integers(0, films, count),
        dry_factor=around(1.0, 0.05),
        film_factor=around(1.0, 0.1),
    )
