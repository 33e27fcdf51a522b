"""The generated files of the demo season: squads, the bowler's shots, and everybody's scores.

    python tools/demo_season.py               write them all (minutes: it bowls every past event)
    python tools/demo_season.py --keep-shots  squads and scores alone, by the shots that are there

Everything else under src/nextpair/demo/season is written by hand. The bowler's shots are thrown in
worlds whose truth is told below; the field's scores are drawn from levels that stay from event to
event. The same bytes come out every time.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from season_people import MEAN_LEVEL, Person, people

from nextpair.application.own_games import own_games
from nextpair.application.reading import read
from nextpair.application.sheets import typical_weight_kg
from nextpair.application.shot_jottings import NotedShot
from nextpair.application.simulated_event import NOTHING, Planted, simulate_event
from nextpair.application.visit_draft import learned_of
from nextpair.carry.table import load_table
from nextpair.domain.bowler import Hand
from nextpair.domain.event import Entrant, Event, Pair
from nextpair.domain.field_score import FieldScore
from nextpair.domain.shot_log import LoggedShot
from nextpair.files import load_event, load_shots, scores_text, shots_text
from nextpair.planning.contenders import Contender, Prepared, prepare
from nextpair.planning.worlds import drawn_world
from nextpair.scoring.averages import handicap_by

DEMO = Path(__file__).parents[1] / "src" / "nextpair" / "demo"
EVENTS = DEMO / "season" / "events"
BUNDLED = "2026-10-17-samphire-scratch-singles"
"""The event that lies beside the season, with its squad."""
BOWLER = "Maren Tolvane"
BOWLER_ROW = "right,one-handed,365,17.4,hybrid"
PACKED = (
    "Tarred Rope",
    "Slate Weir",
    "Osier Bundle",
    "Bobbin Lace",
    "Candle Stub",
    "Plain Thimble",
)
"""What goes with her to every event."""
SEED = 91
GAME_SD_PINS = 27.0
DRY_WITHIN = 0.015
MOST_WORLDS = 2000
UNTOLD_SHARE = 0.08
"""How often the squad sheet lacks something of somebody, and the score sheet an average."""


@dataclass(frozen=True, slots=True)
class Staged:
    """How one event went.

    first_lane, pairs : which lanes are used. squads : how many bowl in each, by its letter.
    own : the bowler's squad. start : the pair that the bowler starts on, from 0.
    ahead_pins : of a middling field a game, where the bowler came in. left_pins : what those who
    bowl left-handed have more by their level; `hard_pair` gives everybody `pair_pins` more.
    dry_factor : on the dry friction of the lanes as they really were; None where nobody has bowled
    yet. planted : what went wrong.
    """

    folder: str
    first_lane: int
    pairs: int
    squads: dict[str, int]
    own: str
    start: int
    ahead_pins: float = 0.0
    left_pins: float = 0.0
    hard_pair: int = 0
    pair_pins: float = 0.0
    dry_factor: float | None = None
    planted: Planted = NOTHING


SEASON = (
    Staged(
        "2026-03-14-catkin-open", 3, 6, {"A": 20, "B": 22}, "B", 2, -12, 4, 1, -8, 1.07,
        Planted(spares_log_odds=-0.9),
    ),
    Staged("2026-04-25-ploughshare-six", 3, 8, {"A": 24, "B": 24}, "A", 3, 3, -6, 5, -10, 1.0),
    Staged(
        "2026-05-30-long-light-masters", 9, 8, {"A": 24, "B": 24, "C": 24}, "B", 1, 17, 6, 6, -5,
        0.93, Planted(surface_grit=3000),
    ),
    Staged("2026-06-27-haycock-handicap", 5, 9, {"A": 27, "B": 27}, "B", 4, 6, 0, 3, -6, 1.03),
    Staged(
        "2026-08-15-sluice-gate-open", 1, 8, {"A": 22, "B": 22, "C": 20}, "C", 5, 20, 3, 2, -4,
        0.95, Planted(late_shots=4),
    ),
    Staged(
        "2026-09-12-two-banks-invitational", 1, 7, {"A": 20, "B": 20}, "A", 0, 5, -4, 4, -8, 1.08
    ),
    Staged(BUNDLED, 13, 7, {"A": 28, "B": 28, "C": 28}, "B", 0, 15, 6, 4, -12, 1.04),
    Staged(
        "2026-11-14-fieldfare-trophy", 13, 8, {"A": 22, "B": 22, "C": 22}, "B", 2, 17, 5, 7, -6,
        0.94, Planted(slower_mph=0.5),
    ),
    Staged("2026-12-12-long-night-open", 3, 8, {"A": 28}, "A", 6),
    Staged("2027-01-23-rime-masters", 5, 8, {"A": 30}, "A", 1),
)  # fmt: skip


def main(keep_shots: bool) -> int:
    """Write the squads, then what was bowled."""
    for number, staged in enumerate(SEASON):
        rng = np.random.default_rng([SEED, number])
        squads = drawn_field(staged, rng)
        folder = EVENTS / staged.folder
        if staged.folder != BUNDLED:
            write(folder / "squad.csv", squad_text(staged, squads[staged.own], rng))
        if staged.dry_factor is None:
            continue
        event = load_event((DEMO if staged.folder == BUNDLED else folder) / "event.toml")
        if not keep_shots:
            write(folder / "shots.csv", shots_text(bowled_shots(staged, event)))
            write(folder / "learned.toml", learned_text(event, folder))
        own = list(own_scores(staged, event, load_shots(folder / "shots.csv", event)))
        others = field_scores(staged, event, squads, np.mean([one.score for one in own]), rng)
        write(folder / "scores.csv", scores_text([*others, *own]))
    return 0


def write(path: Path, text: str) -> None:
    """Write a file and say so."""
    path.write_text(text, "utf-8")
    print(f"wrote {path}", flush=True)


def bowled_shots(staged: Staged, event: Event) -> list[LoggedShot]:
    """The bowler's shots, in the first world that is as dry as this house is. So that they come
    soon, only the balls that were packed are planned with."""
    packed = replace(event, locker=tuple(ball for ball in event.locker if ball.name in PACKED))
    table = load_table(typical_weight_kg(event.locker), event.house.pinfall)
    prepared = prepare(packed, table, SEED, (Contender.PLANNER,))
    number = world_number(prepared, float(staged.dry_factor or 1.0))
    bowled = simulate_event(prepared, number, SEED, staged.planted)
    return [noted.shot for noted in bowled.shots]


def learned_text(event: Event, folder: Path) -> str:
    """What the shots of a folder taught of the house: of each unknown the mean and deviation
    believed before, then those after."""
    told = read(event, load_shots(folder / "shots.csv", event), SEED)
    rows = (
        f"{one.name} = [{one.before_mean:.5f}, {one.before_sd:.5f}, {one.mean:.5f}, {one.sd:.5f}]"
        for one in learned_of(told.draws)
    )
    return "\n".join(rows) + "\n"


def world_number(prepared: Prepared, dry_factor: float) -> int:
    """The first drawn world with about that dry friction."""
    return next(
        number
        for number in range(MOST_WORLDS)
        if abs(
            drawn_world(prepared.event, prepared.people, number, SEED).condition.dry_factor
            - dry_factor
        )
        < DRY_WITHIN
    )


def own_scores(staged: Staged, event: Event, shots: Sequence[LoggedShot]) -> Iterator[FieldScore]:
    """The bowler's games, as the shots add up."""
    average = int(event.bowler.average)
    noted = [NotedShot(shot, foul=False) for shot in shots]
    for game in own_games(noted, (), event.format.counting, []):
        yield FieldScore(
            BOWLER, game.game, int(game.total or 0), handicap(event, average), staged.own,
            event.bowler.hand, str(event.pair_in_game(event.start_pair, game.game)), average,
        )  # fmt: skip


def field_scores(
    staged: Staged,
    event: Event,
    squads: dict[str, list[Person]],
    own_mean: float,
    rng: np.random.Generator,
) -> Iterator[FieldScore]:
    """Everybody else's games, about as far behind the bowler's as the event's story has it."""
    condition_pins = own_mean - staged.ahead_pins - MEAN_LEVEL
    for letter, squad in squads.items():
        skipped = staged.start if letter == staged.own else None
        seats = starts(staged, len(squad), skipped)
        if (staged.folder, letter) == (BUNDLED, staged.own):
            squad = [
                replace(person, name=entrant.name, hand=entrant.likely_hand)
                for person, entrant in zip(squad, others_of(event), strict=True)
            ]
            seats = [entrant.pair for entrant in others_of(event)]
        for person, start in zip(squad, seats, strict=True):
            told = None if rng.random() < UNTOLD_SHARE else person.average
            for game in range(1, event.games + 1):
                pair = event.pair_in_game(start, game)
                mean = person.level + condition_pins
                mean += staged.left_pins * (person.hand is Hand.LEFT)
                mean += staged.pair_pins * (pair == Pair(staged.first_lane + 2 * staged.hard_pair))
                pins = int(np.clip(round(rng.normal(mean, GAME_SD_PINS)), 0, 300))
                yield FieldScore(
                    person.name, game, pins, handicap(event, person.average), letter,
                    person.hand, str(pair), told,
                )  # fmt: skip


def others_of(event: Event) -> list[Entrant]:
    """The bowler's squad without the bowler."""
    return [entrant for entrant in event.squad if entrant.name != BOWLER]


def handicap(event: Event, average: int) -> int:
    """What the event adds to a game of somebody with that average."""
    rule = event.format.handicap
    return 0 if rule is None else handicap_by(rule, average)


def drawn_field(staged: Staged, rng: np.random.Generator) -> dict[str, list[Person]]:
    """Who bowls in which squad; the bowler has a place in the own one."""
    everybody = people()
    order = iter(rng.permutation(len(everybody)))
    return {
        letter: [everybody[int(next(order))] for _ in range(many - (letter == staged.own))]
        for letter, many in staged.squads.items()
    }


def starts(staged: Staged, many: int, skipped: int | None = None) -> list[Pair]:
    """Starting pairs of so many, round the lanes; one place on `skipped` is taken already."""
    taken = [Pair(staged.first_lane + 2 * (place % staged.pairs)) for place in range(many + 1)]
    if skipped is None:
        return taken[:many]
    taken.remove(Pair(staged.first_lane + 2 * skipped))
    return taken


def squad_text(staged: Staged, squad: list[Person], rng: np.random.Generator) -> str:
    """squad.csv: pair by pair, some cells empty."""
    own = Pair(staged.first_lane + 2 * staged.start)
    rows = [(own, f"{own},{BOWLER},{BOWLER_ROW}")]
    for person, pair in zip(squad, starts(staged, len(squad), staged.start), strict=True):
        told = [person.hand, person.style, person.revs_rpm, person.speed_mph, person.cover]
        seen = ["" if rng.random() < UNTOLD_SHARE else str(value) for value in told[2:]]
        rows.append((pair, ",".join([str(pair), person.name, *map(str, told[:2]), *seen])))
    rows.sort(key=lambda row: row[0])
    header = "pair,name,hand,style,rev_rate_rpm,speed_mph,cover"
    return "\n".join([header, *(row for _, row in rows)]) + "\n"


if __name__ == "__main__":
    sys.exit(main("--keep-shots" in sys.argv[1:]))
