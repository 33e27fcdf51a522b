"""Twelve shots of the demo's bowler on her first pair, thrown on lanes whose truth is known.

python tools/demo_shots.py

Writes src/nextpair/demo/shots.csv. The lanes have 10 % more dry friction and 5 % less oil than
planned; everything else is as planned, her own release too. She throws the same ball from the same
line all the time: four shots of practice and the first balls of eight frames. In frame 5 she pulls
one by three of her own deviations, and does not note it. What she sees is off as domain/sight.py
says, and told in half boards; some of it she does not see.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from importlib.resources import as_file, files
from pathlib import Path
from uuid import UUID

import numpy as np

from nextpair.application.lane_story import ball_thrown, share_of_stage
from nextpair.application.sheets import typical_weight_kg
from nextpair.carry.table import CarryTable, load_table
from nextpair.domain.entry import level_boards
from nextpair.domain.event import Event
from nextpair.domain.lane import CENTRE_BOARD
from nextpair.domain.shot_log import PRACTICE, LoggedShot
from nextpair.domain.sight import (
    BREAKPOINT_ERROR_BOARDS,
    ENTRY_ERROR_BOARDS,
    LAYDOWN_ERROR_BOARDS,
    SPEED_ERROR_MPH,
    TARGET_ERROR_BOARDS,
)
from nextpair.domain.units import DEGREE_RAD, MPH_MPS
from nextpair.files import load_event, shots_text
from nextpair.kernel.layout import bodies_of, own_frame
from nextpair.kernel.roll import Paths, roll
from nextpair.kernel.throws import (
    Errors,
    erring_shots,
    lane_kind,
    own_boards_of,
    release_errors,
)
from nextpair.physics.dressing import film_of
from nextpair.planning.aim import pin_value
from nextpair.planning.condition import Condition
from nextpair.planning.sheet import SPEED_KEPT
from nextpair.planning.spare_shots import spare_chances
from nextpair.planning.traffic import LaneFilms, lane_films, starting_ball, throwers
from nextpair.scoring.leaves import FULL_RACK, standing_pins

TARGET_FILE = Path(__file__).parents[1] / "src" / "nextpair" / "demo" / "shots.csv"
SEED = 4
DRY_FACTOR, FILM_FACTOR = 1.1, 0.95
BALL, GRIT, USUAL_MPH = "Candle Stub", 1000, 17.4
MEANT_LAYDOWN, MEANT_TARGET, ANGLE_DEG = 20.0, 13.5, 2.42
PULLED_FRAME, PULLED_DEVIATIONS = 5, -3.0
PRACTICE_SHOTS, FRAMES = 4, 8
START, BETWEEN_SHOTS = datetime(2026, 10, 17, 9, 46), timedelta(minutes=3)
SEEN_SHARE = {"laydown_board": 0.9, "breakpoint_board": 0.9, "entry_board": 0.9, "speed_mph": 0.5}
"""How often she tells what; the board at the arrows and the pins she always tells."""


def main() -> None:
    """Throw, look, and write down what was seen."""
    with as_file(files("nextpair") / "demo") as folder:
        event = load_event(folder / "event.toml")
    table = load_table(typical_weight_kg(event.locker), event.house.pinfall)
    films = true_films(event, table)
    errors = release_errors(event.bowler.scatter, PRACTICE_SHOTS + FRAMES, SEED)
    rng = np.random.default_rng(SEED)
    shots = []
    for number in range(PRACTICE_SHOTS + FRAMES):
        thrown = meant_shot(event, number)
        slip = one_of(errors, number)
        if (thrown.game, thrown.frame) == (1, PULLED_FRAME):
            pulled = PULLED_DEVIATIONS * event.bowler.scatter.launch_angle_rad
            slip = replace(slip, launch_angle_rad=np.array([pulled]))
        shots.append(seen(thrown, slip, rolled(event, films, thrown, slip), table, rng))
    TARGET_FILE.write_text(shots_text(shots), "utf-8")
    print(f"wrote {TARGET_FILE}")


def true_films(event: Event, table: CarryTable) -> LaneFilms:
    """Films of the first pair as they really are."""
    spares = spare_chances(event, table.leaves, SEED)
    pins = pin_value(table, spares, SPEED_KEPT * event.bowler.release.speed_mps)
    dressed = {
        lane: FILM_FACTOR * film_of(event.pattern_of(lane)) for lane in event.start_pair.lanes
    }
    return lane_films(
        replace(event, games=1),
        throwers(event, starting_ball(event)),
        pins,
        SEED,
        lambda _label, _done, _total: None,
        Condition(dressed=dressed, dry_factor=DRY_FACTOR),
    )


def meant_shot(event: Event, number: int) -> LoggedShot:
    """What she is about to throw."""
    game, frame = (
        (PRACTICE, number + 1) if number < PRACTICE_SHOTS else (1, number - PRACTICE_SHOTS + 1)
    )
    return LoggedShot(
        id=UUID(int=0x5A1D << 112 | 4 << 76 | 2 << 62 | number + 1),
        time=(START + number * BETWEEN_SHOTS).isoformat(timespec="minutes"),
        game=game,
        frame=frame,
        delivery=1,
        lane=event.start_pair.lanes[(frame - 1) % 2],
        ball=BALL,
        meant_laydown_board=MEANT_LAYDOWN,
        meant_target_board=MEANT_TARGET,
        surface_grit=GRIT,
    )


def rolled(event: Event, films: LaneFilms, shot: LoggedShot, slip: Errors) -> Paths:
    """Where it really goes."""
    hand, bowler = event.bowler.hand, event.bowler
    start, end = films.at(shot.lane, shot.game), films.at(shot.lane, shot.game + 1)
    film = start + share_of_stage(event, shot) * (end - start)
    kind = lane_kind(event.lane(shot.lane), hand)
    thrown = erring_shots(
        bowler.release,
        kind,
        slip,
        own_laydown=MEANT_LAYDOWN,
        launch_angle_rad=ANGLE_DEG * DEGREE_RAD,
        dry_factor=DRY_FACTOR,
    )
    bodies = bodies_of([ball_thrown(event, shot)], event.house, bowler.pap_m)
    return roll(kind.under(own_frame(film, hand)), bodies, thrown)


def seen(
    shot: LoggedShot, slip: Errors, paths: Paths, table: CarryTable, rng: np.random.Generator
) -> LoggedShot:
    """The shot as she writes it down; she is right-handed, so own boards are boards."""
    impact = paths.impact
    offset, angle = float(impact.offset_boards[0]), float(impact.entry_angle_deg[0])
    chances = table.leave_probability(
        impact.offset_boards, impact.entry_angle_deg, impact.speed_mps
    )
    leave = table.leaves[int(rng.choice(len(table.leaves), p=chances[0] / chances[0].sum()))]
    errors = rng.normal(size=5)
    told = {
        "laydown_board": MEANT_LAYDOWN
        + float(slip.laydown_boards[0])
        + LAYDOWN_ERROR_BOARDS * errors[0],
        "target_board": float(own_boards_of(paths.arrows_x_m[0]))
        + TARGET_ERROR_BOARDS * errors[1],
        "breakpoint_board": float(own_boards_of(paths.break_x_m[0]))
        + BREAKPOINT_ERROR_BOARDS * errors[2],
        "entry_board": CENTRE_BOARD - level_boards(offset, angle) + ENTRY_ERROR_BOARDS * errors[3],
    }
    told = {name: round(2 * board) / 2 for name, board in told.items()}
    own_mph = USUAL_MPH + float(slip.speed_mps[0]) / MPH_MPS
    told["speed_mph"] = round(own_mph + SPEED_ERROR_MPH * errors[4], 1)
    looked = {
        name: value for name, value in told.items() if rng.random() < SEEN_SHARE.get(name, 1)
    }
    return replace(
        shot,
        **looked,
        standing_before=frozenset(standing_pins(FULL_RACK)),
        standing_after=frozenset(standing_pins(leave)),
    )


def one_of(errors: Errors, number: int) -> Errors:
    """One shot's errors."""
    only = slice(number, number + 1)
    return Errors(
        errors.laydown_boards[only],
        errors.launch_angle_rad[only],
        errors.speed_mps[only],
        errors.rev_rate_radps[only],
        errors.axis_rotation_rad[only],
    )


if __name__ == "__main__":
    main()
