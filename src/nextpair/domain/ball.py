"""A bowling ball: weight, core, cover, surface and layout, within the published limits.

Sources: [facts] section 3: at most 16 lb; RG on any axis 2.460 to 2.800 in; total differential
at most 0.060 in. The smallest weight sold is taken as 6 lb (assumption).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from nextpair.domain.errors import require, require_within
from nextpair.domain.lane import PIN_RADIUS_M
from nextpair.domain.units import DEGREE_RAD, INCH_M, OUNCE_KG, POUND_KG

BALL_RADIUS_M = 0.1085
"""Radius of a played ball, inside the published 8.500 to 8.595 in diameter."""
CONTACT_M = BALL_RADIUS_M + PIN_RADIUS_M
"""Distance of ball centre and head-pin centre at first contact."""
LARGEST_MASS_KG = 16.0 * POUND_KG
SMALLEST_MASS_KG = 6.0 * POUND_KG
SMALLEST_RG_M = 2.460 * INCH_M
LARGEST_RG_M = 2.800 * INCH_M
LARGEST_DIFFERENTIAL_M = 0.060 * INCH_M
LARGEST_STATIC_OZ = 3.0
Grit = int | str
"""Grit number, or "polished"."""
POLISHED = "polished"
SMALLEST_GRIT, LARGEST_GRIT = 360, 5000
"""Abrasives that covers are finished with. Common practice."""


class Cover(StrEnum):
    """Cover material, weakest first."""

    PLASTIC = "plastic"
    URETHANE = "urethane"
    PEARL = "pearl"
    HYBRID = "hybrid"
    SOLID = "solid"


class Role(StrEnum):
    """What a ball is brought for."""

    STRIKE = "strike"
    SPARE = "spare"


class Tool(StrEnum):
    """What an abrasive is put on with."""

    SPINNER = "spinner"
    HAND = "hand"


@dataclass(frozen=True, slots=True)
class Surface:
    """How a cover was finished: a grit number, or None for polished, and games since.

    `under` is the surface that the work was done on. None says that it left no trace: the cover
    went through every step on a spinner. A pad by hand always leaves some of what was there.
    """

    grit: int | None
    games: float = 0.0
    by: Tool = Tool.SPINNER
    under: Surface | None = None

    def __post_init__(self) -> None:
        if self.grit is not None:
            require_within("surface_grit", self.grit, SMALLEST_GRIT, LARGEST_GRIT, "or polished")
        require_within("games_on_surface", self.games, 0, 1000, "games")
        require(
            self.by is Tool.SPINNER or self.under is not None,
            "grit_before",
            "nothing",
            "the surface that was worked on by hand",
        )

    @classmethod
    def put_on(cls, named: int | str) -> Surface:
        """A fresh finish from a spinner, named as files and sheets name it."""
        return cls(None if named == POLISHED else int(named))

    @property
    def named(self) -> int | str:
        """The finish as files and sheets name it: a grit number, or 'polished'."""
        return self.grit or POLISHED

    @property
    def words(self) -> str:
        """The finish as a bowler says it: '2000', 'polished' or '1000 by hand'."""
        return f"{self.named} by hand" if self.by is Tool.HAND else str(self.named)


@dataclass(frozen=True, slots=True)
class Layout:
    """Where the core lies seen from the bowler's positive axis point (PAP)."""

    pin_to_pap_m: float
    drilling_angle_rad: float
    val_angle_rad: float

    def __post_init__(self) -> None:
        require_within("pin_to_pap_in", self.pin_to_pap_m / INCH_M, 0, 6.75, "in")
        require_within(
            "drilling_angle_deg", self.drilling_angle_rad / DEGREE_RAD, 0, 180, "degrees"
        )
        require_within("val_angle_deg", self.val_angle_rad / DEGREE_RAD, 0, 90, "degrees")


def require_weight(mass_kg: float) -> None:
    """Refuse a weight that no ball has."""
    require_within(
        "weight_lb",
        mass_kg / POUND_KG,
        SMALLEST_MASS_KG / POUND_KG,
        LARGEST_MASS_KG / POUND_KG,
        "lb",
    )


@dataclass(frozen=True, slots=True)
class Balance:
    """Where a drilled ball's centre of mass lies from the ball's centre: toward the grip (top
    weight), toward the bowler's positive axis point (side weight) and toward the fingers."""

    top_m: float = 0.0
    side_m: float = 0.0
    finger_m: float = 0.0

    @classmethod
    def of_static_weights(
        cls, mass_kg: float, top_kg: float, side_kg: float, finger_kg: float
    ) -> Balance:
        """From what a scale shows: how much heavier one half of the ball is than the other, as a
        weight at the cover.

        Sources: [model-sheet] section 2.5, an estimate; at most 3 oz each way by
        [ball-specification-2012].
        """
        require_weight(mass_kg)
        for field, weight_kg in (
            ("top_weight_oz", top_kg),
            ("side_weight_oz", side_kg),
            ("finger_weight_oz", finger_kg),
        ):
            ounces = weight_kg / OUNCE_KG
            require_within(field, ounces, -LARGEST_STATIC_OZ, LARGEST_STATIC_OZ, "oz")
        lever_m = BALL_RADIUS_M / mass_kg
        return cls(top_kg * lever_m, side_kg * lever_m, finger_kg * lever_m)


@dataclass(frozen=True, slots=True)
class Ball:
    """One ball of the locker. `rg_m` is the radius of gyration about the low axis (the pin)."""

    name: str
    mass_kg: float
    rg_m: float
    differential_m: float
    intermediate_m: float
    cover: Cover
    surface: Surface
    layout: Layout
    role: Role = Role.STRIKE
    balance: Balance = Balance()

    def __post_init__(self) -> None:
        require(bool(self.name.strip()), "name", self.name, "a name")
        require_weight(self.mass_kg)
        require_within(
            "differential_in",
            self.differential_m / INCH_M,
            0,
            LARGEST_DIFFERENTIAL_M / INCH_M,
            "in",
        )
        require_within(
            "intermediate_in",
            self.intermediate_m / INCH_M,
            0,
            self.differential_m / INCH_M,
            "in (at most the total differential)",
        )
        for field, value in (
            ("rg_in", self.rg_m),
            ("rg_in + differential_in", self.rg_m + self.differential_m),
        ):
            require_within(
                field,
                value / INCH_M,
                SMALLEST_RG_M / INCH_M,
                LARGEST_RG_M / INCH_M,
                "in",
            )

    @property
    def radii_of_gyration_m(self) -> tuple[float, float, float]:
        """About the low axis (pin), the high axis and the axis between them."""
        high = self.rg_m + self.differential_m
        return self.rg_m, high, high - self.intermediate_m
