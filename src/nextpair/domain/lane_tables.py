"""Lanes in tables: what a phone needs to read them with no network and without rolling a ball.

Whole numbers are hundredths: of a board, of a degree, of a deviation. Boards are the bowler's own,
counted from the own side.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from nextpair.domain.ball import Grit

HUNDREDTHS = 100


@dataclass(frozen=True, slots=True)
class Places:
    """Evenly spaced places."""

    first: int
    step: int
    count: int


@dataclass(frozen=True, slots=True)
class MarkTable:
    """One mark of a ball's shots on a lane: breakpoint, entry, or angle at the pins.

    base : of every line thrown as planned half-way through the game, lay-down by lay-down; each
        row holds its first value, its first difference and then second differences.
    slopes : by number and then time, six each: how the mark moves for a deviation of it, as a
        quadratic of the line: 1, l, a, l l, l a, a a.
    bends : of every two of them, the same one twice among them but for time, for their product.
    missed : one deviation of what the table misses.
    """

    base: tuple[int, ...]
    slopes: tuple[int, ...]
    bends: tuple[int, ...]
    missed: int


@dataclass(frozen=True, slots=True)
class LaneTable:
    """One ball on one lane in one game, 0 being practice.

    planned : whether the sheet throws it there. laydown, angle : its line, or the ball's best.
    laydowns, angles : lines of the table; l and a of a quadratic count from `laydown` and `angle`
        in LINE_BOARDS and LINE_DEG.
    target_off : how far outside of the straight line the ball crosses the arrows.
    speed_change_mph, axis_rotation_change_deg : with which it is let go of.
    """

    game: int
    lane: int
    ball: str
    surface_grit: Grit
    planned: bool
    laydown: int
    angle: int
    laydowns: Places
    angles: Places
    target_off: int
    speed_change_mph: float
    axis_rotation_change_deg: float
    breakpoint: MarkTable = field(repr=False)
    entry: MarkTable = field(repr=False)
    entry_angle: MarkTable = field(repr=False)


@dataclass(frozen=True, slots=True)
class TableNumber:
    """A number that is not known, its words, and one deviation in its own unit."""

    name: str
    said: str
    more: str
    less: str
    spread: float


@dataclass(frozen=True, slots=True)
class PinMap:
    """What a game of such impacts is worth, in tenths of a pin, offset by offset; `lost` is a
    game of balls that never arrive."""

    offsets: Places
    angles: Places
    worth: tuple[int, ...] = field(repr=False)
    lost: int


@dataclass(frozen=True, slots=True)
class LeaveMap:
    """Chance of each kept leave, in thousandths, offset by offset, angle by angle; masks as a
    right-hander sees them."""

    offsets: Places
    angles: Places
    masks: tuple[int, ...]
    chances: tuple[int, ...] = field(repr=False)


@dataclass(frozen=True, slots=True)
class OwnScatter:
    """One deviation of a bowler's own shots."""

    laydown_boards: float
    launch_angle_deg: float
    speed_mph: float
    revs_share: float
    axis_rotation_deg: float


@dataclass(frozen=True, slots=True)
class OwnReach:
    """What the bowler can repeat, own boards."""

    laydown_boards: tuple[float, float]
    launch_angle_deg: tuple[float, float]
    speed_change_mph: tuple[float, float]
    axis_rotation_change_deg: tuple[float, float]


@dataclass(frozen=True, slots=True)
class LaneTables:
    """All lanes that a bowler meets, with the balls of the bag.

    numbers : what all lanes and the bowler share, in the order of the tables; own : what each lane
        has for itself: friction and oil, which add to the shared ones, and boards inside.
    draws, own_draws : equally likely deviations, number by number.
    """

    hand: str
    speed_mph: float
    slide_to_laydown_boards: float
    practice_shots: int
    scatter: OwnScatter
    reach: OwnReach
    numbers: tuple[TableNumber, ...]
    own: tuple[TableNumber, ...]
    draws: tuple[tuple[int, ...], ...] = field(repr=False)
    own_draws: tuple[tuple[int, ...], ...] = field(repr=False)
    pins: PinMap
    left: LeaveMap
    lanes: tuple[LaneTable, ...]
