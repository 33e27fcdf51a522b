"""Fit one lane to the robot's published shots and write docs/validation/robot.md.

The page is tools/robot.md with its figures. They are made in tests/reference: the shots stand in
data/robot_shots.toml, robot_lane.py says what a lane may be, robot_fit.py does the least squares.
The fitted numbers go to docs/validation/robot.toml, where the test starts from.

    python tools/robot.py            fit and write both
    python tools/robot.py --check    fit again from the numbers on file; fail if the fit moves
"""

from __future__ import annotations

import argparse
import math
import sys
import tomllib
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "tests"))

from nextpair.application.settings import Settings  # noqa: E402
from nextpair.bootstrap import prepare_compiler  # noqa: E402

prepare_compiler(Settings())

from nextpair.domain.ball import Surface  # noqa: E402
from nextpair.domain.lane import x_to_board  # noqa: E402
from nextpair.domain.units import CENTIPOISE_PAS, FOOT_M, INCH_M, OIL_UNIT_UM  # noqa: E402
from nextpair.physics.constants import (  # noqa: E402
    DRY_FRICTION,
    MEAN_OIL_VISCOSITY_PAS,
    OIL_FRICTION,
)
from nextpair.physics.dressing import film_of  # noqa: E402
from nextpair.physics.film import pattern_ratio, volume_ml  # noqa: E402
from nextpair.physics.oil import oil_friction  # noqa: E402
from reference.record import load_entry  # noqa: E402
from reference.robot_fit import Problem, Solution, rms  # noqa: E402
from reference.robot_lane import (  # noqa: E402
    AUTHORITY,
    AXIS_TILT_DEG,
    BALL,
    CONFOUNDED_BOARDS_PER_MPH,
    CROWN_EDGE_BOARDS,
    END_FT,
    END_SHARE,
    FAMILY,
    FITTED,
    NAMES,
    SLOWEST_MPH,
    Number,
    published_shots,
    robot_lane,
    rolled,
)

PAGE = ROOT / "docs" / "validation" / "robot.md"
TEXT = ROOT / "tools" / "robot.md"
NUMBERS = ROOT / "docs" / "validation" / "robot.toml"
STARTS = 24
FEWER_STARTS = 6
ROOM_C = 21.0
SCAN_CP = (12.0, 16.0, 20.0, 27.0, 34.68, 50.0)
EVEN = {"edge_board": -100.0}
"""No edge within the lane: every board has the film inside."""
EVEN_LANE = (
    "length_ft", "inside_um", "viscosity_cp", "dry_factor", "rev_rate_rpm", "axis_rotation_deg",
    "wear_per_mph",
)  # fmt: skip
USUAL = {"viscosity_cp": MEAN_OIL_VISCOSITY_PAS.value / CENTIPOISE_PAS}
STORY = {
    "length_ft": "length",
    "viscosity_cp": "viscosity",
    "dry_factor": "dry friction ×",
    "rev_rate_rpm": "rev rate",
    "axis_rotation_deg": "axis rotation",
}
CORE_M = 0.045 * INCH_M
CLOSE = 0.7
"""Correlations from here on are told."""
GOODNESS = ("rms, boards", "rms, deg", "χ²/ν")
OUTERMOST = (15.0, -2.0)
"""Lay-down and trajectory of the shots that run where no others do."""


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A table of the page."""
    lines = [head, ["---"] * len(head), *rows]
    return "".join(f"| {' | '.join(cells)} |\n" for cells in lines)


def number_named(name: str) -> Number:
    """One number of the family."""
    return FAMILY[NAMES.index(name)]


def figures(value: float) -> str:
    """A fitted number to three figures."""
    return f"{value:#.3g}".rstrip(".")


def shots_table(best: Solution, unseen: np.ndarray) -> str:
    """Each shot: settings, measured, fitted less measured, predicted unseen less measured."""
    shots = best.problem.shots
    rows = [
        [
            f"{laydown:g}", f"{trajectory:.1f}", f"{mph:.1f}",
            f"{board:.1f}", f"{degrees:.1f}", f"{sigma[0]:.2f}",
            *(f"{value:+.2f}" for value in (*fitted, *guessed)),
        ]
        for (laydown, trajectory, mph), (board, degrees), sigma, fitted, guessed in zip(
            shots.settings, shots.measured, shots.sigma, best.left, unseen, strict=True
        )
    ]  # fmt: skip
    head = ["lay-down", "trajectory, deg", "mph", "entry board", "entry, deg", "sd, boards"]
    fit = ["fit, boards", "fit, deg", "unseen, boards", "unseen, deg"]
    return table([*head, *fit], rows)


def numbers_table(best: Solution) -> str:
    """The fitted numbers with their doubt, and those that were held."""
    rows = [
        [
            number.words,
            f"{figures(best.values[number.name])} {number.unit}".strip(),
            doubt(best, number.name) or "held",
            f"{number.low:g} to {number.high:g}",
            number.why,
        ]
        for number in FAMILY
    ]
    return table(["number", "value", "one sd", "range", "why that range"], rows)


def doubt(found: Solution, name: str) -> str:
    """One standard deviation of a number, in words; nothing where it is not fitted.

    Shots do not tell a number whose deviation spans its range.
    """
    if name not in found.problem.free:
        return ""
    sd = found.deviation[found.problem.free.index(name)]
    number = number_named(name)
    if np.isnan(sd):
        return "at its limit"
    return f"± {sd:.2g}" if sd < 0.5 * (number.high - number.low) else "not told"


def correlations(best: Solution) -> str:
    """Pairs of numbers that the shots tell apart badly."""
    words = [number_named(name).words for name in best.problem.free]
    related = [
        (best.correlation[a, b], f"{words[a]} with {words[b]}")
        for a, b in combinations(range(len(words)), 2)
        if abs(best.correlation[a, b]) >= CLOSE
    ]
    related.sort(key=lambda pair: -abs(pair[0]))
    return "; ".join(f"{pair} {value:+.2f}" for value, pair in related) or "none"


def other_choices(best: Solution) -> str:
    """What the same shots say of other families: more numbers, fewer, or other ones."""
    shots = best.problem.shots
    pattern = tuple(name for name in FITTED if name != "viscosity_cp")
    choices = {
        "dry friction free too": Problem(shots, (*FITTED, "dry_factor")),
        "film inside free too": Problem(shots, (*FITTED, "inside_um")),
        "axis rotation free too": Problem(shots, (*FITTED, "axis_rotation_deg")),
        "both frictions as usual": Problem(shots, pattern, USUAL),
        "oil friction as usual, dry friction free": Problem(
            shots, (*pattern, "dry_factor"), USUAL
        ),
        "both frictions as usual, axis rotation free": Problem(
            shots, (*pattern, "axis_rotation_deg"), USUAL
        ),
        "no wear: speed at its word": Problem(shots, FITTED[:-1], {"wear_per_mph": 0.0}),
        "a rougher ball, 500 grit": Problem(shots, ball=replace(BALL, surface=Surface(500))),
        "a smoother ball, 4000 grit": Problem(shots, ball=replace(BALL, surface=Surface(4000))),
        "a strong core, 0.045 in": Problem(shots, ball=replace(BALL, differential_m=CORE_M)),
        "same film on every board": Problem(shots, EVEN_LANE, EVEN),
    }
    found = {"as fitted": best}
    found |= {words: problem.best(FEWER_STARTS) for words, problem in choices.items()}
    head = ["choice", "numbers", *GOODNESS, "what they become"]
    return table(
        head,
        (
            [words, str(len(other.problem.free)), *goodness(other), story(other)]
            for words, other in found.items()
        ),
    )


def goodness(found: Solution) -> list[str]:
    """Cells: root mean squares and the weighted squares for each degree of freedom."""
    boards, degrees = found.rms
    return [f"{boards:.2f}", f"{degrees:.2f}", f"{found.squares / found.freedom:.1f}"]


def story(found: Solution) -> str:
    """The numbers of a solution that tell its story."""
    return ", ".join(
        f"{words} {figures(found.values[name])} ({doubt(found, name)})"
        for name, words in STORY.items()
        if name in found.problem.free
    )


def scan(best: Solution) -> str:
    """The best fit at each oil friction, with dry friction free."""
    shots = best.problem.shots
    free = (*(name for name in FITTED if name != "viscosity_cp"), "dry_factor")
    dry = DRY_FRICTION[BALL.cover.value].value
    rows = []
    for viscosity_cp in SCAN_CP:
        found = Problem(shots, free, {"viscosity_cp": viscosity_cp}).best(FEWER_STARTS)
        friction = oil_friction(viscosity_cp * CENTIPOISE_PAS, ROOM_C)
        rows.append(
            [f"{viscosity_cp:g}", f"{friction:.3f}", *goodness(found),
             f"{dry * found.values['dry_factor']:.2f}", f"{found.values['length_ft']:.1f}",
             f"{found.values['rev_rate_rpm']:.0f}"]
        )  # fmt: skip
    head = ["viscosity, cP", "oil friction", *GOODNESS]
    return table([*head, "dry friction", "length, ft", "rev rate, rpm"], rows)


def page(best: Solution) -> str:
    """The document."""
    unseen = best.unseen()
    entry, repeats = load_entry(AUTHORITY, "shots"), load_entry(AUTHORITY, "repeats")
    shots = best.problem.shots
    outermost = np.array([setting[:2] == OUTERMOST for setting in shots.settings])
    parts = {
        "source": entry["source"],
        "noise": f"{repeats['entry_boards']:g} board and {repeats['entry_deg']:g} degree",
        "slowest": f"{SLOWEST_MPH:g}",
        "confounded": f"{CONFOUNDED_BOARDS_PER_MPH:g}",
        "fitted": str(len(FITTED)),
        "values": str(best.left.size),
        "starts": str(STARTS),
        "boards": f"{best.rms[0]:.2f}",
        "degrees": f"{best.rms[1]:.2f}",
        "reduced": f"{best.squares / best.freedom:.1f}",
        "usual_oil_friction": f"{OIL_FRICTION.value:g}",
        "freedom": str(best.freedom),
        "shots": shots_table(best, unseen),
        "numbers": numbers_table(best),
        "lane": lane_words(best),
        "related": correlations(best),
        "unseen_boards": f"{rms(unseen)[0]:.2f}",
        "unseen_degrees": f"{rms(unseen)[1]:.2f}",
        "inner_boards": f"{rms(unseen[~outermost])[0]:.2f}",
        "inner_degrees": f"{rms(unseen[~outermost])[1]:.2f}",
        "outer_boards": f"{rms(unseen[outermost])[0]:.1f}",
        "choices": other_choices(best),
        "scan": scan(best),
        "tilt": f"{AXIS_TILT_DEG:g}",
        "edge": f"{CROWN_EDGE_BOARDS * 2.0 * math.log(9.0):.1f}",
        "inside": f"{best.values['inside_um']:g}",
        "end_share": f"{100 * END_SHARE:g}",
        "end_ft": f"{END_FT:g}",
    }
    return TEXT.read_text("utf-8").format(**parts)


def lane_words(best: Solution) -> str:
    """The fitted lane as a lane sheet would tell it, and where the path furthest right turns."""
    lane = robot_lane(best.values, SLOWEST_MPH)
    film = film_of(lane.pattern)
    paths = rolled(best.row, best.problem.shots)
    outermost = int(paths.break_x_m.argmax())
    pattern = lane.pattern
    friction = oil_friction(pattern.viscosity_pas, lane.house.temperature_c)
    return (
        f"{volume_ml(film):.1f} mL, inside to outside {pattern_ratio(film, pattern.length_m):.1f} "
        f"to 1, {best.values['inside_um'] / OIL_UNIT_UM:.0f} units inside and "
        f"{best.values['outside_um'] / OIL_UNIT_UM:.0f} outside in front; friction {friction:.3f} "
        f"on oil, {DRY_FRICTION[BALL.cover.value].value * best.values['dry_factor']:.2f} off it. "
        f"The path furthest right turns at board {x_to_board(paths.break_x_m[outermost]):.1f}, "
        f"{paths.break_m[outermost] / FOOT_M:.0f} ft down"
    )


def render_numbers(best: Solution) -> str:
    """The fitted numbers as a file."""
    lines = [f"{name} = {value:.6g}" for name, value in best.values.items()]
    return "# Written by tools/robot.py.\n\n" + "\n".join(lines) + "\n"


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true", help="fail if the page is stale")
    problem = Problem(published_shots())
    if not parser.parse_args().check:
        best = problem.best(STARTS)
        PAGE.parent.mkdir(exist_ok=True)
        PAGE.write_text(page(best), encoding="utf-8")
        NUMBERS.write_text(render_numbers(best), encoding="utf-8")
        return 0
    filed = problem.shares(tomllib.loads(NUMBERS.read_text("utf-8")))
    if not Solution(problem, filed).settled:
        print(f"robot: {PAGE.relative_to(ROOT)} is stale; run python tools/robot.py")
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
