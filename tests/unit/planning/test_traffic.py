"""What the squad's shots do to the lanes: who wears which side, and how much."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from nextpair.domain.ball import Cover, Role
from nextpair.domain.bowler import Hand, Style
from nextpair.domain.event import Block, Entrant, Event, Pair
from nextpair.domain.lane import BOARDS
from nextpair.domain.units import DEGREE_RAD
from nextpair.kernel.layout import bodies_of
from nextpair.kernel.roll import roll
from nextpair.kernel.throws import lane_kind, shots_of
from nextpair.physics.dressing import film_of
from nextpair.physics.wear import WearLaw
from nextpair.planning.condition import AS_PLANNED, Condition
from nextpair.planning.rotation import last_games
from nextpair.planning.traffic import starting_ball, throwers, usual_ball
from small_event import SEED, mirror_image, small_event, traffic_of, values_of

EVENT = small_event()
FILMS = traffic_of(EVENT, values_of(EVENT)[2])
LAST_STAGES = {lane: game + 1 for pair, game in last_games(EVENT).items() for lane in pair.lanes}
LANES = list(LAST_STAGES)
LEFTIES_LANE = 17
PAST_ARROWS = slice(40, None)
"""Rows from 20 ft on: in the heads, both hands lay down across the middle."""
RIGHT_TRACK, LEFT_TRACK = slice(0, 15), slice(BOARDS - 15, BOARDS)


@cache
def pins():
    return values_of(EVENT)[2]


def small_squad(count: int, hand: Hand = Hand.RIGHT, **changes) -> Event:
    """Two games without practice: so many people alike on the pair that the bowler goes to."""
    first, other = EVENT.squad[:2]
    squad = tuple(
        replace(other, name=f"Bowler {n}", pair=Pair(15), hand=hand) for n in range(count)
    )
    return replace(EVENT, practice_s=0.0, move_pairs=1, squad=(first, *squad), **changes)


def loss(event: Event, lane: int = 15, condition: Condition = AS_PLANNED) -> np.ndarray:
    """What a game of the others takes off each cell of a lane before the bowler comes."""
    films = traffic_of(event, pins(), condition=condition)
    return films.fresh[lane] - films.at(lane, 2)


def test_only_what_the_bowler_meets_is_worn():
    assert {str(pair): game for pair, game in last_games(EVENT).items()} == {
        "13-14": 1,
        "17-18": 2,
    }
    met = {(lane, stage) for lane, last in LAST_STAGES.items() for stage in range(last + 1)}
    assert set(FILMS.stages) == met


def test_every_lane_of_the_squad_starts_as_the_pattern_lays_it():
    assert sorted(FILMS.fresh) == LANES
    for lane in LANES:
        np.testing.assert_array_equal(FILMS.fresh[lane], film_of(EVENT.pattern_of(lane)))
        np.testing.assert_array_equal(FILMS.at(lane, 0), FILMS.fresh[lane])


@pytest.mark.parametrize("lane", LANES)
def test_each_game_takes_oil_and_none_comes_back(lane):
    stages = [FILMS.at(lane, stage) for stage in range(LAST_STAGES[lane] + 1)]
    assert np.all(np.diff([film.sum() for film in stages]) < 0.0)
    assert all(film.min() >= 0.0 for film in stages)


def test_a_squad_takes_a_part_of_the_oil_and_not_most_of_it():
    left = [
        FILMS.at(lane, last).sum() / FILMS.fresh[lane].sum() for lane, last in LAST_STAGES.items()
    ]
    assert 0.7 < min(left) < max(left) < 0.99


def test_a_pair_that_only_left_handers_crossed_is_fresh_on_the_right_and_worn_on_the_left():
    starters = [entrant for entrant in EVENT.squad if entrant.pair == Pair(LEFTIES_LANE)]
    assert {entrant.hand for entrant in starters} == {Hand.LEFT}
    fresh, now = FILMS.fresh[LEFTIES_LANE], FILMS.at(LEFTIES_LANE, 2)
    taken = (fresh - now)[PAST_ARROWS]
    assert np.abs(taken[:, RIGHT_TRACK]).max() < 5e-3, "strays carry a trace past the oil"
    assert taken[:, LEFT_TRACK].max() > 0.1
    worn = taken[:, LEFT_TRACK].sum() / fresh[PAST_ARROWS, LEFT_TRACK].sum()
    assert worn > 0.02


def test_in_a_mirror_the_other_half_wears_as_much():
    mirrored = traffic_of(mirror_image(EVENT), pins())
    for lane, stage in FILMS.stages:
        np.testing.assert_allclose(
            mirrored.at(lane, stage)[:, ::-1], FILMS.at(lane, stage), atol=1e-9
        )


def test_without_practice_the_first_game_starts_on_the_fresh_film():
    films = traffic_of(replace(EVENT, practice_s=0.0), pins())
    for lane in LANES:
        np.testing.assert_array_equal(films.at(lane, 1), films.fresh[lane])
        assert films.at(lane, 2).sum() < films.fresh[lane].sum()


def test_more_people_wear_more():
    one, two, four = (loss(small_squad(count)).sum() for count in (1, 2, 4))
    assert 0.0 < one < two < four
    assert 1.4 < two / one < 2.2
    assert 1.4 < four / two < 2.2


def test_people_alike_do_not_err_alike():
    one, four = (loss(small_squad(count)) > 1e-9 for count in (1, 4))
    assert four.sum() > 1.2 * one.sum()


def test_both_lanes_of_a_pair_take_as_many_shots():
    event = small_squad(3)
    left, right = loss(event, 15).sum(), loss(event, 16).sum()
    assert left == pytest.approx(right, rel=0.05)


def test_right_handers_wear_the_right_and_left_handers_the_left():
    right, left = (loss(small_squad(3, hand)) for hand in (Hand.RIGHT, Hand.LEFT))
    np.testing.assert_allclose(right, left[:, ::-1], atol=1e-9)
    past = right[PAST_ARROWS]
    assert past[:, RIGHT_TRACK].sum() > 20 * abs(past[:, LEFT_TRACK].sum())


def test_the_same_seed_wears_alike_and_another_seed_otherwise():
    again, other = traffic_of(EVENT, pins(), SEED), traffic_of(EVENT, pins(), SEED + 1)
    for lane, stage in LAST_STAGES.items():
        last = FILMS.at(lane, stage)
        np.testing.assert_array_equal(again.at(lane, stage), last)
        assert not np.array_equal(other.at(lane, stage), last)
        total = other.at(lane, stage).sum()
        assert total == pytest.approx(last.sum(), rel=0.01)


def test_the_bowler_throws_the_own_release_and_others_what_the_squad_sheet_says():
    ball = starting_ball(EVENT)
    people = throwers(EVENT, ball)
    assert list(people) == [entrant.name for entrant in EVENT.squad]
    own = people[EVENT.bowler_name]
    assert (own.release, own.scatter) == (EVENT.bowler.release, EVENT.bowler.scatter)
    assert own.ball == ball
    for entrant in EVENT.squad:
        person = people[entrant.name]
        assert person.hand is entrant.likely_hand
        if entrant.name != EVENT.bowler_name:
            assert person.release == entrant.likely_release
            assert person.ball.cover is entrant.likely_cover


def test_the_bowler_wears_the_lane_with_a_strike_ball():
    assert starting_ball(EVENT).role is Role.STRIKE


@pytest.mark.parametrize("cover", Cover)
def test_there_is_a_usual_ball_of_every_cover(cover):
    assert usual_ball(cover).cover is cover


def centre_of_wear(**changes) -> float:
    """Mean board, from the right, of what two two-handers take off past the arrows."""
    own, _, high_revs = EVENT.squad[:3]
    assert (high_revs.hand, high_revs.style) == (Hand.RIGHT, Style.TWO_HANDED)
    others = (replace(high_revs, name=f"Bowler {n}", pair=Pair(15)) for n in range(2))
    event = replace(small_squad(0), squad=(own, *others))
    taken = loss(event, condition=Condition(**changes))[PAST_ARROWS]
    return float(taken.sum(axis=0) @ np.arange(1, BOARDS + 1) / taken.sum())


def test_people_who_like_to_play_inside_wear_further_inside():
    names = ("Bowler 0", "Bowler 1")
    outside, usual, inside = (
        centre_of_wear(habits=dict.fromkeys(names, boards)) for boards in (-4.0, 0.0, 4.0)
    )
    assert outside < usual < inside


def test_on_a_drier_lane_people_play_further_inside():
    """Common practice: more hook, further inside."""
    assert centre_of_wear(dry_factor=0.8) < centre_of_wear() < centre_of_wear(dry_factor=1.2)


def test_a_law_that_takes_nothing_wears_nothing():
    event = small_squad(2)
    assert np.abs(loss(event, condition=Condition(law=WearLaw(removal_share=0.0)))).max() < 1e-12
    little, usual = (
        loss(event, condition=Condition(law=WearLaw(removal_share=share))).sum()
        for share in (0.4, 0.8)
    )
    assert 0.0 < little < usual


def test_a_lane_that_was_dressed_otherwise_is_worn_from_there():
    event = small_squad(1)
    heavier = 1.2 * film_of(event.pattern_of(15))
    films = traffic_of(event, pins(), condition=Condition(dressed={15: heavier}))
    np.testing.assert_array_equal(films.fresh[15], heavier)
    np.testing.assert_array_equal(films.at(15, 1), heavier)
    assert films.at(15, 2).sum() < heavier.sum()
    np.testing.assert_array_equal(films.fresh[16], film_of(event.pattern_of(16)))


def with_earlier(*entrants, games=1) -> Event:
    """The bowler's first game on a pair that an earlier squad has left, without practice."""
    block = Block(entrants, games, practice_s=0.0, move_pairs=0)
    return replace(small_squad(0), games=1, squad=EVENT.squad[:1], earlier=(block,))


def test_an_earlier_squad_wears_the_lanes_before_practice():
    early = replace(EVENT.squad[1], name="Early")
    films = traffic_of(with_earlier(early), pins())
    np.testing.assert_array_equal(films.fresh[13], film_of(EVENT.pattern_of(13)))
    once = (films.fresh[13] - films.at(13, 0)).sum()
    twice = traffic_of(with_earlier(early, games=2), pins())
    assert 0.0 < once < (twice.fresh[13] - twice.at(13, 0)).sum()
    elsewhere = traffic_of(with_earlier(replace(early, pair=Pair(17))), pins())
    np.testing.assert_array_equal(elsewhere.at(13, 0), elsewhere.fresh[13])


def hooked_more_boards(early: tuple[Entrant, ...]) -> float:
    """Boards by which a shot from far inside, across the others' stripe, finishes higher on what
    two games of an earlier squad have left than on the fresh film."""
    bowler, event = EVENT.bowler, with_earlier(*early, games=2)
    films, kind = traffic_of(event, pins()), lane_kind(event.lane(13), bowler.hand)
    shots = shots_of(
        bowler.release,
        kind,
        own_laydown=27.0,
        launch_angle_rad=3.5 * DEGREE_RAD,
        film=np.arange(2),
    )
    seen = np.stack([films.fresh[13], films.at(13, 0)])
    bodies = bodies_of([starting_ball(EVENT)], EVENT.house, bowler.pap_m)
    fresh, worn = roll(kind.under(seen), bodies, shots).lane_impact.offset_boards
    return float(fresh - worn)


def test_a_shot_from_inside_feels_the_stripe_that_others_wore():
    """Common practice: on a lane that others have opened up, the same shot hooks more; what the
    other hand has worn is not felt."""
    same_hand = tuple(replace(EVENT.squad[1], name=f"Early {n}") for n in range(4))
    other_hand = tuple(replace(one, hand=Hand.LEFT) for one in same_hand)
    assert hooked_more_boards(same_hand) > 0.1
    assert abs(hooked_more_boards(other_hand)) < 0.02
