"""What impacts are worth, seen from outside: strike chance over a map, leaves of single impacts.

Speeds and angles are at the pins, angles positive toward the far side. Offsets are at first
contact, positive to the bowler's pocket side; boards count from the lane's right edge for both
hands. Leaves name the pins as they stand.
"""

from __future__ import annotations

from dataclasses import dataclass

Rows = tuple[tuple[float, ...], ...]


@dataclass(frozen=True, slots=True)
class CarryRange:
    """What was simulated, lowest and highest."""

    offset_board: tuple[float, float]
    entry_angle_deg: tuple[float, float]
    speed_mph: tuple[float, float]


@dataclass(frozen=True, slots=True)
class ImpactCard:
    """One impact and what it leaves. Outside the range it is read at the range's edge."""

    entry_angle_deg: float
    offset_board: float
    head_pin_board: float
    """Where the ball's centre would cross the head pin's row."""
    contact_board: float
    """Where it is at first contact."""
    inside_range: bool
    strike_probability: float
    strike_error: float
    """Standard error of the strike probability: by the number of racks and by smoothing."""
    mean_pins: float
    leaves: tuple[tuple[str, float], ...]
    """Likeliest leaves first, as '1-2-10', with their probability; without the strike."""


@dataclass(frozen=True, slots=True)
class Rung:
    """One step of the ladder of impacts: a word of the trade, and the impact at several angles."""

    name: str
    head_pin_board: float
    impacts: tuple[ImpactCard, ...]


@dataclass(frozen=True, slots=True)
class PublishedZone:
    """Where the highest strike percentages were measured: boards and angles."""

    head_pin_board: tuple[float, float]
    entry_angle_deg: tuple[float, float]


@dataclass(frozen=True, slots=True)
class CarryMap:
    """Strike chance by impact for one weight of ball and one speed."""

    hand: str
    model_version: str
    ball_lb: float
    speed_mph: float
    pinfall: str
    """How the pins are set: free or string."""
    simulated: CarryRange
    published_zone: PublishedZone
    offset_boards: tuple[float, ...]
    entry_angles_deg: tuple[float, ...]
    strike_probability: Rows
    """One row an angle, one number an offset."""
    strike_error: Rows
    head_pin_boards: tuple[float, ...]
    told_angles_deg: tuple[float, ...]
    strike_probability_by_board: Rows
    """One row a board, one number an angle told."""
    window_boards: tuple[float, ...]
    """Boards of the pocket's side with nine strikes in ten or more, one number an angle told."""
    best: ImpactCard
    ladder: tuple[Rung, ...]
    impact: ImpactCard | None
    """The impact asked for."""
    cautions: tuple[str, ...]
