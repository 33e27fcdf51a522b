"""Lines beside what coaches teach of them: more revs stand deeper, worn lanes send feet inside.

Common practice, from memory; the sizes are the model's, only the directions are held.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np

from nextpair.domain.ball import Cover, Surface
from nextpair.domain.bowler import Hand
from nextpair.domain.units import MPH_MPS, RPM_RADPS
from nextpair.kernel.layout import bodies_of
from nextpair.kernel.throws import lane_kind
from nextpair.physics.dressing import film_of
from nextpair.planning.lines import LineValues, line_grid, line_values
from nextpair.planning.traffic import lane_films, throwers, usual_ball
from reference.flat_patterns import flat_pattern, medium_bowler
from small_event import SEED, small_event, unheard, values_of

LENGTH_FT = 41.0
HYBRID = (usual_ball(Cover.HYBRID),)


@cache
def event():
    """Four right-handers who stay on one pair for six games, on a flat pattern."""
    small = small_event()
    pattern = flat_pattern(LENGTH_FT)
    bowler = replace(medium_bowler(small.bowler), hand=Hand.RIGHT)
    own = next(entrant for entrant in small.squad if entrant.name == small.bowler_name)
    others = [entrant for entrant in small.squad if entrant is not own][:3]
    return replace(
        small,
        games=6,
        move_pairs=0,
        left_pattern=pattern,
        right_pattern=pattern,
        bowler=bowler,
        squad=tuple(
            replace(entrant, hand=Hand.RIGHT, pair=own.pair) for entrant in (own, *others)
        ),
    )


@cache
def worn_um():
    """A lane's film after six games of everybody."""
    values = values_of(event())[2]
    people = throwers(event(), usual_ball(Cover.HYBRID))
    films = lane_films(event(), people, values, SEED, unheard)
    return films.at(event().start_pair.lanes[0], event().games)


def best(film_um, revs_rpm=350.0, speed_mph=17.5, balls=HYBRID) -> LineValues:
    bowler = event().bowler
    release = replace(
        bowler.release, rev_rate_radps=revs_rpm * RPM_RADPS, speed_mps=speed_mph * MPH_MPS
    )
    return line_values(
        film_um[None],
        np.ones(1),
        release,
        bowler.scatter,
        lane_kind(event().lane(event().start_pair.lanes[0]), Hand.RIGHT),
        bodies_of(balls, event().house),
        values_of(event())[2],
        line_grid(bowler.reach, Hand.RIGHT),
    )


def arrows_board(values: LineValues, option: int = 0) -> float:
    """Board at which the option's best line is laid down."""
    row, _ = values.best_cell(option)
    return float(values.grid.own_laydown[row])


def test_more_revs_play_farther_inside():
    fresh = film_of(flat_pattern(LENGTH_FT))
    laydowns = [arrows_board(best(fresh, revs_rpm)) for revs_rpm in (250.0, 350.0, 450.0)]
    assert laydowns[0] < laydowns[1] < laydowns[2]


def test_a_slower_ball_plays_farther_inside():
    fresh = film_of(flat_pattern(LENGTH_FT))
    assert arrows_board(best(fresh, speed_mph=16.0)) > arrows_board(best(fresh, speed_mph=18.5))


def test_as_a_lane_wears_the_line_moves_inside():
    assert arrows_board(best(worn_um())) > arrows_board(best(film_of(flat_pattern(LENGTH_FT))))


def test_the_surface_gets_no_rougher_as_a_lane_wears():
    """Common practice: on worn lanes a bowler goes to a smoother or weaker ball."""
    ball = usual_ball(Cover.SOLID)
    grits: tuple[int | None, ...] = (500, 1000, 2000, 4000, None)
    balls = tuple(replace(ball, surface=Surface(grit)) for grit in grits)
    fresh, worn = (
        int(best(film, balls=balls).best_value().argmax())
        for film in (film_of(flat_pattern(LENGTH_FT)), worn_um())
    )
    assert worn >= fresh
