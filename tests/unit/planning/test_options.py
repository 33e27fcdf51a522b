"""What may be brought: every strike ball at every surface that the rules allow."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nextpair.domain.ball import Role, Surface
from nextpair.domain.event import SurfaceChanges
from nextpair.planning.options import ball_options, is_resurfaced, packed_spares
from small_event import small_event

EVENT = small_event()
BALL = next(ball for ball in EVENT.locker if ball.role is Role.STRIKE)


def surfaces(surface: Surface, changes: SurfaceChanges = SurfaceChanges.BEFORE) -> list[Surface]:
    event = replace(EVENT, locker=(replace(BALL, surface=surface),), surface_changes=changes)
    return [option.surface for option in ball_options(event)]


@pytest.mark.parametrize(
    ("own", "fresh"),
    [
        (Surface(2000, 8), [Surface(2000), Surface(1000), Surface(3000)]),
        (Surface(2000, 0), [Surface(1000), Surface(3000)]),
        (Surface(1500, 3), [Surface(1500), Surface(1000), Surface(2000)]),
        (Surface(None, 6), [Surface(None), Surface(4000)]),
        (Surface(4000, 0), [Surface(3000), Surface(None)]),
        (Surface(360, 0), [Surface(500)]),
    ],
)
def test_a_ball_comes_as_it_is_fresh_and_a_step_to_either_side(own, fresh):
    assert surfaces(own) == [own, *fresh]


def test_where_the_rules_allow_no_work_balls_come_as_they_are():
    assert surfaces(Surface(2000, 8), SurfaceChanges.NONE) == [Surface(2000, 8)]


def test_a_ball_is_resurfaced_if_the_locker_has_it_otherwise():
    assert not is_resurfaced(EVENT, BALL)
    assert is_resurfaced(EVENT, replace(BALL, surface=Surface(500)))


def test_the_spare_ball_stays_at_home_where_one_ball_is_all():
    assert len(packed_spares(EVENT)) == 1
    assert packed_spares(replace(EVENT, ball_limit=1)) == ()
