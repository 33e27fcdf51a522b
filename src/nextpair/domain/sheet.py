"""The sheet: the plan for one event.

A sheet is a document for people and programs outside, so every field is in the trade unit that
its name ends in, exactly as docs/guide/json.md lists them. Boards count from the right edge.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from nextpair.domain.ball import Grit, Tool
from nextpair.domain.lesson import Lesson

FILM_TOLD_FT = (10, 25, 40)
"""Where a film is put into numbers: in the heads, in the mids, near the end of the oil."""


@dataclass(frozen=True, slots=True)
class LineCard:
    """What the bowler does with one ball, and where that ball should travel. Any change of speed
    is part of `speed_mph`."""

    laydown_board: float
    slide_board: float
    target_board: float
    launch_angle_deg: float
    breakpoint_board: float
    breakpoint_ft: float
    exit_board: float
    speed_mph: float
    speed_change_mph: float = 0.0
    axis_rotation_change_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class EntryCard:
    """How the ball meets the pins. Offset is positive to the bowler's pocket side."""

    offset_board: float
    entry_angle_deg: float
    speed_mph: float


@dataclass(frozen=True, slots=True)
class RoomCard:
    """How far the line may miss before the loss is felt: at the arrows, in speed, and moved in
    lay-down or in launch angle alone."""

    boards: float
    mph: float
    laydown_boards: float
    launch_angle_deg: float


@dataclass(frozen=True, slots=True)
class LaneCard:
    """One lane of a pair as it will be, and the line on it."""

    lane: int
    film_units_at: dict[str, tuple[float, ...]]
    line: LineCard
    entry: EntryCard
    strike_probability: float
    path_boards: tuple[float, ...] = field(default=(), repr=False)
    """Board of the ball's centre at every whole foot, 0 to 59."""
    band_boards: tuple[tuple[float, float], ...] = field(default=(), repr=False)
    """10 % and 90 % of the bowler's own scatter at every whole foot."""
    film_units: tuple[tuple[float, ...], ...] = field(default=(), repr=False)
    """Film at every whole foot, 60 rows of 39 boards; for pictures, not written to JSON."""


@dataclass(frozen=True, slots=True)
class MoveCard:
    """Change from the game before; boards positive toward the bowler's inside.

    `name` is what the trade calls it, as "3-for-2", where it fits a usual move.
    """

    feet_boards: float
    target_boards: float
    ball_change: bool
    name: str | None = None
    why: str = ""


@dataclass(frozen=True, slots=True)
class FallbackCard:
    """What to go to, and when: `line` on the pair's left lane, `right_line` on its right one."""

    ball: str
    surface_grit: Grit
    line: LineCard
    when: str
    right_line: LineCard


@dataclass(frozen=True, slots=True)
class LaterLineCard:
    """Where to stand and aim with the same ball from a frame on, when the pair has worn: lines of
    the left and the right lane, and how each moves from the game's first one. `gain_pins` is a
    game's worth over staying, mean over both lanes, while that lasts."""

    from_frame: int
    line: LineCard
    right_line: LineCard
    move: MoveCard
    right_move: MoveCard
    gain_pins: float


@dataclass(frozen=True, slots=True)
class GameCard:
    """One game: the pair as it will be, ball, line, odds, and why.

    `bad_case_score` is what is expected in the worst tenth of lanes; `field_score` what the
    squad's mix of bowlers scores on this pair, `usual_score` a usual bowler of this one's average.
    Shots on the pair before the game are told by side; those of a hand that nobody wrote down
    stand by themselves, and those of earlier squads are part of all three.
    `release_gain_pins_per_game` is what letting go of the ball otherwise than usual gains.
    """

    game: int
    pair: str
    shots_before_on_my_side: int
    shots_before_other_side: int
    lanes: tuple[LaneCard, ...]
    ball: str
    surface_grit: Grit
    line: LineCard
    entry: EntryCard
    room: RoomCard
    strike_probability: float
    spare_probability: float
    expected_score: float
    score_interval_80: tuple[int, int]
    move_from_previous_game: MoveCard | None
    fallback: FallbackCard | None
    why: tuple[str, ...]
    bad_case_score: float | None = None
    field_score: float | None = None
    usual_score: float | None = None
    shots_before_unknown_side: int = 0
    shots_before_by_earlier_squads: int = 0
    later_line: LaterLineCard | None = None
    release_gain_pins_per_game: float = 0.0


@dataclass(frozen=True, slots=True)
class BagItem:
    """One ball to bring. Costs are what leaving it at home loses with nothing in its place, on
    average and in the bad case; of a ball that stays at home, what it would add.

    `stands_in_for` names the ball in whose place it would be thrown, if it is brought for that.
    `fresh_surface` is true where the surface is still to be put on: before the event where
    `surface_by` says "spinner", before each of its games where it says "hand".
    """

    ball: str
    surface_grit: Grit
    cost_if_left_pins_per_game: float
    purpose: str
    fresh_surface: bool = False
    surface_by: str = Tool.SPINNER.value
    games: tuple[int, ...] = ()
    bad_case_cost_if_left_pins_per_game: float = 0.0
    stands_in_for: str | None = None


@dataclass(frozen=True, slots=True)
class BagWorth:
    """What a bag is worth once each lane has shown itself: on average, and in the worst tenth of
    games and lanes. `places_free` is None where the event has no limit."""

    mean_pins_per_game: float
    bad_case_pins_per_game: float
    places_free: int | None


@dataclass(frozen=True, slots=True)
class PracticeShot:
    """One thing to throw in practice, and why."""

    minute: float
    lane: int
    ball: str
    surface_grit: Grit
    shots: int
    line: LineCard
    why: str


@dataclass(frozen=True, slots=True)
class PracticeOption:
    """One use of the practice that was weighed: what it gains a game, mean over all games, by what
    the shots tell and by what they wear."""

    name: str
    expected_gain_pins_per_game: float
    told_pins_per_game: float
    worn_pins_per_game: float
    chosen: bool
    words: str


@dataclass(frozen=True, slots=True)
class PatternCard:
    """The pattern in numbers."""

    name: str
    length_ft: float
    volume_ml: float
    ratio: float
    sport_class: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """The plan for one event.

    `right_pattern` is what lies on right lanes where that is another pattern; then `pattern` is
    the left lanes'. `lessons` are those of earlier events that apply here; no number comes from
    them.
    """

    event: str
    date: str
    house: str
    bowler: str
    hand: str
    model_version: str
    seed: int
    rule_of_31_exit_board: float
    second_opinion: str
    pattern: PatternCard
    bag: tuple[BagItem, ...]
    left_at_home: tuple[BagItem, ...]
    practice: tuple[PracticeShot, ...]
    games: tuple[GameCard, ...]
    guessed: tuple[str, ...]
    cautions: tuple[str, ...]
    right_pattern: PatternCard | None = None
    bag_worth: BagWorth | None = None
    practice_options: tuple[PracticeOption, ...] = ()
    condition: str = ""
    lessons: tuple[Lesson, ...] = ()
