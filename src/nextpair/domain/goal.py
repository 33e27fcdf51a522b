"""What a bowler wants to reach, and by when."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from nextpair.domain.errors import require, require_within


class Measure(StrEnum):
    """What a goal counts."""

    AVERAGE = "average"
    FIELD_RELATIVE = "field-relative"
    STRIKES = "strikes"
    SPARES = "spares"
    SINGLE_PINS = "single-pin spares"
    FRAMES_FILLED = "frames filled"
    CASHES = "cashes"
    EVENTS = "events"


ALLOWED: dict[Measure, tuple[float, float, str]] = {
    Measure.AVERAGE: (0, 300, "pins"),
    Measure.FIELD_RELATIVE: (-5, 5, "standard deviations of the field"),
    Measure.STRIKES: (0, 100, "% of first balls"),
    Measure.SPARES: (0, 100, "% of those tried"),
    Measure.SINGLE_PINS: (0, 100, "% of those tried"),
    Measure.FRAMES_FILLED: (0, 100, "% of frames"),
    Measure.CASHES: (0, 365, "events"),
    Measure.EVENTS: (0, 365, "events"),
}
"""Least and most of each measure, and its unit."""


@dataclass(frozen=True, slots=True)
class Goal:
    """A target for one measure, over the events of some days."""

    name: str
    measure: Measure
    target: float
    first_day: date
    last_day: date

    def __post_init__(self) -> None:
        require(bool(self.name.strip()), "name", self.name, "a name")
        require_within("target", self.target, *ALLOWED[self.measure])
        after = f"{self.first_day.isoformat()} or later"
        require(self.last_day >= self.first_day, "last_day", self.last_day, after)
