"""Where a bowler stands: the field so far, how it scores, and what the cut still asks.

Documents for people and programs outside: the fields are those of `nextpair standing --json`, as
docs/guide/json.md lists them. Pins have the handicap added wherever a total is told. Intervals
hold 80 % of what is believed.
"""

from __future__ import annotations

from dataclasses import dataclass
from dataclasses import field as column
from decimal import Decimal

Interval = tuple[float, float]


@dataclass(frozen=True, slots=True)
class FieldPlace:
    """Somebody's place so far; equal totals share it. `form_pins` is what is believed of the mean
    of a game to come, `cut_chance` the chance to make the cut (None: there is none)."""

    place: int
    name: str
    squad: str
    games: tuple[int | None, ...]
    handicap: int
    total: int
    games_left: int
    form_pins: float
    cut_chance: float | None


@dataclass(frozen=True, slots=True)
class GameOfField:
    """One game as everybody bowled it, and the bowler's own: `own_sds` says how many standard
    deviations of the field's games over the field's mean."""

    game: int
    bowlers: int
    mean_pins: float
    sd_pins: float
    own_pins: int | None
    own_sds: float | None


@dataclass(frozen=True, slots=True)
class GroupOfField:
    """What a group scores beside the others, everybody's own form allowed for: `kind` is "hand",
    "pair" or "squad"."""

    kind: str
    name: str
    bowlers: int
    games: int
    effect_pins: float
    effect_interval_80: Interval


@dataclass(frozen=True, slots=True)
class Condition:
    """How the field scores, and the bowler in it.

    bowler_sd_pins, game_sd_pins : between bowlers' forms, and of one bowler's games.
    against_averages_pins : the field's mean less that of its averages, where enough are known.
    own_sds : the bowler's mean over the field's, in standard deviations of bowlers' means.
    words : what that says, for somebody who has just bowled a low game.
    """

    bowlers: int
    games: int
    mean_pins: float
    bowler_sd_pins: float
    game_sd_pins: float
    against_averages_pins: float | None
    own_mean_pins: float | None
    own_sds: float | None
    own_sds_interval_80: Interval | None
    by_game: tuple[GameOfField, ...]
    groups: tuple[GroupOfField, ...]
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Needed:
    """What holds the cut with a chance: a total, and a game of those left (None: none is left).
    `is_possible` is false where no game scores so much."""

    chance: float
    total: int
    pins_per_game: float | None
    is_possible: bool


@dataclass(frozen=True, slots=True)
class Cut:
    """The cut: how many go on, the place and total that it stands at now (None: too few scores),
    what it will be, and the chance of the bowler to be in it."""

    to: int
    line_now_pins: int | None
    ahead_now_pins: int | None
    projected_line_pins: float
    projected_line_interval_80: Interval
    chance: float
    needed: tuple[Needed, ...]


@dataclass(frozen=True, slots=True)
class StageChance:
    """The chance to be in a stage, and to win it."""

    kind: str
    entrants: int
    reach_chance: float
    win_chance: float


@dataclass(frozen=True, slots=True)
class Prospects:
    """What is still to be won: stages, the final place, and prizes of the event itself."""

    stages: tuple[StageChance, ...]
    cash_chance: float
    win_chance: float
    place_interval_80: tuple[int, int]
    expected_prize: Decimal
    prize_sd: Decimal
    currency: str
    prize_chances: tuple[tuple[Decimal, float], ...] = column(default=(), repr=False)


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a bowler stands at an event. `cut` is None where nobody goes on, `prospects` where
    nothing is told of prizes or stages."""

    event: str
    bowler: str
    entries: int
    games: int
    games_bowled: int
    seed: int
    draws: int
    field: tuple[FieldPlace, ...]
    condition: Condition
    cut: Cut | None
    prospects: Prospects | None
    cautions: tuple[str, ...] = ()
