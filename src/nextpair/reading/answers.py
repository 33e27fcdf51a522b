"""How each shot answers to what is not known: where it goes, as a quadratic of eleven numbers.

A shot is rolled a few hundred times about what is believed of it, on films drawn as the oil may
be, and its marks are fitted by least squares. What the quadratic misses is measured and counted as
doubt of the marks.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum
from functools import cache

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri
from scipy.stats import qmc

from nextpair.domain.lane import CENTRE_BOARD
from nextpair.kernel.derivatives import marks_of, one_batch
from nextpair.kernel.layout import Bodies, Lanes, Shots
from nextpair.kernel.outcome import Status
from nextpair.kernel.roll import roll
from nextpair.kernel.throws import shots_of
from nextpair.physics.film_draws import drawn_films, film_draws
from nextpair.reading.lane_story import LaneStory
from nextpair.reading.seen import UNSEEN

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


class Number(IntEnum):
    """What the marks of a shot depend on; the first four change the film's shape.

    Lay-down and launch angle are those of the shot [own boards, rad], speed, revs and rotation are
    changes of what was meant [m/s, log, rad].
    """

    WEAR = 0
    CARRY = 1
    FLATTER = 2
    LONGER = 3
    DRY = 4
    FILM = 5
    LAYDOWN = 6
    ANGLE = 7
    SPEED = 8
    REVS = 9
    ROTATION = 10


SHAPES = 4
UNKNOWN = np.array([number for number in Number if number not in (Number.LAYDOWN, Number.ANGLE)])
"""Numbers that differ from what was meant on all shots alike."""
RELEASE = slice(Number.LAYDOWN, Number.ROTATION + 1)
NUMBERS = len(Number)


class Mark(IntEnum):
    """Where a shot goes: own boards at the arrows, closest to the gutter and level with the head
    pin; angle [deg] and speed [m/s] at the pins."""

    TARGET = 0
    BREAKPOINT = 1
    ENTRY = 2
    ANGLE = 3
    SPEED = 4


FILMS = 16
SHOTS_A_FILM = 16
WIDEST = 2.5
"""How many deviations out shots are rolled."""


def marks_at(story: LaneStory, shots: Sequence[int], numbers: FloatArray) -> FloatArray:
    """Marks (len(shots), f, s, len(Mark)) of some shots of the story, by their places in it, for
    numbers (len(shots), f, s, 11): f films of s releases each. NaN where a shot cannot be rolled.
    """
    variants = [_variant(story, shot, numbers[row]) for row, shot in enumerate(shots)]
    paths = roll(*one_batch(variants))
    marks = marks_of(paths)
    found = np.stack(
        (
            CENTRE_BOARD - marks.arrows_boards,
            CENTRE_BOARD - marks.break_boards,
            CENTRE_BOARD - marks.head_pin_boards,
            marks.entry_angle_deg,
            paths.lane_impact.speed_mps,
        ),
        axis=-1,
    )
    found[np.isin(paths.status, (Status.STOPPED, Status.BAD_INPUT))] = np.nan
    return found.reshape(*numbers.shape[:3], len(Mark))


def _variant(story: LaneStory, shot: int, numbers: FloatArray) -> tuple[Lanes, Bodies, Shots]:
    """One shot of the story under numbers (f, s, 11)."""
    shapes = numbers[:, 0, :SHAPES]
    draws = film_draws(
        wear_factor=np.exp(shapes[:, Number.WEAR]),
        carry_factor=np.exp(shapes[:, Number.CARRY]),
        flatter=shapes[:, Number.FLATTER],
        longer_m=shapes[:, Number.LONGER],
    )
    kind, release = story.kind_of(shot), story.releases[shot]
    films = drawn_films(story.fresh[shot], story.worn[shot], draws, kind.length_m)
    flat = numbers.reshape(-1, NUMBERS).T
    thrown = shots_of(
        release,
        kind,
        own_laydown=flat[Number.LAYDOWN],
        launch_angle_rad=flat[Number.ANGLE],
        speed_change_mps=flat[Number.SPEED],
        rev_change_radps=release.rev_rate_radps * np.expm1(flat[Number.REVS]),
        rotation_change_rad=flat[Number.ROTATION],
        film=np.repeat(np.arange(len(films)), numbers.shape[1]),
        dry_factor=np.exp(flat[Number.DRY]),
        film_factor=np.exp(flat[Number.FILM]),
    )
    return kind.under(films), story.body_of(shot), thrown


@dataclass(frozen=True, slots=True)
class Answers:
    """Marks of n shots about a centre each.

    slopes : (n, len(Mark), 11) at the centres. bends : (n, len(Mark), 5, 5) second slopes there to
        the numbers of the release.
    curves : (55, n, len(Mark)) marks of the centres' releases as quadratics of what is not known,
        in deviations of `scale` (9,) from the centre.
    missed : (n, len(Mark)) variance of what quadratics miss.
    """

    slopes: FloatArray
    bends: FloatArray
    scale: FloatArray
    curves: FloatArray
    missed: FloatArray

    def marks(self, changes: FloatArray, shots: IntArray) -> FloatArray:
        """Marks (m, k, len(Mark)) of k of the shots, for changes (m, 9) of what is not known from
        the centres."""
        terms = _terms((changes / self.scale)[None])[0]
        of_shots = self.curves[:, shots].reshape(len(self.curves), -1)
        return np.asarray((terms @ of_shots).reshape(len(changes), len(shots), len(Mark)))


def answers_about(
    story: LaneStory, shots: Sequence[int], centre: FloatArray, covariance: FloatArray
) -> Answers:
    """Answers of some shots about centres (n, 11), as far as a covariance (n, 11, 11) reaches.

    Of a shot that cannot be rolled nothing is known, which the missed variance says.
    """
    root = np.linalg.cholesky(covariance)
    numbers = centre[:, None, None] + np.einsum("nij,fsj->nfsi", root, _design())
    marks = marks_at(story, shots, numbers).reshape(len(shots), -1, len(Mark))
    terms, solve = _solver()
    lost = np.asarray(np.isnan(marks).any(axis=(1, 2)))
    marks[lost] = 0.0
    coefficients = solve @ marks
    missed = ((marks - terms @ coefficients) ** 2).sum(axis=1) / (len(terms) - terms.shape[1])
    linear = coefficients[:, 1 : 1 + NUMBERS]
    inverse = np.linalg.inv(root)
    reach = np.diagonal(root, axis1=1, axis2=2)[:, UNKNOWN]
    scale = reach.max(axis=0)
    return Answers(
        slopes=np.asarray(np.einsum("nim,nij->nmj", linear, inverse)),
        bends=_bends(coefficients[:, 1 + NUMBERS :], inverse)[..., RELEASE, RELEASE],
        scale=scale,
        curves=_of_unknown(coefficients, scale / reach),
        missed=np.where(lost[:, None], UNSEEN, missed),
    )


def _bends(products: FloatArray, inverse: FloatArray) -> FloatArray:
    """Second slopes (n, len(Mark), 11, 11), from coefficients of products (n, 66, len(Mark)) of
    deviations and what turns numbers into deviations (n, 11, 11)."""
    first, second = _pairs(NUMBERS)
    whole = np.zeros((len(products), products.shape[2], NUMBERS, NUMBERS))
    whole[:, :, first, second] = products.transpose(0, 2, 1)
    whole += whole.transpose(0, 1, 3, 2)
    turn = inverse[:, None]
    return np.asarray(turn.transpose(0, 1, 3, 2) @ whole @ turn)


def _of_unknown(coefficients: FloatArray, longer: FloatArray) -> FloatArray:
    """Coefficients (55, n, len(Mark)) of what is not known alone, from those of all numbers
    (n, 78, len(Mark)); each unknown's unit is made `longer` (n, 9) by a factor."""
    first, second = _pairs(NUMBERS)
    both = np.isin(first, UNKNOWN) & np.isin(second, UNKNOWN)
    own = np.flatnonzero(np.concatenate(([True], np.isin(np.arange(NUMBERS), UNKNOWN), both)))
    factors = _terms(longer[None])[0]
    return np.ascontiguousarray((coefficients[:, own] * factors[:, :, None]).transpose(1, 0, 2))


@cache
def _design() -> FloatArray:
    """Where a shot is rolled, in deviations (FILMS, SHOTS_A_FILM, 11): the same for every shot."""
    rng = np.random.default_rng(0)
    shapes = qmc.Halton(SHAPES, rng=rng).random(FILMS)
    others = qmc.Halton(NUMBERS - SHAPES, rng=rng).random(FILMS * SHOTS_A_FILM)
    points = np.concatenate(
        (
            np.repeat(shapes[:, None], SHOTS_A_FILM, axis=1),
            others.reshape(FILMS, SHOTS_A_FILM, -1),
        ),
        axis=2,
    )
    return np.asarray(np.clip(ndtri(points), -WIDEST, WIDEST))


@cache
def _solver() -> tuple[FloatArray, FloatArray]:
    """Terms of the design (q, 78), and the matrix (78, q) that solves for coefficients."""
    terms = _terms(_design().reshape(1, -1, NUMBERS))[0]
    return terms, np.linalg.pinv(terms)


@cache
def _pairs(count: int) -> tuple[IntArray, IntArray]:
    """Which of so many numbers make products with which."""
    first, second = np.triu_indices(count)
    return first, second


def _terms(off: FloatArray) -> FloatArray:
    """One, the numbers, and their products (n, m, 1 + k + k (k + 1) / 2), of deviations
    (n, m, k)."""
    one = np.ones((*off.shape[:2], 1))
    first, second = _pairs(off.shape[2])
    return np.concatenate((one, off, off[..., first] * off[..., second]), axis=2)
