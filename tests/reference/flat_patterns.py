"""Invented sport patterns that differ in length alone, and a medium bowler to play them."""

from __future__ import annotations

from dataclasses import replace

from nextpair.domain.bowler import Bowler, Release
from nextpair.domain.pattern import Direction, Pass, Pattern
from nextpair.domain.typical import scatter_of
from nextpair.domain.units import DEGREE_RAD, FOOT_M, MPH_MPS, RPM_RADPS

VOLUME_ML = 24.0
"""Middle of the championship patterns of [facts] section 4."""
LAID = (
    # way, first board, last board, loads, end as a share of the length
    (Direction.FORWARD, 2, 38, 3, 0.60),
    (Direction.FORWARD, 9, 31, 4, 0.65),
    (Direction.FORWARD, 2, 38, 2, 0.85),
    (Direction.FORWARD, 11, 29, 6, 0.75),
    (Direction.REVERSE, 2, 38, 2, 1.00),
    (Direction.REVERSE, 10, 30, 4, 0.90),
    (Direction.REVERSE, 13, 27, 4, 0.80),
)


def flat_pattern(length_ft: float) -> Pattern:
    """A pattern of that length: the same passes and volume, drawn out or pushed together."""
    boards = sum((last - first + 1) * loads for _, first, last, loads, _ in LAID)
    oil_ul = VOLUME_ML * 1000 / boards
    return Pattern(
        name=f"Flat {length_ft:g}",
        length_m=length_ft * FOOT_M,
        passes=tuple(
            Pass(way, first, last, loads, oil_ul, 0.5 * FOOT_M, share * length_ft * FOOT_M)
            for way, first, last, loads, share in LAID
        ),
    )


def medium_bowler(bowler: Bowler) -> Bowler:
    """A bowler's reach with a medium release, repeated as well as a 215 average repeats."""
    release = Release(17.5 * MPH_MPS, 350 * RPM_RADPS, 45 * DEGREE_RAD, 12 * DEGREE_RAD)
    return replace(bowler, release=release, scatter=scatter_of(215.0, release))
