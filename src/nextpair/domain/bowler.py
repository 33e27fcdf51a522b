"""A bowler: hand, release, how well it repeats, and what lies in reach.

Launch angle is positive toward the gutter on the bowler's own side. Lay-down and slide boards
count from the lane's right edge for both hands.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from nextpair.domain.errors import require, require_within
from nextpair.domain.lane import BOARDS
from nextpair.domain.money import require_currency
from nextpair.domain.units import DEGREE_RAD, INCH_M, MPH_MPS, RPM_RADPS


class Hand(StrEnum):
    """The hand that delivers."""

    RIGHT = "right"
    LEFT = "left"

    @property
    def sign(self) -> int:
        """+1 for a right-hander, -1 for a left-hander."""
        return 1 if self is Hand.RIGHT else -1


class Style(StrEnum):
    """How the ball is held."""

    ONE_HANDED = "one-handed"
    TWO_HANDED = "two-handed"
    NO_THUMB = "no-thumb"


SPEEDS_MPH = 8.0, 26.0
REV_RATES_RPM = 0.0, 750.0
"""What bowlers deliver, slowest to fastest."""


def require_deliverable(speed_mps: float | None, rev_rate_radps: float | None) -> None:
    """Refuse a speed or rev rate at release that no bowler delivers; None is not known."""
    if speed_mps is not None:
        require_within("speed_mph", speed_mps / MPH_MPS, *SPEEDS_MPH, "mph")
    if rev_rate_radps is not None:
        require_within("rev_rate_rpm", rev_rate_radps / RPM_RADPS, *REV_RATES_RPM, "rpm")


@dataclass(frozen=True, slots=True)
class Release:
    """What leaves the hand on an average shot."""

    speed_mps: float
    rev_rate_radps: float
    axis_rotation_rad: float
    axis_tilt_rad: float
    loft_m: float = 0.1

    def __post_init__(self) -> None:
        require_deliverable(self.speed_mps, self.rev_rate_radps)
        require_within(
            "axis_rotation_deg", self.axis_rotation_rad / DEGREE_RAD, -10, 120, "degrees"
        )
        require_within("axis_tilt_deg", self.axis_tilt_rad / DEGREE_RAD, -10, 90, "degrees")
        require_within("loft_in", self.loft_m / INCH_M, 0, 40, "in")


@dataclass(frozen=True, slots=True)
class Scatter:
    """One standard deviation of the bowler's own shots about the release they mean."""

    laydown_boards: float
    launch_angle_rad: float
    speed_mps: float
    rev_rate_radps: float
    axis_rotation_rad: float = 2.0 * DEGREE_RAD
    axis_tilt_rad: float = 1.0 * DEGREE_RAD

    def __post_init__(self) -> None:
        require_within("scatter.laydown_boards", self.laydown_boards, 0, 5, "boards")
        angle_deg = self.launch_angle_rad / DEGREE_RAD
        require_within("scatter.launch_angle_deg", angle_deg, 0, 3, "degrees")
        require_within("scatter.speed_mph", self.speed_mps / MPH_MPS, 0, 4, "mph")
        require_within("scatter.rev_rate_rpm", self.rev_rate_radps / RPM_RADPS, 0, 150, "rpm")


@dataclass(frozen=True, slots=True)
class Reach:
    """What the bowler can repeat: lowest and highest board, angle, and change of speed and of axis
    rotation."""

    laydown_boards: tuple[float, float]
    launch_angle_rad: tuple[float, float]
    speed_change_mps: tuple[float, float]
    axis_rotation_change_rad: tuple[float, float] = (0.0, 0.0)

    def __post_init__(self) -> None:
        for field, (low, high) in (
            ("range.laydown_boards", self.laydown_boards),
            ("range.launch_angle_deg", self.launch_angle_rad),
            ("range.speed_change_mph", self.speed_change_mps),
            ("range.axis_rotation_change_deg", self.axis_rotation_change_rad),
        ):
            require(low <= high, field, [low, high], "lowest first, then highest")
        for board in self.laydown_boards:
            require_within("range.laydown_boards", board, 1, BOARDS, "boards")
        for angle_rad in self.launch_angle_rad:
            require_within("range.launch_angle_deg", angle_rad / DEGREE_RAD, -5, 10, "degrees")
        for change_mps in self.speed_change_mps:
            require_within("range.speed_change_mph", change_mps / MPH_MPS, -4, 4, "mph")
        for change_rad in self.axis_rotation_change_rad:
            require_within(
                "range.axis_rotation_change_deg", change_rad / DEGREE_RAD, -30, 30, "degrees"
            )


@dataclass(frozen=True, slots=True)
class Bowler:
    """The person the sheet is for. `care` (what to watch on the own body) and `straps` (what is
    worn for it) are private: never exported.

    side_pots : whether side pots and brackets are shown at all; they are gambling, and some want
        nothing of it.
    home_currency : in which a season is added up.
    """

    name: str
    hand: Hand
    style: Style
    release: Release
    pap_over_m: float
    pap_up_m: float
    slide_to_laydown_boards: float
    average: float
    scatter: Scatter
    reach: Reach
    care: tuple[str, ...] = ()
    side_pots: bool = True
    home_currency: str | None = None
    straps: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        require(bool(self.name.strip()), "name", self.name, "a name")
        require_within("pap_over_in", self.pap_over_m / INCH_M, 2, 7.5, "in")
        require_within("pap_up_in", self.pap_up_m / INCH_M, -3, 3, "in")
        require_within("slide_to_laydown_boards", self.slide_to_laydown_boards, 0, 15, "boards")
        require_within("average", self.average, 50, 280, "pins")
        if self.home_currency is not None:
            require_currency("home_currency", self.home_currency)

    @property
    def pap_m(self) -> tuple[float, float]:
        """Positive axis point, over and up from the grip centre."""
        return self.pap_over_m, self.pap_up_m

    def slide_board(self, laydown_board: float) -> float:
        """Board the sliding foot stands on when the ball is laid down on `laydown_board`."""
        return laydown_board + self.hand.sign * self.slide_to_laydown_boards
