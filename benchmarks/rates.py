"""How fast shots are rolled and wear a film, next to the slow oracle and to the core's peak."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager

import numba
import numpy as np

from benchmarks import thrown
from benchmarks.clocks import by_turns
from benchmarks.peak import Peak
from nextpair.kernel.layout import Lanes, Trace
from nextpair.kernel.roll import Paths, roll
from nextpair.kernel.wear import surface_ratios, wear
from reference.random_shots import oracle_end

SHOTS = 8192
MANY_SHOTS = 16 * SHOTS
WEARING_SHOTS = 200
FLARE_M = 0.009
SCIPY_RTOL, SCIPY_ATOL = 1e-5, 1e-7
SCIPY_SHOTS = 3
PEAK_TIMES = 2000
REPEATS = 20
"""Of what is over in a millisecond or two."""


def rates(runs: int) -> dict[str, float]:
    """Rates of one core by its own seconds, as ratios within each run; medians of the runs."""
    lanes, bodies, shots = thrown.lanes(), thrown.bodies(), thrown.shots(SHOTS)
    alone, flat = thrown.by_friction_alone(bodies), thrown.shots(SHOTS, loft_m=0.0)
    peak = Peak(PEAK_TIMES)

    def by_scipy() -> None:
        for shot in range(SCIPY_SHOTS):
            oracle_end(lanes, bodies, shots, shot, rtol=SCIPY_RTOL, atol=SCIPY_ATOL)

    with threads(1):
        took_s = by_turns(
            {
                "roll": lambda: roll(lanes, bodies, shots),
                "friction alone": lambda: roll(lanes, alone, flat),
                "peak": peak,
                "scipy": by_scipy,
            },
            runs,
        )
    shots_per_s = SHOTS / took_s["roll"]
    gflops = peak.gflop / took_s["peak"]
    middle = np.median
    return {
        "kernel.ratio_to_scipy": float(middle(shots_per_s * took_s["scipy"] / SCIPY_SHOTS)),
        "kernel.shots_per_peak_gflop": float(middle(shots_per_s / gflops)),
        "seen.shots_per_cpu_s": float(middle(shots_per_s)),
        "seen.shots_per_cpu_s_by_friction_alone": float(middle(SHOTS / took_s["friction alone"])),
        "seen.scipy_shots_per_cpu_s": float(middle(SCIPY_SHOTS / took_s["scipy"])),
        "seen.peak_gflops": float(middle(gflops)),
    }


def scaling(runs: int, count: int = MANY_SHOTS) -> float:
    """How many times faster two cores are than one, by the clock on the wall."""
    lanes, bodies, shots = thrown.lanes(), thrown.bodies(), thrown.shots(count)

    def rolled_by(cores: int) -> None:
        with threads(cores):
            roll(lanes, bodies, shots)

    took_s = by_turns(
        {"one": lambda: rolled_by(1), "two": lambda: rolled_by(2)}, runs, time.perf_counter
    )
    return float(np.median(took_s["one"] / took_s["two"]))


def wear_to_roll(runs: int) -> float:
    """Time in which 200 shots wear a lane over the time in which they are rolled and recorded."""
    lanes, bodies = thrown.lanes(), thrown.bodies()
    one = Lanes(lanes.film_um[:1], lanes.length_m[:1], lanes.oil_friction[:1])

    def rolled() -> Paths:
        return roll(one, bodies, thrown_shots, record=True)

    thrown_shots = thrown.shots(WEARING_SHOTS, films=1)
    x_m, surface_ratio = _met(rolled())
    flare_m = np.full(WEARING_SHOTS, FLARE_M)
    with threads(1):
        took_s = by_turns(
            {
                "roll": lambda: [rolled() for _ in range(REPEATS)],
                "wear": lambda: wear(one.film_um[0], x_m, surface_ratio, flare_m),
            },
            runs,
        )
    return float(np.median(REPEATS * took_s["wear"] / took_s["roll"]))


@contextmanager
def threads(count: int) -> Iterator[None]:
    """Compute on so many threads, as far as there are any."""
    before = numba.get_num_threads()
    numba.set_num_threads(min(count, numba.config.NUMBA_NUM_THREADS))
    try:
        yield
    finally:
        numba.set_num_threads(before)


def _met(paths: Paths) -> tuple[np.ndarray, np.ndarray]:
    """What wear needs of recorded paths: places, and surface speed over speed, (n, 121) each."""
    return paths.trace[Trace.X].T.astype(float), surface_ratios(paths.trace)
