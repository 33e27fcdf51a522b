"""Where lines of a ball go on a lane, in tables: as planned, and how far each number moves that.

A ball is rolled from every line as planned; then from drawn lines under drawn numbers, and what
these move its marks by is fitted by least squares: six terms of the line for each number, and
products of two numbers.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri
from scipy.stats import qmc

from nextpair.domain.lane_tables import HUNDREDTHS, MarkTable
from nextpair.domain.units import DEGREE_RAD
from nextpair.domain.unknowns import (
    CARRY_LOG,
    DRY_LOG,
    FILM_LOG,
    FLATTER_LOG,
    LONGER_M,
    REVS_LOG,
    ROTATION_RAD,
    SPEED_MPS,
    WEAR_LOG,
    Unknown,
)
from nextpair.planning.release_change import ReleaseChange
from nextpair.reading.answers import NUMBERS, WIDEST, Mark, Number, marks_at
from nextpair.reading.lane_story import LaneStory

FloatArray = NDArray[np.float64]

NUMBERED: tuple[tuple[Unknown, Number], ...] = (
    (DRY_LOG, Number.DRY),
    (FILM_LOG, Number.FILM),
    (WEAR_LOG, Number.WEAR),
    (CARRY_LOG, Number.CARRY),
    (FLATTER_LOG, Number.FLATTER),
    (LONGER_M, Number.LONGER),
    (SPEED_MPS, Number.SPEED),
    (REVS_LOG, Number.REVS),
    (ROTATION_RAD, Number.ROTATION),
)
"""What the tables' numbers are, in their order; time in the game comes after them."""
MARKS = (Mark.BREAKPOINT, Mark.ENTRY, Mark.ANGLE)
LINE_BOARDS, LINE_DEG = 6.0, 1.5
"""Lines of a table: so far to each side of the ball's own, and as much farther as a bowler strays
from there."""
LAYDOWN_STEP_BOARDS, ANGLE_STEP_DEG = 1.5, 0.25
"""Of the lines that are rolled as planned, as planning rolls them."""
SHARES = (0.1, 0.5, 0.9)
"""Times in the game at which drawn shots are rolled."""
FILMS, SHOTS_A_FILM = 16, 32
SEED = 0
"""Of drawn lines and numbers: tables of one event differ by its lanes alone."""


@dataclass(frozen=True, slots=True)
class MeantLine:
    """Where a table's ball is thrown from: own lay-down board, launch angle, and how otherwise
    than usual."""

    own_laydown: float
    angle_deg: float
    change: ReleaseChange


def rolled_as_planned(
    story: LaneStory, laydowns: FloatArray, angles_deg: FloatArray
) -> FloatArray:
    """Marks (lay-downs, angles, len(Mark)) of every line half-way through the game."""
    numbers = np.zeros((1, 1, len(laydowns) * len(angles_deg), NUMBERS))
    numbers[..., Number.LAYDOWN] = np.repeat(laydowns, len(angles_deg))
    numbers[..., Number.ANGLE] = np.tile(angles_deg * DEGREE_RAD, len(laydowns))
    marks = marks_at(story, [len(SHARES) // 2], numbers)
    return marks.reshape(len(laydowns), len(angles_deg), len(Mark))


def moved_marks(story: LaneStory, drawn: FloatArray) -> FloatArray:
    """How far drawn shots (shares, films, shots, 11) move the marks (..., len(Mark)) of their
    lines as planned."""
    numbers = np.zeros((1, 1, drawn[..., 0].size, NUMBERS))
    for number in (Number.LAYDOWN, Number.ANGLE):
        numbers[..., number] = drawn[..., number].ravel()
    planned = marks_at(story, [len(SHARES) // 2], numbers)
    moved = marks_at(story, range(len(SHARES)), drawn)
    return np.asarray(moved - planned.reshape(moved.shape))


def own_marks(story: LaneStory, line: MeantLine) -> FloatArray:
    """Marks (len(Mark),) of a table's own line."""
    angles_deg = np.array([line.angle_deg])
    return np.asarray(rolled_as_planned(story, np.array([line.own_laydown]), angles_deg)[0, 0])


def design_of(
    line: MeantLine, laydowns: FloatArray, angles_deg: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Numbers (shares, FILMS, SHOTS_A_FILM, 11) of drawn shots as `marks_at` takes them, and as
    the tables count them (n, 12): l, a, deviations, time."""
    films = len(SHARES) * FILMS
    rng = np.random.default_rng(SEED)
    shapes = _normal(qmc.Halton(4, rng=rng).random(films))
    others = qmc.Halton(len(NUMBERED) - 2, rng=rng).random(films * SHOTS_A_FILM)
    shape = (len(SHARES), FILMS, SHOTS_A_FILM)
    drawn, told = np.zeros((*shape, NUMBERS)), np.zeros((*shape, len(NUMBERED) + 3))
    of_films = {Number.WEAR: 0, Number.CARRY: 1, Number.FLATTER: 2, Number.LONGER: 3}
    loose = iter(_normal(others[:, 2:]).T)
    for place, (unknown, number) in enumerate(NUMBERED):
        deviation = (
            shapes[:, of_films[number]].reshape(*shape[:2], 1)
            if number in of_films
            else next(loose).reshape(shape)
        )
        drawn[..., number] = unknown.spread * deviation
        told[..., 2 + place] = deviation
    laydown, angle_deg = (
        (places[0] + np.ptp(places) * share).reshape(shape)
        for places, share in zip((laydowns, angles_deg), others[:, :2].T, strict=True)
    )
    drawn[..., Number.LAYDOWN], drawn[..., Number.ANGLE] = laydown, angle_deg * DEGREE_RAD
    told[..., 0] = (laydown - line.own_laydown) / LINE_BOARDS
    told[..., 1] = (angle_deg - line.angle_deg) / LINE_DEG
    told[..., -1] = 2.0 * np.array(SHARES)[:, None, None] - 1.0
    return drawn, told.reshape(-1, told.shape[-1])


def _normal(shares: FloatArray) -> FloatArray:
    return np.asarray(np.clip(ndtri(shares), -WIDEST, WIDEST))


def terms_of(numbers: FloatArray) -> FloatArray:
    """Terms (n, 60 + 54) of numbers (n, 12): each with six of the line, then products of two."""
    along, angle = numbers[:, 0], numbers[:, 1]
    line = np.stack(
        (np.ones(len(numbers)), along, angle, along**2, along * angle, angle**2), axis=1
    )
    unknown = numbers[:, 2:]
    slopes = (unknown[:, :, None] * line[:, None, :]).reshape(len(numbers), -1)
    first, second = np.triu_indices(unknown.shape[1])
    products = (unknown[:, first] * unknown[:, second])[:, :-1]  # time twice is left out
    return np.concatenate((slopes, products), axis=1)


def fitted(numbers: FloatArray, moved: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Coefficients (114, len(Mark)) of how marks are moved, and the deviation of what these miss
    (len(Mark),). Shots that cannot be rolled are left out."""
    marks = moved.reshape(-1, len(Mark))
    rolled = np.isfinite(marks).all(axis=1)
    terms, marks = terms_of(numbers[rolled]), marks[rolled]
    coefficients = np.linalg.lstsq(terms, marks, rcond=None)[0]
    off = marks - terms @ coefficients
    freedom = max(len(terms) - terms.shape[1], 1)
    return np.asarray(coefficients), np.asarray(np.sqrt((off**2).sum(axis=0) / freedom))


def mark_table(base: FloatArray, fitted: tuple[FloatArray, FloatArray], mark: Mark) -> MarkTable:
    coefficients, missed = fitted
    whole = np.rint(HUNDREDTHS * coefficients[:, mark]).astype(int).tolist()
    slopes = 6 * (len(NUMBERED) + 1)
    return MarkTable(
        base=_second_differences(base[..., mark]),
        slopes=tuple(whole[:slopes]),
        bends=tuple(whole[slopes:]),
        missed=hundredths_of(float(missed[mark])),
    )


def _second_differences(values: FloatArray) -> tuple[int, ...]:
    """Each row of values (r, c) in hundredths: the first, the first difference, then second
    ones."""
    whole = np.rint(HUNDREDTHS * values).astype(int)
    steps = np.diff(whole, axis=1)
    rows = np.concatenate((whole[:, :1], steps[:, :1], np.diff(steps, axis=1)), axis=1)
    return tuple(rows.ravel().tolist())


def hundredths_of(number: float) -> int:
    return round(HUNDREDTHS * number)
