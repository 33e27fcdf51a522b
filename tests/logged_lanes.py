"""Lanes, a bowler and logged shots to read: the demo's bowler on two lanes whose film wears."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from nextpair.carry.table import load_table
from nextpair.domain.lane import BOARDS, CELL_M, CELLS
from nextpair.domain.sight import (
    BREAKPOINT_ERROR_BOARDS,
    ENTRY_ERROR_BOARDS,
    LAYDOWN_ERROR_BOARDS,
    TARGET_ERROR_BOARDS,
)
from nextpair.domain.units import DEGREE_RAD, FOOT_M
from nextpair.kernel.layout import bodies_of
from nextpair.kernel.outcome import offset_boards_at
from nextpair.kernel.throws import lane_kind
from nextpair.physics.dressing import film_of
from nextpair.reading.answers import RELEASE, Mark, Number, marks_at
from nextpair.reading.lane_story import LaneStory
from nextpair.reading.likelihood import (
    BAD_BOARDS,
    BAD_MPS,
    UNEVEN_ANGLE_DEG,
    UNEVEN_BREAKPOINT_BOARDS,
    UNEVEN_ENTRY_BOARDS,
    inside_rows,
    number_rows,
)
from nextpair.reading.prior import Prior
from nextpair.reading.seen import SPEED_ERROR_MPS, Seen
from small_event import small_event

FloatArray = NDArray[np.float64]

LANES = (13, 14)
OWN_LAYDOWN = 23.0
ANGLE_RAD = 2.3 * DEGREE_RAD
TRACK_BOARD, TRACK_BOARDS = 13.0, 5.0
GONE_SHARE = 0.25
CARRIED_UM = 0.15


@cache
def story_of(shots: int) -> LaneStory:
    """So many shots in turn on two lanes, whose track loses a quarter of its oil meanwhile."""
    event = small_event()
    lane = np.resize(LANES, shots)
    kinds = {number: lane_kind(event.lane(number), event.bowler.hand) for number in LANES}
    fresh = np.stack([film_of(event.pattern_of(number)) for number in lane.tolist()])
    return LaneStory(
        lane=lane,
        kinds=kinds,
        fresh=fresh,
        worn=_worn(fresh, kinds[LANES[0]].length_m),
        bodies=bodies_of(event.locker[:1], event.house, event.bowler.pap_m),
        body=np.zeros(shots, np.int64),
        releases=(event.bowler.release,) * shots,
        scatter=event.bowler.scatter,
        table=load_table(),
    )


def _worn(fresh: FloatArray, length_m: float) -> FloatArray:
    """Films (n, 120, 39) that lose oil in the track shot after shot and carry some of it down."""
    time = (0.3 + 0.7 * np.arange(len(fresh)) / len(fresh))[:, None, None]
    boards = np.arange(1, BOARDS + 1)
    track = np.exp(-(((boards - TRACK_BOARD) / TRACK_BOARDS) ** 2))
    places = (np.arange(CELLS) + 0.5) * CELL_M
    beyond = np.exp(-np.maximum(places - length_m, 0.0) / (4 * FOOT_M)) * (places > length_m)
    return fresh * (1 - GONE_SHARE * time * track) + CARRIED_UM * time * track * beyond[:, None]


@dataclass(frozen=True)
class Eyes:
    """What is seen of shots: how often nothing, how often breakpoint and entry are wrong and by
    how many boards, and how often a shot is bad as the reader thinks of bad ones."""

    missing_share: float = 0.0
    wrong_share: float = 0.0
    wrong_boards: float = 5.0
    bad_share: float = 0.0


SHARP = Eyes()
"""Everything is seen, as well as people see."""


def shots_seen(
    story: LaneStory,
    prior: Prior,
    truth: FloatArray,
    rng: np.random.Generator,
    eyes: Eyes = SHARP,
) -> Seen:
    """Shots from one line under a truth (p,), as the observation model has it: the path, scatter,
    uneven oil, reading errors, and pins that fall by the carry table."""
    count = len(story)
    rows = number_rows(prior, story.lane)
    line = np.zeros_like(rows[:, :, 0])
    line[:, Number.LAYDOWN], line[:, Number.ANGLE] = OWN_LAYDOWN, ANGLE_RAD
    planned = marks_at(story, range(count), (line + rows @ prior.mean)[:, None, None])[:, 0, 0]
    numbers = line + rows @ truth
    numbers[:, RELEASE] += rng.normal(size=(count, 5)) * _slip_sd(story)
    marks = marks_at(story, range(count), numbers[:, None, None])[:, 0, 0].copy()
    marks[:, Mark.ENTRY] += inside_rows(prior, story.lane) @ truth
    for mark, spread in (
        (Mark.BREAKPOINT, UNEVEN_BREAKPOINT_BOARDS),
        (Mark.ENTRY, UNEVEN_ENTRY_BOARDS),
        (Mark.ANGLE, UNEVEN_ANGLE_DEG),
    ):
        marks[:, mark] += spread * rng.normal(size=count)
    wrong = rng.random(count) < eyes.wrong_share
    shift = wrong * eyes.wrong_boards * rng.choice((-1.0, 1.0), count)

    bad = rng.random(count) < eyes.bad_share

    def read(values: FloatArray, spread: float, if_bad: float = BAD_BOARDS) -> FloatArray:
        unseen = rng.random(count) < eyes.missing_share
        widely = np.where(bad, np.hypot(spread, if_bad), spread)
        return np.where(unseen, np.nan, values + widely * rng.normal(size=count))

    return Seen(
        lane=story.lane,
        meant_laydown=np.full(count, OWN_LAYDOWN),
        meant_target=planned[:, Mark.TARGET],
        laydown=read(numbers[:, Number.LAYDOWN], LAYDOWN_ERROR_BOARDS),
        target=read(marks[:, Mark.TARGET], TARGET_ERROR_BOARDS),
        breakpoint=read(marks[:, Mark.BREAKPOINT] + shift, BREAKPOINT_ERROR_BOARDS),
        entry=read(marks[:, Mark.ENTRY] + shift, ENTRY_ERROR_BOARDS),
        speed_mps=read(
            story.releases[0].speed_mps + numbers[:, Number.SPEED], SPEED_ERROR_MPS, BAD_MPS
        ),
        leave=_leaves(story, np.where(bad[:, None], _anywhere(planned, rng), marks), rng),
    )


def _slip_sd(story: LaneStory) -> FloatArray:
    """Deviations (5,) of the bowler's slips."""
    scatter, release = story.scatter, story.releases[0]
    return np.array(
        [
            scatter.laydown_boards,
            scatter.launch_angle_rad,
            scatter.speed_mps,
            scatter.rev_rate_radps / release.rev_rate_radps,
            scatter.axis_rotation_rad,
        ]
    )


def _anywhere(planned: FloatArray, rng: np.random.Generator) -> FloatArray:
    """Marks (n, len(Mark)) of bad shots: about where they should have gone, five boards off."""
    found = planned.copy()
    found[:, Mark.ENTRY] += BAD_BOARDS * rng.normal(size=len(planned))
    return found


def _leaves(story: LaneStory, marks: FloatArray, rng: np.random.Generator) -> NDArray[np.int64]:
    """What n shots leave of a full rack."""
    angle = marks[:, Mark.ANGLE]
    offset = offset_boards_at(20.0 - marks[:, Mark.ENTRY], angle)
    chances = story.table.leave_probability(offset, angle, marks[:, Mark.SPEED])
    chosen = (chances.cumsum(axis=1) < rng.random(len(marks))[:, None]).sum(axis=1)
    return np.array(story.table.leaves)[np.minimum(chosen, len(story.table.leaves) - 1)]
