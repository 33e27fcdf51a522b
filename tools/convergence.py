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
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import RectBivariateSpline

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests"))

from nextpair.domain.lane import BOARD_M, BOARDS, CELL_M, CELLS, END_PLANE_M, board_to_x_m
from nextpair.physics.reference import Start
from reference.kernel_lane import Core, start_of
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
SHOTS = 40
GAIN_PER_UM, OIL_FRICTION, DRY_EXCESS = 1.9, 0.03, 0.18


def edge(_x_m: NDArray[np.float64], y_m: NDArray[np.float64]) -> NDArray[np.float64]:
    """Friction 0.04 on oil and 0.20 beyond, passing over within a metre."""
    share = np.clip(y_m - 12.192 + 0.5, 0.0, 1.0)
    return np.asarray(0.04 + 0.16 * share * share * (3 - 2 * share))


def crowned_film() -> FrictionMap:
    """Friction on an invented film to 42 ft, thickest in the middle."""
    boards, cells = np.arange(BOARDS), np.arange(CELLS)
    across = 0.6 + 2.2 * np.exp(-(((boards - 19) / 11.0) ** 2))
    film_um = np.clip((84 - cells) / 30, 0, 1)[:, None] * across
    down_m, right_m = (np.arange(CELLS) + 0.5) * CELL_M, board_to_x_m(1.0 + boards)
    surface = RectBivariateSpline(down_m, right_m[::-1], film_um[:, ::-1], kx=1, ky=1)

    def friction(x_m: NDArray[np.float64], y_m: NDArray[np.float64]) -> NDArray[np.float64]:
        film = np.maximum(surface.ev(y_m, x_m), 0.0)
        return np.asarray(OIL_FRICTION + DRY_EXCESS * np.exp(-((film * GAIN_PER_UM) ** 1.5)))

    return friction


def random_starts(count: int) -> list[Start]:
    """Releases of all kinds of bowlers, with strong cores laid out at random."""
    rng = np.random.default_rng(7)
    return [
        start_of(
            Delivery(
                rng.normal(8.0, 0.45),
                rng.normal(1.8, 1.0),
                rng.normal(390, 70),
                rng.normal(50, 12),
                rng.normal(13, 5),
            ),
            Core((2.48, 2.54, 2.515), rng.uniform(25, 75), rng.uniform(20, 90)),
            x_m=rng.normal(-0.15, 0.12),
        )
        for _ in range(count)
    ]


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


def print_many_releases() -> None:
    """Largest errors of many shots: against the scheme's own limit, and against ideal roll."""
    found, limits = rows(random_starts(SHOTS), crowned_film())
    ideal = limits["projected"]

    def errors(row: Row) -> list[str]:
        here = row.outcome
        return [
            f"{np.abs(part).max():.4f}"
            for other in (limits[row.name], ideal)
            for part in (
                (here.x_m - other.x_m) / BOARD_M,
                here.angle_left_deg - other.angle_left_deg,
            )
        ]

    print(f"{SHOTS} random releases with strong cores on a film to 42 ft, largest errors:\n")
    print_table(
        ["scheme", "step, ms", "own limit, boards", "own limit, deg", "ideal roll, boards",
         "ideal roll, deg", "CPU, ms a shot"],
        [
            [row.name, f"{row.step_ms:g}", *errors(row), f"{row.cpu_ms:.1f}"]
            for row in found
        ],
    )  # fmt: skip


if __name__ == "__main__":
    for core_name, core_of in CORES.items():
        print_one_release(core_name, core_of)
    print_many_releases()
