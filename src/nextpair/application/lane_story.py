"""The plan that logged shots are read against: each shot's ball, and its lane at that time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from nextpair.carry.table import CarryTable
from nextpair.domain.ball import Ball, Surface
from nextpair.domain.errors import InvalidValueError, require
from nextpair.domain.event import Event
from nextpair.domain.shot_log import FIRST_DELIVERY, FRAMES, PRACTICE, LoggedShot
from nextpair.kernel.layout import bodies_of, own_frame
from nextpair.kernel.throws import lane_kind
from nextpair.planning.options import in_game
from nextpair.planning.rotation import (
    FRAMES_PER_LANE,
    LANES_PER_PAIR,
    practice_shots_per_bowler,
)
from nextpair.planning.traffic import LaneFilms
from nextpair.reading.lane_story import LaneStory

FULL_RACK = 10


def shots_that_tell(shots: Sequence[LoggedShot]) -> tuple[LoggedShot, ...]:
    """The shots at a full rack: what is meant at a spare is not in a log.

    Raises InvalidValueError where there is none.
    """
    found = tuple(shot for shot in shots if _at_a_full_rack(shot))
    require(bool(found), "shots", len(shots), "at least one shot at all ten pins")
    return found


def _at_a_full_rack(shot: LoggedShot) -> bool:
    if shot.standing_before is None:
        return shot.delivery == FIRST_DELIVERY
    return len(shot.standing_before) == FULL_RACK


def lane_story(
    event: Event, shots: Sequence[LoggedShot], films: LaneFilms, table: CarryTable
) -> LaneStory:
    """The lanes as planned at the time of each of some shots at a full rack."""
    hand = event.bowler.hand
    balls = [ball_thrown(event, shot) for shot in shots]
    kinds = list(dict.fromkeys(balls))
    fresh, worn = [], []
    for shot in shots:
        lane, share = shot.lane, share_of_stage(event, shot)
        start, end = films.at(lane, shot.game), films.at(lane, shot.game + 1)
        fresh.append(own_frame(films.fresh[lane], hand))
        worn.append(own_frame(start + share * (end - start), hand))
    return LaneStory(
        lane=np.array([shot.lane for shot in shots]),
        kinds={lane: lane_kind(event.lane(lane), hand) for lane in {shot.lane for shot in shots}},
        fresh=np.stack(fresh),
        worn=np.stack(worn),
        bodies=bodies_of(kinds, event.house, event.bowler.pap_m),
        body=np.array([kinds.index(ball) for ball in balls]),
        releases=(event.bowler.release,) * len(shots),
        scatter=event.bowler.scatter,
        table=table,
    )


def ball_thrown(event: Event, shot: LoggedShot) -> Ball:
    """A logged shot's ball, with the surface put on or else the locker's, as worn by then.

    Raises InvalidValueError for a ball that is not in the locker.
    """
    owned = {ball.name: ball for ball in event.locker}
    if shot.ball not in owned:
        raise InvalidValueError("ball", shot.ball, f"a ball of the locker: {', '.join(owned)}")
    ball = owned[shot.ball]
    if shot.surface_grit is not None:
        ball = replace(ball, surface=Surface.put_on(shot.surface_grit))
    return in_game(event, ball, max(shot.game, 1))


def share_of_stage(event: Event, shot: LoggedShot) -> float:
    """How much of its game, or of practice, was over when a shot was thrown, 0 to 1."""
    if shot.game == PRACTICE:
        shots = max(practice_shots_per_bowler(event.block, event.start_pair), 1)
        return min((shot.frame - 0.5) / shots, 1.0)
    return ((shot.frame - 1) // LANES_PER_PAIR + 0.5) / FRAMES_PER_LANE


def next_game(event: Event, shots: Sequence[LoggedShot]) -> int:
    """The game that the next shot is of: the one after, when ten frames are over."""
    last = last_of(shots)
    over = last.game == PRACTICE or last.frame == FRAMES
    return min(last.game + over, event.games)


def in_turn(shots: Sequence[LoggedShot]) -> list[LoggedShot]:
    """Shots in the order in which they were thrown, whatever the log's."""
    return sorted(shots, key=lambda shot: (shot.game, shot.frame, shot.delivery))


def last_of(shots: Sequence[LoggedShot]) -> LoggedShot:
    """The last shot thrown."""
    return in_turn(shots)[-1]


def share_of_next(event: Event, shots: Sequence[LoggedShot]) -> float:
    """How much of its game will be over at the next shot."""
    last, game = last_of(shots), next_game(event, shots)
    frame = last.frame + 1 if last.game == game else 1
    return min(((frame - 1) // LANES_PER_PAIR + 0.5) / FRAMES_PER_LANE, 1.0)
