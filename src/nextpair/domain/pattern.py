"""An oil pattern: the passes of a lane machine, or a film that was measured."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from nextpair.domain.errors import require, require_within
from nextpair.domain.lane import BOARDS, HEAD_PIN_M
from nextpair.domain.units import CENTIPOISE_PAS, FOOT_M

LARGEST_FILM_UM = 60.0
"""Thickest film believed of a reading: more than three times the heaviest oil in front."""

ROUNDING_M = 1e-9
"""Slack for values that were exactly at a limit before the change of unit."""


LONGEST_DESCRIPTION = 600
NOTHING_TO_BUFF = "0, or a forward [[pass]] whose oil the brush carries on"


class Direction(StrEnum):
    """Which way the lane machine travels on a pass."""

    FORWARD = "forward"
    REVERSE = "reverse"


class Shape(StrEnum):
    """How the oil lies across the lane, as whoever wrote the pattern sees it."""

    FLAT = "flat"
    CROWNED = "crowned"
    STEPPED = "stepped"
    HOUSE_LIKE = "house-like"
    REVERSED = "reversed"


@dataclass(frozen=True, slots=True)
class Pass:
    """One pass: `loads` crossings of the oil head over a span of boards, spread over a length.

    `oil_ul` is what one board receives at each crossing, in microlitres. Over `taper_start_m` from
    its start the oil rises in a straight line from nothing, and over `taper_end_m` before its end
    it falls to nothing; the volume stays what it is. Start and end are places on the lane, the
    start nearer the foul line, whichever way the machine travels.
    """

    direction: Direction
    from_board: int
    to_board: int
    loads: int
    oil_ul: float
    start_m: float
    end_m: float
    taper_start_m: float = 0.0
    taper_end_m: float = 0.0

    def __post_init__(self) -> None:
        require_within("from_board", self.from_board, 1, BOARDS, "boards")
        require_within("to_board", self.to_board, 1, BOARDS, "boards")
        require(
            self.from_board <= self.to_board,
            "from_board",
            self.from_board,
            f"at most to_board ({self.to_board}): boards count from the right edge",
        )
        require_within("loads", self.loads, 1, 60, "loads")
        require_within("oil_ul", self.oil_ul, 0.1, 200, "microlitres")
        require_within("start_ft", self.start_m / FOOT_M, 0, 60, "ft")
        require_within("end_ft", self.end_m / FOOT_M, 0, 60, "ft")
        require(
            self.start_m + ROUNDING_M < self.end_m,
            "start_ft",
            round(self.start_m / FOOT_M, 3),
            f"less than end_ft ({self.end_m / FOOT_M:g}), whichever way the machine travels",
        )
        require_within("taper_start_ft", self.taper_start_m / FOOT_M, 0, 60, "ft")
        require_within("taper_end_ft", self.taper_end_m / FOOT_M, 0, 60, "ft")
        room_m = self.end_m - self.start_m
        require(
            self.taper_start_m + self.taper_end_m <= room_m + ROUNDING_M,
            "taper_end_ft",
            round(self.taper_end_m / FOOT_M, 3),
            f"with taper_start_ft at most the length of the pass ({room_m / FOOT_M:g} ft)",
        )

    @property
    def boards(self) -> int:
        """How many boards the pass covers."""
        return self.to_board - self.from_board + 1

    @property
    def volume_ul(self) -> float:
        """Oil laid by this pass: boards x loads x microlitres a board."""
        return self.boards * self.loads * self.oil_ul


@dataclass(frozen=True, slots=True)
class MeasuredFilm:
    """A film read from a lane: one row of 39 thicknesses (right to left) at each distance."""

    distance_m: tuple[float, ...]
    thickness_um: tuple[tuple[float, ...], ...]

    def __post_init__(self) -> None:
        require(len(self.distance_m) >= 2, "distance_ft", len(self.distance_m), "2 rows or more")
        require(
            len(self.distance_m) == len(self.thickness_um),
            "rows",
            len(self.thickness_um),
            f"{len(self.distance_m)}, one for each distance",
        )
        require(
            all(a < b for a, b in zip(self.distance_m, self.distance_m[1:], strict=False)),
            "distance_ft",
            "unordered",
            "distances that increase from row to row",
        )
        require_within("distance_ft", self.distance_m[-1], 0, HEAD_PIN_M, "m")
        for row in self.thickness_um:
            require(len(row) == BOARDS, "boards", len(row), f"{BOARDS} values a row")
            for value in row:
                require_within("film", value, 0, LARGEST_FILM_UM, "micrometres")


@dataclass(frozen=True, slots=True)
class Pattern:
    """What the lane machine laid down. Exactly one of `passes` and `film` is given.

    `buff_m` is how far the machine's brush carries the oil of forward passes on until it holds
    1/e of it; 0 = the brush carries nothing on. `description` says what the pattern is to play.
    """

    name: str
    length_m: float
    viscosity_pas: float = 0.035
    passes: tuple[Pass, ...] = ()
    film: MeasuredFilm | None = None
    buff_m: float = 0.0
    shape: Shape | None = None
    description: str = ""

    def __post_init__(self) -> None:
        require(bool(self.name.strip()), "name", self.name, "a name")
        require_within("length_ft", self.length_m / FOOT_M, 20, 60, "ft")
        require_within("viscosity_cp", self.viscosity_pas / CENTIPOISE_PAS, 5, 150, "cP")
        require(
            bool(self.passes) != (self.film is not None),
            "pass",
            f"{len(self.passes)} passes" + (" and a film" if self.film else ""),
            "either [[pass]] tables or one [film] csv",
        )
        for number, a_pass in enumerate(self.passes, start=1):
            require(
                a_pass.end_m <= self.length_m + ROUNDING_M,
                f"pass {number}: end_ft",
                round(a_pass.end_m / FOOT_M, 3),
                f"at most length_ft ({self.length_m / FOOT_M:g})",
            )
        require_within("buff_ft", self.buff_m / FOOT_M, 0, 20, "ft")
        require(
            self.buff_m == 0.0 or self.forward_to_m is not None,
            "buff_ft",
            round(self.buff_m / FOOT_M, 3),
            NOTHING_TO_BUFF,
        )
        require(
            len(self.description) <= LONGEST_DESCRIPTION,
            "description",
            f"{len(self.description)} characters",
            f"at most {LONGEST_DESCRIPTION} characters",
        )

    @property
    def forward_to_m(self) -> float | None:
        """Where the last forward pass ends; None where there is none."""
        forward = [laid for laid in self.passes if laid.direction is Direction.FORWARD]
        return max((laid.end_m for laid in forward), default=None)
