"""One shot seen from outside: where it went, how it met the pins, what it would leave.

Trade units, as on the sheet; boards count from the right edge.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from nextpair.domain.sheet import EntryCard, Grit


@dataclass(frozen=True, slots=True)
class PathCard:
    """One shot on one fresh or worn lane. `None` stands for what did not happen."""

    lane: int
    ball: str
    surface_grit: Grit
    hand: str
    laydown_board: float
    launch_angle_deg: float
    speed_mph: float
    status: str
    target_board: float | None
    breakpoint_board: float | None
    breakpoint_ft: float | None
    exit_board: float | None
    gutter_ft: float | None
    skid_end_ft: float | None
    hook_end_ft: float | None
    revolutions: float
    flare_in: float
    entry: EntryCard | None
    strike_probability: float
    leaves: tuple[tuple[str, float], ...]
    """Likeliest leaves first, as '1-2-10', with their probability; without the strike."""
    path_boards: tuple[float, ...] = field(default=(), repr=False)
    """Board of the ball's centre at every whole foot from the foul line, to 59 or the gutter."""
    film_units: tuple[tuple[float, ...], ...] = field(default=(), repr=False)
    """Film at every whole foot, 60 rows of 39 boards; for pictures, not written to JSON."""
