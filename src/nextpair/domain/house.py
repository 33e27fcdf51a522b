"""A house: its lanes, what they are made of, and what is known of single lanes."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from nextpair.domain.errors import require, require_within
from nextpair.domain.lane import BOARDS
from nextpair.domain.units import INCH_M

LARGEST_HEIGHT_IN = 0.5
"""Largest height believed of a lane: more than ten times what inspection allows."""


class LaneSurface(StrEnum):
    """What the lane bed is made of."""

    WOOD = "wood"
    OVERLAY = "overlay"
    SYNTHETIC = "synthetic"


class Approach(StrEnum):
    """How the approach lets a sole slide."""

    TACKY = "tacky"
    MEDIUM = "medium"
    SLICK = "slick"


class Pinfall(StrEnum):
    """How pins are set: free or on strings."""

    FREE = "free"
    STRING = "string"


@dataclass(frozen=True, slots=True)
class HeightMap:
    """Heights of a lane's surface: one row of 39 boards (right to left) at each distance.

    Heights count from any level; only their differences matter.
    """

    distance_m: tuple[float, ...]
    height_m: tuple[tuple[float, ...], ...]

    def __post_init__(self) -> None:
        require(len(self.distance_m) >= 2, "distance_ft", len(self.distance_m), "2 rows or more")
        require(
            len(self.distance_m) == len(self.height_m),
            "rows",
            len(self.height_m),
            f"{len(self.distance_m)}, one for each distance",
        )
        require(
            all(a < b for a, b in pairwise(self.distance_m)),
            "distance_ft",
            "unordered",
            "distances that increase from row to row",
        )
        for row in self.height_m:
            require(len(row) == BOARDS, "boards", len(row), f"{BOARDS} values a row")
            for height_m in row:
                height_in = height_m / INCH_M
                require_within("height", height_in, -LARGEST_HEIGHT_IN, LARGEST_HEIGHT_IN, "in")


@dataclass(frozen=True, slots=True)
class LaneTrait:
    """What is known of one lane: mean cross tilt (right edge lower = positive), friction, and the
    shape of its surface where it was surveyed, on top of the tilt."""

    number: int
    tilt_m: float = 0.0
    friction: float = 1.0
    heights: HeightMap | None = None
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        require_within("lane.tilt_in", self.tilt_m / INCH_M, -0.2, 0.2, "in")
        require_within("lane.friction", self.friction, 0.5, 1.5, "")


@dataclass(frozen=True, slots=True)
class House:
    """A bowling centre.

    friction : factor on dry friction of all its lanes; a lane's own is on top of it.
    ball_return, ceiling : what of them gets in the way, if anything does.
    photos : names of picture files. private_notes : left out when the house is shared.
    """

    name: str
    lanes: int
    surface: LaneSurface
    surface_age_years: float
    approach: Approach = Approach.MEDIUM
    pinfall: Pinfall = Pinfall.FREE
    lane_machine: str = ""
    temperature_c: float = 21.0
    notes: tuple[str, ...] = ()
    traits: tuple[LaneTrait, ...] = ()
    friction: float = 1.0
    ball_return: str = ""
    ceiling: str = ""
    photos: tuple[str, ...] = ()
    private_notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        require(bool(self.name.strip()), "name", self.name, "a name")
        require_within("lanes", self.lanes, 1, 200, "lanes")
        require_within("surface_age_years", self.surface_age_years, 0, 80, "years")
        require_within("temperature_c", self.temperature_c, 5, 40, "degrees C")
        require_within("friction", self.friction, 0.5, 1.5, "")
        seen: set[int] = set()
        for trait in self.traits:
            require_within("lane.number", trait.number, 1, self.lanes, "(lanes of this house)")
            require(trait.number not in seen, "lane.number", trait.number, "each lane once")
            seen.add(trait.number)

    def trait(self, lane: int) -> LaneTrait:
        """What is known of a lane; an ordinary lane where nothing is."""
        return next((t for t in self.traits if t.number == lane), LaneTrait(lane))

    def friction_of(self, lane: int) -> float:
        """Factor on dry friction of one lane: the house's and its own."""
        return self.friction * self.trait(lane).friction
