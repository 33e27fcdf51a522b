"""What may be brought: every strike ball at every surface that the rules allow."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nextpair.domain.ball import Role, Surface, Tool
from nextpair.domain.event import SurfaceChanges
from nextpair.planning.options import ball_options, in_game, is_resurfaced, packed_spares
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


@pytest.mark.parametrize("changes", [SurfaceChanges.NONE, SurfaceChanges.BEFORE])
def test_nothing_is_put_on_by_hand_where_work_ends_with_the_first_game(changes):
    assert all(surface.by is Tool.SPINNER for surface in surfaces(Surface(2000, 8), changes))


@pytest.mark.parametrize(
    ("own", "by_hand"),
    [
        (Surface(2000, 8), [2000, 1000]),
        (Surface(None, 6), [4000]),
        (Surface(360, 2), [360]),
    ],
)
def test_between_games_there_is_a_pad_for_what_is_on_the_ball(own, by_hand):
    before = surfaces(own)
    assert surfaces(own, SurfaceChanges.ANY) == [
        *before,
        *(Surface(grit, 0, Tool.HAND, own) for grit in by_hand),
    ]


def test_a_pad_is_put_on_again_before_each_game_over_the_worn_surface():
    own = Surface(2000, 8)
    event = replace(EVENT, locker=(replace(BALL, surface=own),))
    fresh, padded = (
        replace(BALL, surface=surface)
        for surface in (Surface(1000), Surface(1000, 0, Tool.HAND, own))
    )
    assert in_game(event, fresh, 1) == fresh
    assert in_game(event, fresh, 4).surface == Surface(1000, 3)
    assert in_game(event, padded, 1) == padded
    assert in_game(event, padded, 4).surface == Surface(1000, 0, Tool.HAND, Surface(2000, 11))


def test_what_was_put_on_by_hand_at_home_wears_as_any_surface_does():
    at_home = replace(BALL, surface=Surface(1000, 2, Tool.HAND, Surface(2000)))
    event = replace(EVENT, locker=(at_home,))
    assert in_game(event, at_home, 3).surface == Surface(1000, 4, Tool.HAND, Surface(2000))


def test_where_the_rules_allow_no_work_balls_come_as_they_are():
    assert surfaces(Surface(2000, 8), SurfaceChanges.NONE) == [Surface(2000, 8)]


def test_a_ball_is_resurfaced_if_the_locker_has_it_otherwise():
    assert not is_resurfaced(EVENT, BALL)
    assert is_resurfaced(EVENT, replace(BALL, surface=Surface(500)))


def test_the_spare_ball_stays_at_home_where_one_ball_is_all():
    assert len(packed_spares(EVENT)) == 1
    assert packed_spares(replace(EVENT, ball_limit=1)) == ()


@pytest.mark.parametrize(
    ("asked", "limit", "packed"), [(0, 6, 0), (2, 6, 2), (2, 2, 1), (3, None, 2)]
)
def test_as_many_spare_balls_come_as_are_asked_for_and_leave_a_place_to_strike(
    asked, limit, packed
):
    spare = next(ball for ball in EVENT.locker if ball.role is Role.SPARE)
    more = (*EVENT.locker, replace(spare, name="Second Thimble"))
    locker = tuple(ball for ball in more if ball.role is Role.STRIKE or "Thimble" in ball.name)
    event = replace(EVENT, locker=locker, spare_balls=asked, ball_limit=limit)
    assert len(packed_spares(event)) == packed
