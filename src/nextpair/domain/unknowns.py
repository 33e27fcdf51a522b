"""What is not known of a lane, and of a bowler on the day: the one list, with one deviation each.

Names end in their unit; `_log` is the natural logarithm of a factor, 0 as planned. All are 0 where
everything is as planned, normal about it, and independent of each other before the first shot.
"""

from __future__ import annotations

from dataclasses import dataclass

from nextpair.domain.errors import require
from nextpair.domain.units import DEGREE_RAD, FOOT_M, MPH_MPS


@dataclass(frozen=True, slots=True)
class Unknown:
    """One thing that is not known.

    spread : one standard deviation, in the unit of the name.
    more, less : what it means to lie above or below the plan.
    source : where the spread comes from, and what would test it.
    """

    name: str
    spread: float
    more: str
    less: str
    source: str

    def on(self, lane: int) -> str:
        """Name of what one lane has for itself."""
        return f"lane_{lane}_{self.name}"


DRY_LOG = Unknown(
    "dry_log",
    0.07,
    "more friction than planned",
    "less friction than planned",
    "assumption: cover, lane and air together, tested by shots; damp air alone is worth about "
    "5 %, no measurement of it is known ([model-sheet] section 3.5)",
)
FILM_LOG = Unknown(
    "film_log",
    0.07,
    "more oil than planned",
    "less oil than planned",
    "assumption: the film as laid against the pattern on paper, tested by tape readings",
)
WEAR_LOG = Unknown(
    "wear_log",
    0.25,
    "more wear than planned",
    "less wear than planned",
    "assumption: how much oil a shot takes and what towels leave, tested by tape readings before "
    "and after play",
)
CARRY_LOG = Unknown(
    "carry_log",
    0.4,
    "more carrydown than planned",
    "less carrydown than planned",
    "assumption: how much of what is taken comes down again, tested by tape readings past the "
    "pattern",
)
FLATTER_LOG = Unknown(
    "flatter_log",
    0.06,
    "a flatter pattern than planned",
    "a steeper pattern than planned",
    "assumption: oil at the gutters against oil in the middle, tested by tape readings across",
)
LONGER_M = Unknown(
    "longer_m",
    0.5 * FOOT_M,
    "longer oil than planned",
    "shorter oil than planned",
    "assumption: the machine's start and stop, tested by tape readings at the end of the pattern",
)
SHARED = (DRY_LOG, FILM_LOG, WEAR_LOG, CARRY_LOG, FLATTER_LOG, LONGER_M)
"""What all lanes of a house share on the day."""

OWN_DRY_LOG = Unknown(
    "dry_log",
    0.02,
    "more friction than its neighbours",
    "less friction than its neighbours",
    "assumption: from lane to lane of one house, tested by the same shots on several lanes",
)
OWN_FILM_LOG = Unknown(
    "film_log",
    0.03,
    "more oil than its neighbours",
    "less oil than its neighbours",
    "assumption: from lane to lane of one dressing, tested by tape readings",
)
INSIDE_BOARDS = Unknown(
    "inside_boards",
    0.6,
    "arrives farther inside than oil and friction explain",
    "arrives farther outside than oil and friction explain",
    "assumption: oil that lies unevenly is worth 0.4 board in drawn worlds, traffic that plays "
    "elsewhere about as much; tested by the same shot on several lanes",
)
OF_A_LANE = (OWN_DRY_LOG, OWN_FILM_LOG, INSIDE_BOARDS)
"""What each lane has for itself, beside what all share."""

SPEED_MPS = Unknown(
    "speed_mps",
    0.2 * MPH_MPS,
    "faster than usual",
    "slower than usual",
    "assumption: a bowler's mean of the day, tested by measured speeds",
)
REVS_LOG = Unknown(
    "revs_log",
    0.03,
    "more revs than usual",
    "fewer revs than usual",
    "assumption: a bowler's mean of the day, tested by film of the release",
)
ROTATION_RAD = Unknown(
    "rotation_rad",
    2.0 * DEGREE_RAD,
    "more axis rotation than usual",
    "less axis rotation than usual",
    "assumption: a bowler's mean of the day, tested by film of the release",
)
OF_THE_BOWLER = (SPEED_MPS, REVS_LOG, ROTATION_RAD)
"""How the release of the day differs from the bowler's usual one."""


def unknown_of(name: str) -> Unknown:
    """The unknown behind a name, also behind that of what one lane has for itself.

    Raises InvalidValueError for a name that is none.
    """
    shared = {unknown.name: unknown for unknown in (*SHARED, *OF_THE_BOWLER)}
    if name in shared:
        return shared[name]
    head, _, rest = name.removeprefix("lane_").partition("_")
    own = {unknown.name: unknown for unknown in OF_A_LANE}
    known = name.startswith("lane_") and head.isdecimal() and rest in own
    require(known, "name", name, ", ".join([*shared, *(o.on(1) for o in OF_A_LANE)]))
    return own[rest]
