"""Whether a debrief names what went wrong, in events that were bowled in simulated worlds.

    python tools/debrief_worlds.py --worlds 200 --processes 16 --lines build/worlds.jsonl

Events are drawn (planning.scenarios) and bowled in worlds of their own, once with nothing planted
and once with each cause; a debrief of the log alone then says what it finds. Every debrief becomes
a line of JSON in the file, as it is done; at the end one line for each cause is printed: how often
it was named among the findings, and how often each kind of finding was told. What was planted is
named where the finding's key begins with its word.

A surface or a late move that costs fewer than COSTLY_PINS a game in truth, by the expected scores
of the same world bowled without it, is no mistake: such worlds are counted apart and not asked.
With --worlds 0 the lines that are there are summed up.
"""

from __future__ import annotations

import argparse
import json
import os
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from multiprocessing import get_context
from pathlib import Path
from statistics import fmean
from time import process_time
from typing import Any

os.environ.setdefault("NUMBA_NUM_THREADS", "1")

from nextpair.application.settings import resolve_settings
from nextpair.bootstrap import Program, prepare_compiler

GAMES = 5
COSTLY_PINS = 4.0
CAUSES = {
    "none": "",
    "wrong surface": "surface: ",
    "worse spares": "spares: ",
    "late moves": "moves: ",
    "slower speed": "release: speed",
}
"""How the key of the finding begins that names a cause."""
ACCUSING = ("surface", "spares", "moves", "release")
"""Kinds of finding that say that the bowler did something wrong."""
MUST_COST = ("wrong surface", "late moves")
ROUGH, SMOOTH, MIDDLE_GRIT, ALMOST_POLISHED = 500, "polished", 1500, 6000
PARTS = (
    "planned_score", "lane_pins", "release_pins", "choice_pins", "strays_pins", "carry_pins",
    "strays_and_carry_pins", "spares_pins", "regret_pins",
)  # fmt: skip


def main() -> None:
    """Bowl, ask, and count."""
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("--worlds", type=int, default=8, help="of each cause")
    arguments.add_argument("--events", type=int, default=0, help="as many as processes if left")
    arguments.add_argument("--first-event", type=int, default=0)
    arguments.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    arguments.add_argument("--seed", type=int, default=11)
    arguments.add_argument("--cause", choices=list(CAUSES), action="append")
    arguments.add_argument("--lines", type=Path, default=Path("build/worlds.jsonl"))
    asked = arguments.parse_args()
    causes = asked.cause or list(CAUSES)
    if asked.worlds:
        asked.lines.parent.mkdir(parents=True, exist_ok=True)
        events = asked.events or min(asked.processes, asked.worlds)
        each = -(-asked.worlds // events)
        with ProcessPoolExecutor(asked.processes, mp_context=get_context("spawn")) as pool:
            jobs = [
                pool.submit(
                    debrief_event,
                    asked.first_event + event,
                    range(event * each, min((event + 1) * each, asked.worlds)),
                    causes,
                    asked.seed,
                    asked.lines,
                )
                for event in range(events)
            ]
        for job in jobs:
            job.result()
    told = [json.loads(line) for line in asked.lines.read_text("utf-8").splitlines()]
    for cause in causes:
        print(json.dumps(summed_up(cause, [one for one in told if one["cause"] == cause])))


def debrief_event(number: int, worlds: range, causes: list[str], seed: int, lines: Path) -> None:
    """Write down the findings of one event in some worlds, with each cause planted."""
    program = Program(resolve_settings({}, {}))
    prepare_compiler(program.settings)
    from nextpair.application.debrief import debrief
    from nextpair.application.reading import Groundwork
    from nextpair.application.sheets import plan
    from nextpair.application.simulated_event import Planted, simulate_event
    from nextpair.carry.table import load_table
    from nextpair.domain.typical import BALL_MASS_KG
    from nextpair.planning.contenders import prepare
    from nextpair.planning.scenarios import drawn_event

    event = replace(drawn_event(program.load_library(), number, seed), games=GAMES)
    table = load_table(BALL_MASS_KG, event.house.pinfall)
    prepared = prepare(event, table, seed)
    sheet = plan(event, seed)
    ground = Groundwork(table, prepared.spare_chance, prepared.pins, prepared.films)
    grit = prepared.options[prepared.bag[0]].surface.grit or ALMOST_POLISHED
    planted = {
        "none": Planted(),
        "wrong surface": Planted(surface_grit=SMOOTH if grit < MIDDLE_GRIT else ROUGH),
        "worse spares": Planted(spares_log_odds=-1.0),
        "late moves": Planted(late_shots=5),
        "slower speed": Planted(slower_mph=1.0),
    }
    for world in worlds:
        unspoilt = simulate_event(prepared, world, seed)
        for cause in causes:
            begun_s = process_time()
            bowled = unspoilt
            if cause != "none":
                bowled = simulate_event(prepared, world, seed, planted[cause])
            lost = fmean(unspoilt.expected_scores) - fmean(bowled.expected_scores)
            bowled_s = process_time() - begun_s
            line = {"cause": cause, "event": number, "world": world, "lost_pins": lost}
            if cause in MUST_COST and lost < COSTLY_PINS:
                write(lines, line)
                continue
            told = debrief(event, bowled.shots, sheet, seed, ground=ground)
            games = max(len(told.games), 1)
            line |= {
                "planned_grit": grit,
                "findings": [one.key for one in told.findings],
                "costs": [one.cost_pins_per_game for one in told.findings],
                "sure": [one.sure_probability for one in told.findings],
                "scores": [game.score for game in told.games],
                "parts": [
                    sum(getattr(game, part) or 0.0 for game in told.games) / games
                    for part in PARTS
                ],
                "late": [(one.shots_late, one.cost_pins) for one in told.late_moves],
                "spares": [
                    (one.kind, one.made, one.tried, one.so_few_probability) for one in told.spares
                ],
                "bowled_s": bowled_s,
                "debrief_s": process_time() - begun_s - bowled_s,
            }
            write(lines, line)


def write(lines: Path, line: dict[str, Any]) -> None:
    """Add one line to the file; whole lines of several processes do not mix."""
    with lines.open("a", encoding="utf-8") as file:
        file.write(json.dumps(line) + "\n")


def summed_up(cause: str, told: list[dict[str, Any]]) -> dict[str, Any]:
    """Of the worlds of one cause: how many named it, how many accused of anything."""
    every, told = len(told), [one for one in told if "findings" in one]
    count = max(len(told), 1)
    kinds = [{key.partition(":")[0] for key in one["findings"]} for one in told]
    named = sum(any(key.startswith(CAUSES[cause]) for key in one["findings"]) for one in told)
    return {
        "cause": cause,
        "worlds": len(told),
        "without_a_cost": every - len(told),
        "named": None if cause == "none" else named / count,
        "accused": sum(bool(found & set(ACCUSING)) for found in kinds) / count,
        "findings": dict(Counter(kind for found in kinds for kind in found)),
        "parts": {
            part: round(sum(one["parts"][place] for one in told) / count, 1)
            for place, part in enumerate(PARTS)
        },
        "bowled_s": round(sum(one["bowled_s"] for one in told) / count, 1),
        "debrief_s": round(sum(one["debrief_s"] for one in told) / count, 1),
    }


if __name__ == "__main__":
    main()
