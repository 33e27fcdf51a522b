"""Logs of drawn days, and what the full reading makes of them: what the phone's is held to.

python tools/pocket_cases.py

Writes frontend/shared/reading_cases.json. On the first pair of the bundled event everything that
is not known is drawn as it is believed beforehand; the bowler throws practice and most of a game
from the planned line with her own scatter, sees what people see, and misses a fifth of it. For
each log the file holds the likelihood of the tables' draws by `nextpair.reading`, which rolls
every shot itself, and what lines about her own are worth by the full reading's belief.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace
from importlib.resources import as_file, files
from pathlib import Path
from typing import Any
from uuid import UUID

import numpy as np
from numpy.typing import NDArray

from nextpair.application.believed import belief_of, doubt_of
from nextpair.application.lane_story import lane_story, share_of_next
from nextpair.application.lane_tables import brought, lane_tables
from nextpair.application.mark_tables import NUMBERED
from nextpair.application.next_shot import DRAWS as MOVE_DRAWS
from nextpair.application.reading import Groundwork, groundwork, reading_of
from nextpair.application.settings import Settings
from nextpair.application.sheets import plan
from nextpair.bootstrap import Program
from nextpair.domain.event import Event
from nextpair.domain.lane_tables import HUNDREDTHS, LaneTable, LaneTables
from nextpair.domain.shot_log import LoggedShot
from nextpair.domain.sight import (
    BREAKPOINT_ERROR_BOARDS,
    ENTRY_ERROR_BOARDS,
    LAYDOWN_ERROR_BOARDS,
    TARGET_ERROR_BOARDS,
)
from nextpair.domain.units import DEGREE_RAD
from nextpair.domain.unknowns import OF_A_LANE
from nextpair.kernel.outcome import offset_boards_at
from nextpair.planning.next_move import bench_of, lane_now
from nextpair.reading.answers import Mark, Number, marks_at
from nextpair.reading.likelihood import (
    UNEVEN_BREAKPOINT_BOARDS,
    UNEVEN_ENTRY_BOARDS,
    inside_rows,
    number_rows,
)
from nextpair.reading.prior import Prior, usual_prior
from nextpair.reading.seen import seen_of
from nextpair.reading.update import likelihood_of
from nextpair.reports.sheet_json import plain
from nextpair.scoring.leaves import FULL_RACK, standing_pins

FloatArray = NDArray[np.float64]

TARGET_FILE = Path(__file__).parents[1] / "frontend" / "shared" / "reading_cases.json"
SEED = 7
LOGS = 16
WEIGHED = 4
"""Logs whose likelihood is told draw by draw."""
PRACTICE_SHOTS, FRAMES = 4, 8
SEEN_SHARE = 0.8
ABOUT_BOARDS: FloatArray = np.arange(-6.0, 6.01, 1.0)
ABOUT_DEG: FloatArray = np.arange(-1.5, 1.51, 0.25)
OWN_STRIDE = 37
"""From which place on each lane takes its own draws, as the phone does: times its number."""


def main() -> None:
    """Draw days, throw, read, and write it all down."""
    with as_file(files("nextpair") / "demo") as folder:
        event = replace(Program(Settings()).load_event(folder / "event.toml"), games=1)
    sheet = plan(event, SEED)
    tables = lane_tables(event, sheet, SEED)
    ground = groundwork(event, 1, SEED)
    own = {table.lane: table for table in tables.lanes if table.planned and table.game == 1}
    event = replace(event, locker=(*brought(event, sheet.bag),))
    logs = []
    for day in range(LOGS):
        rng = np.random.default_rng([SEED, day])
        shots = thrown(event, ground, own, rng)
        logs.append(case(event, ground, tables, own, shots, day < WEIGHED))
        print(f"day {day + 1} of {LOGS}", flush=True)
    document = {"reading": plain(tables), "logs": logs}
    TARGET_FILE.write_text(json.dumps(document, separators=(",", ":")) + "\n", "utf-8")
    print(f"wrote {TARGET_FILE}")


def thrown(
    event: Event, ground: Groundwork, own: dict[int, LaneTable], rng: np.random.Generator
) -> list[LoggedShot]:
    """One day's shots as the bowler writes them down; she is right-handed."""
    meant = [shot(event, own, number) for number in range(PRACTICE_SHOTS + FRAMES)]
    story = lane_story(event, meant, ground.films, ground.table)
    prior = usual_prior(sorted(own))
    truth = prior.sd * rng.normal(size=len(prior))
    count = len(meant)
    numbers = number_rows(prior, story.lane) @ truth
    scatter = event.bowler.scatter
    slips = rng.normal(size=(count, 5)) * [
        scatter.laydown_boards,
        scatter.launch_angle_rad,
        scatter.speed_mps,
        scatter.rev_rate_radps / event.bowler.release.rev_rate_radps,
        scatter.axis_rotation_rad,
    ]
    angles = np.array([own[lane].angle / HUNDREDTHS * DEGREE_RAD for lane in story.lane.tolist()])
    numbers[:, Number.LAYDOWN] = [one.meant_laydown_board for one in meant]
    numbers[:, Number.ANGLE] = angles
    numbers[:, Number.LAYDOWN : Number.ROTATION + 1] += slips
    marks = marks_at(story, range(count), numbers[:, None, None])[:, 0, 0]
    marks[:, Mark.ENTRY] += inside_rows(prior, story.lane) @ truth
    marks[:, Mark.ENTRY] += UNEVEN_ENTRY_BOARDS * rng.normal(size=count)
    marks[:, Mark.BREAKPOINT] += UNEVEN_BREAKPOINT_BOARDS * rng.normal(size=count)
    return [
        written(one, numbers[row, Number.LAYDOWN], marks[row], ground, rng)
        for row, one in enumerate(meant)
    ]


def shot(event: Event, own: dict[int, LaneTable], number: int) -> LoggedShot:
    """What she is about to throw: the planned line of the lane."""
    practice = number < PRACTICE_SHOTS
    frame = number + 1 if practice else number - PRACTICE_SHOTS + 1
    lane = event.start_pair.lanes[(frame - 1) % 2]
    table = own[lane]
    board = table.laydown / HUNDREDTHS
    slope = np.tan(table.angle / HUNDREDTHS * DEGREE_RAD)
    target = board - 15 * 12 / (41.5 / 39) * slope - table.target_off / HUNDREDTHS
    return LoggedShot(
        id=UUID(int=number + 1),
        time="",
        game=0 if practice else 1,
        frame=frame,
        delivery=1,
        lane=lane,
        ball=table.ball,
        meant_laydown_board=round(board, 2),
        meant_target_board=round(float(target), 2),
    )


def written(
    meant: LoggedShot,
    laydown: float,
    marks: FloatArray,
    ground: Groundwork,
    rng: np.random.Generator,
) -> LoggedShot:
    """The shot with what she saw of it."""
    off = rng.normal(size=4)
    told = {
        "laydown_board": laydown + LAYDOWN_ERROR_BOARDS * off[0],
        "target_board": marks[Mark.TARGET] + TARGET_ERROR_BOARDS * off[1],
        "breakpoint_board": marks[Mark.BREAKPOINT] + BREAKPOINT_ERROR_BOARDS * off[2],
        "entry_board": marks[Mark.ENTRY] + ENTRY_ERROR_BOARDS * off[3],
    }
    looked = rng.random(len(told)) < SEEN_SHARE
    seen = {
        name: round(2 * float(np.clip(board, 0.5, 39.5))) / 2
        for (name, board), saw in zip(told.items(), looked, strict=True)
        if saw
    }
    offset = offset_boards_at(20.0 - marks[Mark.ENTRY], marks[Mark.ANGLE])
    chances = ground.table.leave_probability(offset, marks[Mark.ANGLE], marks[Mark.SPEED])
    leave = int(rng.choice(ground.table.leaves, p=chances / chances.sum()))
    return replace(
        meant,
        **seen,
        standing_before=frozenset(standing_pins(FULL_RACK)),
        standing_after=frozenset(standing_pins(leave)),
    )


def case(
    event: Event,
    ground: Groundwork,
    tables: LaneTables,
    own: dict[int, LaneTable],
    shots: Sequence[LoggedShot],
    weighed: bool,
) -> dict[str, Any]:
    """One log, and what the full reading makes of it."""
    reading = reading_of(event, shots, ground, SEED)
    doubt = doubt_of(belief_of(reading), event.bowler, MOVE_DRAWS, SEED)
    bench = bench_of(event, event.locker, 1, ground.pins)
    lanes = []
    for lane, table in sorted(own.items()):
        now = lane_now(event, ground.films, doubt, lane, 1, share_of_next(event, shots))
        ball = [one.name for one in event.locker].index(table.ball)
        values = bench.values(now, [ball])
        mean = values.mean_value[0]
        grid = values.grid
        about = [
            [
                round(
                    float(mean[grid.cell_of(table.laydown / 100 + boards, angle * DEGREE_RAD)]), 1
                )
                for angle in table.angle / 100 + ABOUT_DEG
            ]
            for boards in ABOUT_BOARDS
        ]
        lanes.append({"lane": lane, "best": round(float(mean.max()), 1), "about": about})
    found: dict[str, Any] = {
        "shots": [jotted(one) for one in shots],
        "lanes": lanes,
        "means": {
            name: round(float(reading.column(name).mean() / unknown.spread), 3)
            for unknown, _ in NUMBERED
            for name in (unknown.name,)
        },
    }
    if weighed:
        log = log_likelihood(event, ground, tables, shots)
        found["log_likelihood"] = [round(float(value), 2) for value in log - log.max()]
    return found


def log_likelihood(
    event: Event, ground: Groundwork, tables: LaneTables, shots: Sequence[LoggedShot]
) -> FloatArray:
    """Log likelihood of the tables' draws by the full reading's own answers."""
    lanes = sorted({one.lane for one in shots})
    prior = usual_prior(lanes)
    story = lane_story(event, shots, ground.films, ground.table)
    seen = seen_of(shots, event.bowler.hand)
    return likelihood_of(prior, story, seen).of(unknowns(tables, prior, lanes))


def unknowns(tables: LaneTables, prior: Prior, lanes: Sequence[int]) -> FloatArray:
    """The tables' draws (m, p) as the full reading counts them."""
    found = np.zeros((len(tables.draws[0]), len(prior)))
    for (unknown, _), column in zip(NUMBERED, tables.draws, strict=True):
        found[:, prior.place(unknown.name)] = unknown.spread * np.array(column) / HUNDREDTHS
    for lane in lanes:
        for unknown, column in zip(OF_A_LANE, tables.own_draws, strict=True):
            own = np.roll(np.array(column), -OWN_STRIDE * lane)
            found[:, prior.place(unknown.on(lane))] = unknown.spread * own / HUNDREDTHS
    return found


def jotted(one: LoggedShot) -> dict[str, Any]:
    """A shot as a phone's log holds it."""
    names = (
        "game", "frame", "delivery", "lane", "ball", "laydown_board", "target_board",
        "meant_laydown_board", "meant_target_board", "breakpoint_board", "entry_board",
    )  # fmt: skip
    told = {name: getattr(one, name) for name in names if getattr(one, name) is not None}
    pins = {
        name: sorted(getattr(one, name) or ()) for name in ("standing_before", "standing_after")
    }
    return told | pins


if __name__ == "__main__":
    main()
