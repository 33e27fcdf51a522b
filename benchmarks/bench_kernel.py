"""How fast shots are rolled, and how fast they wear a film, next to the slow oracle.

`make bench` times them; every test run executes each once. Seconds on a shared machine are noisy:
compare the rates of one run (`extra_info` in build/bench.json) with each other.
"""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.domain.ball import Ball, Cover, Layout, Surface
from nextpair.domain.house import House, LaneSurface
from nextpair.domain.lane import BOARD_M, BOARDS, CELLS, END_PLANE_M
from nextpair.domain.units import DEGREE_RAD, INCH_M, MPH_MPS, POUND_KG, RPM_RADPS
from nextpair.kernel.layout import Lanes, Shots, Trace, bodies_of
from nextpair.kernel.outcome import Status
from nextpair.kernel.roll import roll
from nextpair.kernel.wear import wear
from nextpair.physics import reference as oracle
from nextpair.physics.constants import OIL_FRICTION
from nextpair.physics.reference import FilmFriction, Start
from nextpair.physics.release import launch_spin_radps, launch_velocity_mps

SHOTS = 8192
FILMS = 4
PATTERN_M = 12.5


@pytest.fixture(scope="module")
def films():
    """Four films: oil to 12.5 m, thicker inside, with 3 % of unevenness from cell to cell."""
    rng = np.random.default_rng(7)
    down = np.clip((CELLS * PATTERN_M / 18.288 - np.arange(CELLS)) / 30, 0, 1)
    across = 0.8 + 2.6 * np.exp(-(((np.arange(BOARDS) - 19) / 9.0) ** 4))
    return down[:, None] * across * rng.normal(1.0, 0.03, (FILMS, CELLS, BOARDS))


@pytest.fixture(scope="module")
def bodies():
    """A ball with a strong core, laid out to flare."""
    layout = Layout(4.5 * INCH_M, 60 * DEGREE_RAD, 40 * DEGREE_RAD)
    ball = Ball(
        name="Kestrel",
        mass_kg=15 * POUND_KG,
        rg_m=2.49 * INCH_M,
        differential_m=0.050 * INCH_M,
        intermediate_m=0.014 * INCH_M,
        cover=Cover.SOLID,
        surface=Surface(1500, 6),
        layout=layout,
    )
    house = House(
        name="Copperfield Lanes", lanes=24, surface=LaneSurface.SYNTHETIC, surface_age_years=9
    )
    return bodies_of([ball], house)


@pytest.fixture(scope="module")
def shots():
    """Shots of a strong amateur, scattered widely over lines."""
    rng = np.random.default_rng(7)

    def around(mean: float, sd: float):
        return rng.normal(mean, sd, SHOTS)

    return Shots(
        x_m=around(-5.0, 2.0) * BOARD_M,
        launch_angle_rad=around(2.0, 0.5) * DEGREE_RAD,
        speed_mps=around(18.0, 0.6) * MPH_MPS,
        rev_rate_radps=around(380, 30) * RPM_RADPS,
        axis_rotation_rad=around(50, 8) * DEGREE_RAD,
        axis_tilt_rad=around(12, 3) * DEGREE_RAD,
        body=np.zeros(SHOTS, np.int64),
        film=rng.integers(0, FILMS, SHOTS),
        dry_factor=around(1.0, 0.05),
        film_factor=around(1.0, 0.1),
        loft_m=np.full(SHOTS, 0.1),
    )


def lanes_under(films):
    """Level lanes of ordinary oil under these films."""
    return Lanes(films, np.full(FILMS, PATTERN_M), np.full(FILMS, OIL_FRICTION.value))


def note_rate(benchmark, shots: int) -> None:
    if benchmark.stats is not None:
        benchmark.extra_info["shots per second"] = round(shots / benchmark.stats.stats.min)


def worn_by(paths):
    """What wear needs of recorded paths: places and surface speed over speed, (n, 121) each."""
    speed_mps = np.hypot(paths.trace[Trace.V_X], paths.trace[Trace.V_Y])
    surface_ratio = paths.trace[Trace.SURFACE_SPEED] / speed_mps
    return paths.trace[Trace.X].T.astype(float), surface_ratio.T.astype(float)


@pytest.mark.parametrize("record", [False, True], ids=["ends", "whole path"])
def test_roll(benchmark, films, bodies, shots, record):
    lanes = lanes_under(films)
    paths = roll(lanes, bodies, shots, record=record)
    paths = benchmark(roll, lanes, bodies, shots, record=record)
    assert np.mean(paths.status == Status.PINS) > 0.5
    note_rate(benchmark, SHOTS)


def test_wear(benchmark, films, bodies, shots):
    paths = roll(lanes_under(films), bodies, shots, record=True)
    x_m, surface_ratio = worn_by(paths)
    flare_m = np.full(SHOTS, 0.009)
    wear(films[0], x_m, surface_ratio, flare_m)
    worn = benchmark(wear, films[0], x_m, surface_ratio, flare_m)
    assert worn.film_um.sum() < films[0].sum()
    note_rate(benchmark, SHOTS)


def test_oracle(benchmark, films):
    start = Start(
        x_m=-5.0 * BOARD_M,
        velocity_mps=launch_velocity_mps(18.0 * MPH_MPS, 2.0 * DEGREE_RAD),
        spin_radps=launch_spin_radps(380 * RPM_RADPS, 50 * DEGREE_RAD, 12 * DEGREE_RAD),
        core=(1.0, 0.0, 0.0, 0.0),
        radii_of_gyration_m=(2.49 * INCH_M, 2.54 * INCH_M, 2.526 * INCH_M),
    )
    friction = FilmFriction(films[0], film_gain_per_um=1.2, oil_friction=0.03, dry_excess=0.16)
    path = benchmark.pedantic(oracle.roll, (start, friction), rounds=3)
    assert path.end.y_m == pytest.approx(END_PLANE_M)
    note_rate(benchmark, 1)
