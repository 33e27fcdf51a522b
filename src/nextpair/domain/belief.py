"""The read: what shots say of a lane and of its bowler, and what to do on the next shot.

A read is a document for people and programs outside, so every field is in the trade unit that its
name ends in, exactly as docs/guide/json.md lists them. Boards count from the right edge; moves and
misses are positive toward the bowler's inside, for either hand.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property

from nextpair.domain.ball import Grit
from nextpair.domain.errors import require
from nextpair.domain.sheet import LineCard

TIED_CORRELATION = 0.4
"""From this size on, two findings are told to be hard to tell apart."""
LIKELY_PROBABILITY = 0.65
"""From this chance on a side is named."""
NEWS_PROBABILITY = 0.75
"""From this chance on a side is news, however little was learned beside it."""
LEARNED_SHARE = 0.15
"""From this share of its spread gone on, something was learned of an unknown."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """What is believed of one number, in the unit of its finding: middle, one standard deviation,
    and the interval that holds it four times in five."""

    mean: float
    sd: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Finding:
    """One unknown before and after the shots.

    `unit` is that of all its numbers, as "%" of what was planned; `words` say which way it went,
    as "more friction than planned". `more_probability` is the chance that it lies above the plan.
    """

    name: str
    unit: str
    words: str
    planned: Estimate
    found: Estimate
    more_probability: float

    @property
    def sure_probability(self) -> float:
        """Chance of the side that the words are about."""
        return max(self.more_probability, 1.0 - self.more_probability)

    @property
    def is_likely(self) -> bool:
        """Whether one side is likely enough to be named."""
        return self.sure_probability >= LIKELY_PROBABILITY

    @property
    def is_news(self) -> bool:
        """Whether the shots said anything of it: a side, or less spread."""
        sure = self.sure_probability >= NEWS_PROBABILITY
        return sure or self.learned_share >= LEARNED_SHARE

    @property
    def learned_share(self) -> float:
        """How much of the spread before the shots is gone: 0 nothing, 1 all of it."""
        return 1.0 - self.found.sd / self.planned.sd


@dataclass(frozen=True, slots=True)
class Tie:
    """Two findings, by name, that so few shots cannot tell apart: what one takes the other gives.

    `correlation` is that of the draws, -1 to 1.
    """

    first: str
    second: str
    correlation: float
    words: str


@dataclass(frozen=True, slots=True)
class ShotVerdict:
    """One shot against what was expected of it before it was thrown.

    `breakpoint_miss_boards`, `entry_miss_boards` : seen less expected, positive toward the
    bowler's inside; None where nobody saw it. `release_probability` : chance that the miss was the
    release and not the lane.
    """

    id: str
    game: int
    frame: int
    delivery: int
    lane: int
    ball: str
    breakpoint_miss_boards: float | None
    entry_miss_boards: float | None
    release_probability: float
    words: str


class MoveKind(StrEnum):
    """What a bowler can change before the next shot."""

    STAY = "stay"
    FEET_AND_TARGET = "feet and target"
    SPEED = "speed"
    HAND = "hand"
    BALL = "ball"


@dataclass(frozen=True, slots=True)
class MoveOption:
    """One thing to do on the next shot of a lane.

    Expected pins are of a whole game bowled so; `gain_pins_per_game` is over staying, its
    `bad_case` what is gained in the worst tenth of what may be true, and `better_probability` the
    chance of any gain. A change by hand is of axis rotation.
    """

    kind: MoveKind
    ball: str
    surface_grit: Grit
    lane: int
    line: LineCard
    feet_boards: float
    target_boards: float
    speed_change_mph: float
    expected_pins_per_game: float
    gain_pins_per_game: float
    bad_case_gain_pins_per_game: float
    better_probability: float
    why: tuple[str, ...]
    axis_rotation_change_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class UsualMove:
    """What the trade does after a miss as the last one; common practice ([facts] section 8).

    `name` is as bowlers say it, feet first: "2-and-1"; `differs` says how the best computed move
    is another, and is empty where it is not.
    """

    miss: str
    name: str
    feet_boards: float
    target_boards: float
    words: str
    differs: str = ""


@dataclass(frozen=True, slots=True)
class LaneMoves:
    """The next shot on one lane: best option first; None of a usual move where nothing was
    missed."""

    lane: int
    game: int
    options: tuple[MoveOption, ...]
    usual: UsualMove | None
    would_change: str
    """What would have to be seen for the second option to be the better one."""


@dataclass(frozen=True)
class Draws:
    """Draws of the unknowns, all equally likely: one row a draw, one column a name.

    Names and units of the columns are those of domain/unknowns.py. What is believed of several
    unknowns together stands in the rows alone: means and intervals have lost it.
    """

    names: tuple[str, ...]
    rows: tuple[tuple[float, ...], ...] = field(repr=False)

    def __post_init__(self) -> None:
        require(len(self.names) == len(set(self.names)), "names", self.names, "each name once")
        require(bool(self.rows), "rows", self.rows, "at least one draw")
        for row in self.rows:
            require(len(row) == len(self.names), "rows", row, "one number for each name")

    def __len__(self) -> int:
        return len(self.rows)

    def column(self, name: str) -> tuple[float, ...]:
        """All draws of one unknown. Raises InvalidValueError for a name that is not there."""
        require(name in self.names, "name", name, ", ".join(self.names))
        return self._columns[self.names.index(name)]

    @cached_property
    def _columns(self) -> tuple[tuple[float, ...], ...]:
        return tuple(zip(*self.rows, strict=True))


@dataclass(frozen=True, slots=True)
class PutOn:
    """A finish that the log says was put on a ball for this event."""

    ball: str
    surface_grit: Grit


@dataclass(frozen=True, slots=True)
class FileValue:
    """One number of a file, in the file's unit: as it stands, and as the shots would have it."""

    file: str
    key: str
    stands: float
    learned: float


@dataclass(frozen=True)
class Read:
    """What the shots of a log say, up to the last of them.

    `shots` are those that told anything; `last_game` and `last_frame` say how far they go, 0 being
    practice; `next_game` is that of the next shot.
    """

    event: str
    bowler: str
    hand: str
    model_version: str
    seed: int
    shots: int
    last_game: int
    last_frame: int
    next_game: int
    surfaces: tuple[PutOn, ...]
    findings: tuple[Finding, ...]
    ties: tuple[Tie, ...]
    verdicts: tuple[ShotVerdict, ...]
    moves: tuple[LaneMoves, ...]
    cautions: tuple[str, ...]
    draws: Draws = field(repr=False)
    for_files: tuple[FileValue, ...] = ()

    @property
    def news(self) -> tuple[Finding, ...]:
        """Findings that the shots said anything of, most learned first."""
        told = (found for found in self.findings if found.is_news)
        return tuple(sorted(told, key=lambda found: -found.learned_share))

    def finding(self, name: str) -> Finding:
        """One finding by its name. Raises InvalidValueError for a name that is not there."""
        named = {found.name: found for found in self.findings}
        require(name in named, "name", name, ", ".join(named))
        return named[name]
