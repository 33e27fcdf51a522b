"""The debrief: what an event was against what was planned, and what that teaches.

Every field is in the trade unit that its name ends in. Gains are positive where they brought pins.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from nextpair.domain.ball import Grit
from nextpair.domain.belief import Finding
from nextpair.domain.errors import require
from nextpair.domain.ledger import EventLedger
from nextpair.domain.lesson import Change
from nextpair.domain.sheet import LineCard

Day = date
MOST_FINDINGS = 5


@dataclass(frozen=True, slots=True)
class GameAccount:
    """One finished game against its plan. The parts add up to score - planned_score exactly:

    lane_pins : the planned ball and line on the lanes as they are believed to have been.
    release_pins : the same with the release that the day is believed to have had.
    choice_pins : what was thrown, ball and lines, in place of what was planned.
    strays_pins : where the balls came in against where those lines would have had them.
    carry_pins : what fell of it. Both None where nobody saw the balls come in, and then
    strays_and_carry_pins : both together, of first balls that nobody saw; None where all were.
    spares_pins : spares made and missed.

    best_* : the best ball and line that the final belief knows of, and what it was to score;
    regret_pins : that less what was to be expected of what was thrown, never below zero.
    """

    game: int
    pair: str
    score: int
    planned_score: float
    lane_pins: float
    release_pins: float
    choice_pins: float
    strays_pins: float | None
    carry_pins: float | None
    strays_and_carry_pins: float | None
    spares_pins: float
    best_score: float
    regret_pins: float
    ball: str
    best_ball: str
    best_surface_grit: Grit
    best_line: LineCard
    best_right_line: LineCard
    words: str


@dataclass(frozen=True, slots=True)
class LaneTold:
    """Lanes against their plan, unknown by unknown: what all of them share where `pair` is empty,
    else what the lanes of one pair have for themselves."""

    pair: str
    games: tuple[int, ...]
    findings: tuple[Finding, ...]
    words: str


@dataclass(frozen=True, slots=True)
class SpareTold:
    """Spares of one kind of leave, or all ("all"): made of those tried, how many were to be
    expected by one's own chances, and the chance of making that few or fewer."""

    kind: str
    made: int
    tried: int
    expected_made: float
    so_few_probability: float


@dataclass(frozen=True, slots=True)
class LateMove:
    """A move that came late: from the shot after which it was worth making to the one that made
    it. `moved_frame` is None where it was never made."""

    game: int
    lane: int
    evidence_frame: int
    moved_frame: int | None
    shots_late: int
    cost_pins: float
    words: str


@dataclass(frozen=True, slots=True)
class PracticeTold:
    """How practice was used: shots that told something of those thrown, on both lanes or one,
    with how many balls; `told_share` is how much of the doubt about the lanes they took away."""

    shots: int
    telling_shots: int
    lanes: tuple[int, ...]
    balls: tuple[str, ...]
    told_share: float
    words: str


@dataclass(frozen=True, slots=True)
class FieldTold:
    """A game against the field: `field_pins` is its mean, `relative_sd` the score in the field's
    standard deviations above it."""

    game: int
    score: int
    field_pins: float
    relative_sd: float


@dataclass(frozen=True, slots=True)
class DebriefFinding:
    """One thing that the event taught, with what shows it and what is proposed.

    key : names it, the same in every debrief of the same event: "spares: single-pin".
    cost_pins_per_game : what it is believed to have cost; None where that is not told in pins.
    sure_probability : chance that it is so.
    """

    key: str
    words: str
    evidence: tuple[str, ...]
    cost_pins_per_game: float | None
    sure_probability: float
    change: Change

    def __post_init__(self) -> None:
        require(bool(self.evidence), "evidence", "none", "what shows it")


@dataclass(frozen=True, slots=True)
class Debrief:
    """What one event taught. `went_well` and the findings stand on the same numbers.

    release : the day's speed, revs and rotation, planned and found. notes : how it was counted,
    and what could not be told. money : None where nothing of it is known or is to be told.
    """

    event: str
    bowler: str
    date: Day
    house: str
    patterns: tuple[str, ...]
    model_version: str
    seed: int
    shots: int
    games: tuple[GameAccount, ...]
    lanes: tuple[LaneTold, ...]
    release: tuple[Finding, ...]
    spares: tuple[SpareTold, ...]
    late_moves: tuple[LateMove, ...]
    practice: PracticeTold | None
    field: tuple[FieldTold, ...]
    money: EventLedger | None
    findings: tuple[DebriefFinding, ...]
    went_well: tuple[str, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
    hand: str = "right"

    def __post_init__(self) -> None:
        require(len(self.findings) <= MOST_FINDINGS, "findings", len(self.findings), "at most 5")
        keys = [one.key for one in self.findings]
        require(len(keys) == len(set(keys)), "findings", keys, "each key once")
