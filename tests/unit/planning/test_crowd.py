"""Who the others may be and where they may play: what was told stands, the rest is drawn."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from statistics import mean, stdev

import numpy as np
import pytest

from nextpair.domain import typical
from nextpair.domain.bowler import Hand
from nextpair.domain.event import Block, Entrant
from nextpair.domain.units import MPH_MPS, RPM_RADPS
from nextpair.planning.crowd import (
    HABIT_SD_BOARDS,
    REV_RATE_SD_RADPS,
    SPEED_SD_MPS,
    crowds,
    likely_films,
)
from nextpair.planning.traffic import starting_ball
from small_event import SEED, mirror_image, small_event, unheard, values_of

EVENT = small_event()
OWN, TOLD = EVENT.squad[:2]
SOMEBODY = Entrant(OWN.pair, "somebody", None, None, None, None, None)
MANY = crowds(replace(EVENT, squad=(OWN, TOLD, SOMEBODY)), 200, SEED)
TWO = crowds(EVENT, 2, SEED)


def seen(person: int) -> list[Entrant]:
    return [crowd.event.squad[person] for crowd in MANY]


def test_the_bowler_is_known():
    assert all(crowd.event.squad[0] == OWN for crowd in MANY)
    assert all(OWN.name not in crowd.habits for crowd in MANY)


def test_hand_style_and_cover_that_were_told_stand():
    assert {(e.hand, e.style, e.cover) for e in seen(1)} == {(TOLD.hand, TOLD.style, TOLD.cover)}


@pytest.mark.parametrize(
    ("field", "spread"), [("speed_mps", SPEED_SD_MPS), ("rev_rate_radps", REV_RATE_SD_RADPS)]
)
def test_releases_that_were_told_are_about_right(field, spread):
    values = [getattr(entrant, field) for entrant in seen(1)]
    assert mean(values) == pytest.approx(getattr(TOLD, field), abs=0.02 * spread)
    assert stdev(values) == pytest.approx(spread, rel=0.03)


def test_people_like_to_play_inside_as_often_as_outside():
    habits = [crowd.habits[TOLD.name] for crowd in MANY]
    assert mean(habits) == pytest.approx(0.0, abs=0.02 * HABIT_SD_BOARDS)
    assert stdev(habits) == pytest.approx(HABIT_SD_BOARDS, rel=0.03)


@pytest.mark.parametrize(
    ("field", "shares"),
    [
        ("hand", typical.HAND_SHARES),
        ("style", typical.STYLE_SHARES),
        ("cover", typical.COVER_SHARES),
    ],
)
def test_somebody_is_drawn_from_a_tour_like_field(field, shares):
    assert sum(shares.values()) == pytest.approx(1.0)
    found = Counter(getattr(entrant, field) for entrant in seen(2))
    assert found == pytest.approx({kind: share * len(MANY) for kind, share in shares.items()})


def test_left_handers_are_few():
    """[facts] section 8: about 7 in 100 of a tour field, weak; one in ten people, from memory."""
    assert 0.07 <= typical.HAND_SHARES[Hand.LEFT] <= 0.15


def test_somebodys_release_is_that_of_the_style():
    for style in (typical.STYLE, max(typical.STYLE_SHARES)):
        drawn = [e.rev_rate_radps for e in seen(2) if e.style is style]
        usual = typical.release_of(style).rev_rate_radps
        assert abs(mean(drawn) - usual) < 3 * typical.REV_RATE_SD_RADPS / len(drawn) ** 0.5


def test_nobody_delivers_what_nobody_can():
    slow = replace(TOLD, speed_mps=8.01 * MPH_MPS, rev_rate_radps=1.0 * RPM_RADPS)
    drawn = crowds(replace(EVENT, squad=(OWN, slow)), 50, SEED)
    assert min(crowd.event.squad[1].speed_mps for crowd in drawn) >= 8.0 * MPH_MPS
    assert min(crowd.event.squad[1].rev_rate_radps for crowd in drawn) >= 0.0


def test_the_same_seed_draws_the_same_crowd():
    assert crowds(EVENT, 2, SEED) == TWO
    assert crowds(EVENT, 2, SEED + 1) != TWO


def test_to_learn_a_hand_changes_nothing_else():
    unknown = replace(EVENT, squad=(OWN, replace(TOLD, hand=None), *EVENT.squad[2:]))
    for told, drawn in zip(TWO, crowds(unknown, 2, SEED), strict=True):
        assert told.habits == drawn.habits
        assert replace(drawn.event.squad[1], hand=TOLD.hand) == told.event.squad[1]
        assert drawn.event.squad[2:] == told.event.squad[2:]


def test_a_name_in_two_squads_is_one_person():
    twice = replace(EVENT, earlier=(Block((TOLD, SOMEBODY), 1, 0.0, 0),))
    for crowd in crowds(twice, 2, SEED):
        assert crowd.event.earlier[0].entrants[0] == crowd.event.squad[1]
        assert crowd.event.earlier[0].entrants[1].hand is not None


def test_nobody_else_leaves_nothing_to_draw():
    alone = crowds(replace(EVENT, squad=(OWN,)), 3, SEED)
    assert [crowd.habits for crowd in alone] == [{}] * 3


def films_of(event, count=2):
    pins = values_of(EVENT)[2]
    return likely_films(event, starting_ball(event), pins, SEED, unheard, count)


def test_each_crowd_wears_its_own_films_and_the_plan_sees_their_mean():
    films = films_of(EVENT)
    for (lane, stage), drawn in films.stages.items():
        assert drawn.shape == (2, 120, 39)
        np.testing.assert_allclose(films.at(lane, stage), drawn.mean(axis=0))
        if stage:
            assert np.abs(drawn[0] - drawn[1]).max() > 0.0
    picked = films.drawn(13, 1, np.array([0.25, 0.75, 0.1]))
    np.testing.assert_array_equal(picked, films.stages[13, 1][[0, 1, 0]])


def test_in_a_mirror_the_crowds_are_mirrored():
    event = replace(EVENT, games=1)
    right, left = films_of(event), films_of(mirror_image(event))
    for at, drawn in right.stages.items():
        np.testing.assert_allclose(left.stages[at][..., ::-1], drawn, atol=1e-9)
