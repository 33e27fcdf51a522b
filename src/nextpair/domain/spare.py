"""How to shoot what is left: the best ball and line at a leave, and what stands beside it.

A document for people and programs outside, in trade units as the names say; docs/guide/json.md
lists every field. Boards count from the right edge; leaves name the true pins for both hands.
"""

from __future__ import annotations

from dataclasses import dataclass

from nextpair.domain.ball import Grit
from nextpair.domain.sheet import EntryCard


@dataclass(frozen=True, slots=True)
class SpareLineCard:
    """What the bowler does. Less axis rotation than usual is a flat release."""

    laydown_board: float
    slide_board: float
    target_board: float
    launch_angle_deg: float
    speed_mph: float
    axis_rotation_deg: float


@dataclass(frozen=True, slots=True)
class SpareShotCard:
    """One ball on one line at a leave.

    `entry` is the middle of its shots at the pins, or None where none arrives; `pass_boards` is
    where that ball would cross each row of pins, head pin's row first, if none turned it.
    `spread_boards` is one standard deviation of where its shots pass; `mean_pins` is how many pins
    of the leave it takes; `leaves` holds what a miss most often leaves, with its probability
    among all shots.
    """

    ball: str
    surface_grit: Grit
    surface_by: str
    role: str
    flat: bool
    line: SpareLineCard
    entry: EntryCard | None
    pass_boards: tuple[float, ...]
    spread_boards: float
    mean_pins: float
    probability: float
    probability_error: float
    leaves: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class SystemCard:
    """What a usual move system says, from the strike line with the strike ball: common practice.

    `start_move_boards` is how far the feet move where they start, positive toward the inside.
    """

    system: str
    start_move_boards: float
    line: SpareLineCard
    probability: float
    why: str


@dataclass(frozen=True, slots=True)
class SpareCard:
    """One leave: `kind` is "single pin", "split", "washout", "several pins" or "full rack"."""

    leave: str
    kind: str
    left_probability: float
    """Of the first balls that leave something, on the strike line: how many leave this."""
    best: SpareShotCard
    runner_up: SpareShotCard | None
    """The best other ball; None where one ball is all."""
    runner_up_loses_probability: float
    spare_ball: SpareShotCard | None
    """The spare ball's best, where it is neither of the two."""
    systems: tuple[SystemCard, ...]
    """Nothing for splits and washouts: the systems have no answer there."""


@dataclass(frozen=True, slots=True)
class SpareSheet:
    """Leaves of one bowler on one lane as laid."""

    event: str
    bowler: str
    hand: str
    model_version: str
    seed: int
    lane: int
    pattern: str
    strike_ball: str
    strike_surface_grit: Grit
    strike_line: SpareLineCard
    spares: tuple[SpareCard, ...]
    cautions: tuple[str, ...]
