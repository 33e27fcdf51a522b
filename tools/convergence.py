"""Print how two ways to step a ball in time converge: the tables of docs/adr/0007.

Creep is friction that saturates with slip, as kernel and oracle have it, by a Runge-Kutta method
of order four; projected stepping holds the ball without creep. Both are written in the same plain
NumPy, so that their CPU times compare; see tests/reference/time_stepping.py. Takes about a minute
of CPU.

    python tools/convergence.py
"""

from __future__ import annotations

import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import RectBivariateSpline

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests"))

from nextpair.domain.lane import BOARD_M, BOARDS, CELL_M, CELLS, END_PLANE_M, board_to_x_m
from nextpair.kernel.layout import Bodies, Shots
from nextpair.physics.constants import OIL_FRICTION
from nextpair.physics.reference import Start
from reference.kernel_lane import Core, bodies, roll_in_kernel, shots, start_of
from reference.releases import B, Delivery
from reference.time_stepping import Creeping, FrictionMap, Outcome, Projected, Scheme, rolled

SCHEMES: dict[str, Scheme] = {
    "projected": Projected(),
    "creep 50 mm/s": Creeping(0.05),
    "creep 10 mm/s": Creeping(0.01),
}
STEPS_MS = (4.0, 2.0, 1.0, 0.5)
LIMIT_MS = 0.25
"""Step of what counts as a scheme's limit; projected stepping is extrapolated from it and half."""
CORES = {"C14": Core((2.48, 2.53, 2.53)), "C15": Core((2.48, 2.53, 2.51))}
SHOTS, REPEATS = 40, 500
GAIN_PER_UM, DRY_EXCESS = 1.9, 0.18


def edge(_x_m: NDArray[np.float64], y_m: NDArray[np.float64]) -> NDArray[np.float64]:
    """Friction 0.04 on oil and 0.20 beyond, passing over within a metre."""
    share = np.clip(y_m - 12.192 + 0.5, 0.0, 1.0)
    return np.asarray(0.04 + 0.16 * share * share * (3 - 2 * share))


def crowned_film_um() -> NDArray[np.float64]:
    """An invented film (120, 39) to 42 ft, thickest in the middle."""
    boards, cells = np.arange(BOARDS), np.arange(CELLS)
    across = 0.6 + 2.2 * np.exp(-(((boards - 19) / 11.0) ** 2))
    return np.asarray(np.clip((84 - cells) / 30, 0, 1)[:, None] * across)


def friction_on(film_um: NDArray[np.float64]) -> FrictionMap:
    """Friction on a film, linear between the centres of its cells."""
    down_m, right_m = (np.arange(CELLS) + 0.5) * CELL_M, board_to_x_m(np.arange(1.0, BOARDS + 1))
    surface = RectBivariateSpline(down_m, right_m[::-1], film_um[:, ::-1], kx=1, ky=1)

    def friction(x_m: NDArray[np.float64], y_m: NDArray[np.float64]) -> NDArray[np.float64]:
        film = np.maximum(surface.ev(y_m, x_m), 0.0)
        return np.asarray(OIL_FRICTION.value + DRY_EXCESS * np.exp(-((film * GAIN_PER_UM) ** 1.5)))

    return friction


def random_shots(count: int) -> tuple[list[Delivery], list[Core], NDArray[np.float64]]:
    """Releases of all kinds of bowlers, strong cores laid out at random, and lay-downs [m]."""
    rng = np.random.default_rng(7)
    means, spreads = (8.0, 1.8, 390.0, 50.0, 13.0), (0.45, 1.0, 70.0, 12.0, 5.0)
    releases = rng.normal(means, spreads, (count, 5))
    layouts = rng.uniform((25.0, 20.0), (75.0, 90.0), (count, 2))
    return (
        [Delivery(*map(float, release)) for release in releases],
        [Core((2.48, 2.54, 2.515), *map(float, layout)) for layout in layouts],
        rng.normal(-0.15, 0.12, count),
    )


@dataclass(frozen=True, slots=True)
class Row:
    """One scheme at one step."""

    name: str
    step_ms: float
    outcome: Outcome
    cpu_ms: float


def rows(starts: Sequence[Start], friction: FrictionMap) -> tuple[list[Row], dict[str, Outcome]]:
    """Every scheme at every step, and each scheme's limit."""
    found, limits = [], {}
    for name, scheme in SCHEMES.items():
        for step_ms in STEPS_MS:
            began = time.process_time()
            outcome = rolled(scheme, starts, friction, step_ms / 1e3, END_PLANE_M)
            cpu_ms = 1e3 * (time.process_time() - began) / len(starts)
            found.append(Row(name, step_ms, outcome, cpu_ms))
        limits[name] = limit(scheme, starts, friction)
    return found, limits


def limit(scheme: Scheme, starts: Sequence[Start], friction: FrictionMap) -> Outcome:
    """Where a scheme tends to: its finest step, for a method of order one by Richardson's rule."""
    fine = rolled(scheme, starts, friction, LIMIT_MS / 1e3, END_PLANE_M)
    if isinstance(scheme, Creeping):
        return fine
    finer = rolled(scheme, starts, friction, LIMIT_MS / 2e3, END_PLANE_M)
    return Outcome(
        2 * finer.x_m - fine.x_m,
        2 * finer.angle_left_deg - fine.angle_left_deg,
        finer.energy_rise_jpkg,
        finer.slip_in_roll_mps,
        finer.wobble_mps2,
    )


def print_table(headings: Sequence[str], lines: Sequence[Sequence[str]]) -> None:
    """A table in Markdown."""
    for line in (headings, ["---"] * len(headings), *lines):
        print("| " + " | ".join(line) + " |")
    print()


def print_one_release(name: str, core: Core) -> None:
    """Release B with one core over the edge of the oil."""
    found, _ = rows([start_of(B, core)], edge)
    print(f"Release B, core of {name} ({'/'.join(f'{k:.2f}' for k in core.rg_in)} in):\n")
    print_table(
        ["scheme", "step, ms", "x, mm", "angle, deg", "energy rise, J/kg", "slip in roll, mm/s",
         "wobble, m/s2"],
        [
            [row.name, f"{row.step_ms:g}", f"{1e3 * row.outcome.x_m[0]:.2f}",
             f"{row.outcome.angle_left_deg[0]:.3f}", f"{row.outcome.energy_rise_jpkg[0]:.0e}",
             f"{1e3 * row.outcome.slip_in_roll_mps[0]:.1f}",
             f"{row.outcome.wobble_mps2[0]:.2f}"]
            for row in found
        ],
    )  # fmt: skip


def errors(x_m: NDArray[np.float64], angle_deg: NDArray[np.float64], true: Outcome) -> list[str]:
    """Largest errors of place [boards] and angle [degrees]."""
    parts = (x_m - true.x_m) / BOARD_M, angle_deg - true.angle_left_deg
    return [f"{np.abs(part).max():.4f}" for part in parts]


def print_many_releases() -> None:
    """Largest errors of many shots: against the scheme's own limit, and against ideal roll."""
    film_um, (deliveries, cores, x_m) = crowned_film_um(), random_shots(SHOTS)
    starts = [start_of(*shot) for shot in zip(deliveries, cores, x_m, strict=True)]
    found, limits = rows(starts, friction_on(film_um))
    ideal = limits["projected"]
    print(f"{SHOTS} random releases with strong cores on a film to 42 ft, largest errors:\n")
    headings = ["own limit, boards", "own limit, deg", "ideal roll, boards", "ideal roll, deg"]
    print_table(
        ["scheme", "step, ms", *headings, "CPU, ms a shot"],
        [
            [row.name, f"{row.step_ms:g}",
             *errors(row.outcome.x_m, row.outcome.angle_left_deg, limits[row.name]),
             *errors(row.outcome.x_m, row.outcome.angle_left_deg, ideal),
             f"{row.cpu_ms:.1f}"]
            for row in found
        ],
    )  # fmt: skip
    print("The same shots by the compiled kernel, creep 50 mm/s:\n")
    balls = bodies(cores, OIL_FRICTION.value + DRY_EXCESS, GAIN_PER_UM)
    thrown = replace(shots(deliveries, x_m), body=np.arange(SHOTS))
    lines = []
    for steps in (1, 2, 4):
        paths = roll_in_kernel(film_um[None], balls, thrown, steps=steps)
        angle_deg = np.degrees(np.arctan2(-paths.v_x_mps, paths.v_y_mps))
        lines.append(
            [
                str(steps),
                *errors(paths.x_m, angle_deg, limits["creep 50 mm/s"]),
                *errors(paths.x_m, angle_deg, ideal),
                f"{1e3 * kernel_ms(film_um, balls, thrown, steps):.1f}",
            ]
        )
    print_table(["steps a cell", *headings, "CPU, us a shot"], lines)


def kernel_ms(film_um: NDArray[np.float64], balls: Bodies, thrown: Shots, steps: int) -> float:
    """CPU time of one shot in a batch, milliseconds; the least of three."""
    many = Shots(*(np.repeat(getattr(thrown, name), REPEATS) for name in Shots.__slots__))
    spent = []
    for _ in range(3):
        began = time.process_time()
        roll_in_kernel(film_um[None], balls, many, steps=steps, record=False)
        spent.append(time.process_time() - began)
    return 1e3 * min(spent) / len(many)


if __name__ == "__main__":
    for core_name, core_of in CORES.items():
        print_one_release(core_name, core_of)
    print_many_releases()
