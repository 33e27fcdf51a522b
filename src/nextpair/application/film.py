"""What a pattern is in numbers: the film it lays, how much, how flat, how the trade plays it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from nextpair.domain.bowler import Hand
from nextpair.domain.pattern import Pattern
from nextpair.domain.sheet import FILM_TOLD_FT, PatternCard
from nextpair.domain.units import CENTIPOISE_PAS, FOOT_M, OIL_UNIT_UM
from nextpair.physics.dressing import film_of
from nextpair.physics.film import (
    Film,
    film_by_foot_units,
    film_line_units,
    pattern_ratio,
    rule_of_31_exit_board,
    side_ratio,
    sport_class,
    volume_ml,
)


@dataclass(frozen=True, slots=True)
class FilmCard:
    """A fresh film. Boards count from the right edge; distances are feet from the foul line."""

    pattern: PatternCard
    shape: str | None
    description: str
    viscosity_cp: float
    forward_to_ft: float | None
    """Where the last forward pass ends; from there on the brush buffs, if `buff_ft` is not 0."""
    buff_ft: float
    right_side_ratio: float
    left_side_ratio: float
    rule_of_31_exit_board_right_hander: float
    rule_of_31_exit_board_left_hander: float
    film_units_at: dict[str, tuple[float, ...]]
    film_units: tuple[tuple[float, ...], ...] = field(repr=False)
    """Film at every whole foot, 60 rows of 39 boards."""


def film_card(pattern: Pattern) -> FilmCard:
    """A pattern's fresh film, measured."""
    film_um = film_of(pattern)
    return FilmCard(
        pattern=pattern_card(pattern, film_um),
        shape=None if pattern.shape is None else pattern.shape.value,
        description=pattern.description,
        viscosity_cp=pattern.viscosity_pas / CENTIPOISE_PAS,
        forward_to_ft=None if pattern.forward_to_m is None else pattern.forward_to_m / FOOT_M,
        buff_ft=pattern.buff_m / FOOT_M,
        right_side_ratio=side_ratio(film_um, pattern.length_m, Hand.RIGHT),
        left_side_ratio=side_ratio(film_um, pattern.length_m, Hand.LEFT),
        rule_of_31_exit_board_right_hander=rule_of_31_exit_board(pattern.length_m, Hand.RIGHT),
        rule_of_31_exit_board_left_hander=rule_of_31_exit_board(pattern.length_m, Hand.LEFT),
        film_units_at=film_numbers(film_um),
        film_units=film_by_foot_units(film_um),
    )


def pattern_card(pattern: Pattern, film_um: Film) -> PatternCard:
    """Length, volume, ratio and class of a pattern whose fresh film [um] is given."""
    ratio = pattern_ratio(film_um, pattern.length_m)
    return PatternCard(
        name=pattern.name,
        length_ft=pattern.length_m / FOOT_M,
        volume_ml=volume_ml(film_um),
        ratio=ratio,
        sport_class=sport_class(ratio).value,
    )


def film_from_feet(by_foot_units: Sequence[Sequence[float]]) -> Film:
    """A film [um] whose means over whole feet are given: 60 rows of 39 boards [units], each foot's
    two cells alike, so that its volume is kept."""
    return np.repeat(np.array(by_foot_units, dtype=float) * OIL_UNIT_UM, 2, axis=0)


def film_numbers(film_um: Film) -> dict[str, tuple[float, ...]]:
    """Units of oil on the 39 boards at each of FILM_TOLD_FT, by distance as written in JSON."""
    return {str(ft): film_line_units(film_um, ft * FOOT_M) for ft in FILM_TOLD_FT}
