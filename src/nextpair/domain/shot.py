"""One shot seen from outside: where it went, how it met the pins, what it would leave.

Trade units, as on the sheet; boards count from the right edge.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from nextpair.domain.ball import Grit, Tool
from nextpair.domain.sheet import EntryCard


@dataclass(frozen=True, slots=True)
class Station:
    """The ball at one distance. The angle is that of the path to the boards, positive toward the
    far side, as an entry angle is; the phase is "skid", "hook" or "roll"."""

    distance_ft: float
    board: float
    angle_deg: float
    speed_mph: float
    phase: str


@dataclass(frozen=True, slots=True)
class Track:
    """Where the first oil ring and the last one lie on the ball, in inches along the cover.

    From the grip centre it is the closest place of the ring, positive where the grip centre lies
    on the axis point's side of it.
    """

    first_from_pap_in: float
    last_from_pap_in: float
    first_from_grip_in: float
    last_from_grip_in: float


@dataclass(frozen=True, slots=True)
class Effect:
    """What a change of one thing does to a shot.

    `parameter` ends in the unit of `change`; a surface is named as what it is changed to. `boards`
    is how far the path moves at the head pin's row, positive to the bowler's own side; `degrees`
    how much steeper it comes in over its last turn on the lane.
    """

    parameter: str
    change: float | Grit
    boards: float
    degrees: float


@dataclass(frozen=True, slots=True)
class PathCard:
    """One shot on one fresh or worn lane. `None` stands for what did not happen."""

    lane: int
    ball: str
    surface_grit: Grit
    hand: str
    pattern_length_ft: float
    rule_of_31_exit_board: float
    laydown_board: float
    launch_angle_deg: float
    speed_mph: float
    axis_rotation_deg: float
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
    track: Track
    arrival_s: float | None
    """Time from the foul line to the pins."""
    speed_lost_mph: float | None
    """Speed at the release less speed at the pins."""
    entry: EntryCard | None
    strike_probability: float
    leaves: tuple[tuple[str, float], ...]
    """Likeliest leaves first, as '1-2-10', with their probability; without the strike."""
    what_moves_it: tuple[Effect, ...]
    """Nothing for a shot into a gutter."""
    carry_in_range: bool | None = None
    """Whether racks were simulated for such an entry and ball; else its odds are those of the
    nearest that were. `None` where the pins were not reached."""
    surface_by: str = Tool.SPINNER.value
    cautions: tuple[str, ...] = ()
    """What to mind where pins hang on strings, and where a surface has to be put on."""
    stations: tuple[Station, ...] = ()
    """The distances asked for, as far as the ball gets."""
    path_boards: tuple[float, ...] = field(default=(), repr=False)
    """Board of the ball's centre at every whole foot from the foul line, to 59 or the gutter."""
    film_units: tuple[tuple[float, ...], ...] = field(default=(), repr=False)
    """Film at every whole foot, 60 rows of 39 boards; for pictures, not written to JSON."""
