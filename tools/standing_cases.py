"""Drawn fields and where a bowler stands in them: what the phone's standing is held to.

python tools/standing_cases.py

Writes frontend/shared/standing_cases.json: for each field its facts and scores, and what
`nextpair standing` tells of it by many draws. frontend/shared/standing.test.ts asks the phone's
sums, which draw nothing, for the same.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from importlib.resources import as_file, files
from pathlib import Path
from typing import Any

import numpy as np

from nextpair.application.settings import Settings
from nextpair.application.standings import standing_of
from nextpair.bootstrap import Program
from nextpair.domain.event import Event
from nextpair.domain.field_score import FieldScore
from nextpair.domain.format import Format, HandicapRule, Rounding
from nextpair.domain.standing import Cut, Standing
from nextpair.reports.sheet_json import plain
from nextpair.scoring.averages import handicap_by

TARGET_FILE = Path(__file__).parents[1] / "frontend" / "shared" / "standing_cases.json"
SEED = 7
DRAWS = 40_000
"""The cut's chance is good to a quarter of a percent by them, a needed total to half a pin."""
HIGHEST = 300
FIELD_MEAN_PINS, BOWLER_SD_PINS, GAME_SD_PINS = 195.0, 14.0, 27.4
AVERAGE_ERROR_PINS = 8.0
RULE = HandicapRule(base=220, percent=90, rounding=Rounding.DOWN, most=60)


@dataclass(frozen=True)
class Drawn:
    """A field to draw.

    squads : of each so many bowlers after so many games, by name; the first is the bowler's own.
    own_pins : the bowler's level.
    holes : games that nobody wrote down. ties : games rounded to tens, so that totals tie.
    """

    name: str
    games: int
    entries: int
    cut_to: int
    squads: dict[str, tuple[int, int]]
    own_pins: float = 205.0
    averages: bool = False
    handicap: HandicapRule | None = None
    holes: int = 0
    ties: bool = False


FIELDS = (
    Drawn("three squads, one still to come", 6, 84, 20, {"B": (28, 4), "A": (28, 6)}, 214),
    Drawn("two squads to come", 6, 96, 16, {"B": (24, 2), "A": (24, 6)}, 226, averages=True),
    Drawn("one game left", 5, 40, 8, {"": (40, 4)}, 219),
    Drawn("all is bowled, with ties", 3, 30, 10, {"": (30, 3)}, 204, ties=True),
    Drawn("six known of thirty", 6, 30, 8, {"": (6, 2)}),
    Drawn("handicap by rule", 8, 40, 10, {"": (40, 3)}, 206, True, RULE),
    Drawn("far behind", 6, 60, 6, {"B": (30, 4), "A": (30, 6)}, 170),
    Drawn("nobody has bowled", 6, 50, 12, {"": (20, 0)}),
    Drawn("everybody goes on", 4, 12, 12, {"": (12, 2)}),
    Drawn("games nobody wrote down", 8, 64, 16, {"B": (32, 5), "A": (32, 8)}, 208, holes=40),
    Drawn("a large field", 8, 150, 40, {"B": (50, 6), "A": (50, 8)}, 222),
    Drawn("first game of a small field", 6, 10, 3, {"": (10, 1)}, 215),
)


def main() -> None:
    """Draw the fields, ask where the bowler stands, and write it all down."""
    TARGET_FILE.write_text(json.dumps(cases(), separators=(",", ":")) + "\n", "utf-8")
    print(f"wrote {TARGET_FILE}")


def cases() -> list[dict[str, Any]]:
    """Every field with what is told of it."""
    with as_file(files("nextpair") / "demo") as folder:
        event = Program(Settings()).load_event(folder / "event.toml")
    return [case(event, drawn, number) for number, drawn in enumerate(FIELDS)]


def case(demo: Event, drawn: Drawn, number: int) -> dict[str, Any]:
    """One field: its facts, its scores as rows, and what is told."""
    event = _event(demo, drawn)
    scores = list(_scores(event, drawn, np.random.default_rng([SEED, number])))
    standing = standing_of(event, scores, SEED, DRAWS)
    return {
        "name": drawn.name,
        "facts": {
            "games": event.games,
            "entries": event.money.entries,
            "bowler": event.bowler_name,
            "average": event.bowler.average,
            "handicap": plain(event.format.handicap),
            "squad": [
                {"name": one.name, "pair": str(one.pair), "hand": one.hand} for one in event.squad
            ],
        },
        "cut_to": event.cut_to,
        "scores": [
            [one.name, one.game, one.score, one.handicap, one.squad, one.average] for one in scores
        ],
        "told": _told(standing),
    }


def _event(demo: Event, drawn: Drawn) -> Event:
    """The event of a field; whom the first squad has no room for in the demo's is renamed.
    Everybody bowls on one pair, since the phone does not know what pairs give or take."""
    many = next(iter(drawn.squads.values()))[0]
    others = [one for one in demo.squad if one.name != demo.bowler_name]
    more = [replace(others[0], name=f"Entrant {number}") for number in range(many)]
    own = next(one for one in demo.squad if one.name == demo.bowler_name)
    return replace(
        demo,
        games=drawn.games,
        squad=tuple(replace(one, pair=own.pair) for one in (own, *(*others, *more)[: many - 1])),
        money=replace(demo.money, entries=drawn.entries, cut_to=drawn.cut_to, prizes=()),
        format=Format(handicap=drawn.handicap),
    )


def _scores(event: Event, drawn: Drawn, rng: np.random.Generator) -> Iterator[FieldScore]:
    missing = set(rng.choice(10_000, drawn.holes, replace=False) % 97)
    place = 0
    for squad, (many, games) in drawn.squads.items():
        for number in range(many):
            own = squad == next(iter(drawn.squads)) and number == 0
            level = drawn.own_pins if own else rng.normal(FIELD_MEAN_PINS, BOWLER_SD_PINS)
            told = round(level + rng.normal(0, AVERAGE_ERROR_PINS)) if drawn.averages else None
            average = int(event.bowler.average) if own else told
            given = 0
            if drawn.handicap is not None and average is not None:
                given = handicap_by(drawn.handicap, average)
            name = _name(event, drawn, squad, number)
            for game in range(1, games + 1):
                pins = round(float(np.clip(rng.normal(level, GAME_SD_PINS), 0, HIGHEST)))
                place += 1
                if own or place % 97 not in missing:
                    score = round(pins, -1) if drawn.ties else pins
                    yield FieldScore(name, game, score, given, squad, average=average)


def _name(event: Event, drawn: Drawn, squad: str, number: int) -> str:
    if squad == next(iter(drawn.squads)):
        return event.squad[number].name
    return f"{squad} {number + 1}"


def _told(standing: Standing) -> dict[str, Any]:
    """What the phone tells too."""
    own = next((one for one in standing.field if one.name == standing.bowler), None)
    condition = standing.condition
    return {
        "place": own.place if own and own.games else None,
        "form": {one.name: [one.form_pins, one.games_left] for one in standing.field},
        "entries": standing.entries,
        "condition": {
            "bowlers": condition.bowlers,
            "mean_pins": condition.mean_pins,
            "game_sd_pins": condition.game_sd_pins,
            "own_mean_pins": condition.own_mean_pins,
            "own_sds": condition.own_sds,
            "own_sds_interval_80": condition.own_sds_interval_80,
            "by_game": [
                [one.game, one.bowlers, one.mean_pins, one.own_pins, one.own_sds]
                for one in condition.by_game
            ],
        },
        "cut": _cut(standing.cut),
    }


def _cut(cut: Cut | None) -> dict[str, Any]:
    if cut is None:
        return {}
    needed: Sequence[Any] = [
        [one.chance, one.total, one.pins_per_game, one.is_possible] for one in cut.needed
    ]
    return {
        "line_now_pins": cut.line_now_pins,
        "ahead_now_pins": cut.ahead_now_pins,
        "projected_pins": cut.projected_line_pins,
        "interval_80_pins": cut.projected_line_interval_80,
        "chance": cut.chance,
        "needed": needed,
    }


if __name__ == "__main__":
    main()
