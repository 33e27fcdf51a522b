"""Who is on which pair when, and the shots a pair has taken before the bowler comes."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from nextpair.domain.ball import Ball, Cover, Layout, Surface
from nextpair.domain.bowler import Bowler, Hand, Reach, Release, Scatter, Style
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.event import Block, Entrant, Event, Pair, SurfaceChanges
from nextpair.domain.house import House, LaneSurface
from nextpair.domain.money import Money
from nextpair.domain.pattern import Direction, Pass, Pattern
from nextpair.planning.rotation import (
    SECONDS_A_SHOT,
    ShotsBefore,
    last_games,
    practice_shots_per_bowler,
    shots_before,
    visits,
)

SQUAD = {1: "Ada:R Bo:L", 3: "Cy:R Dee:R Eve:R", 5: "Flo:L Gus:L", 7: "Hal:R Ivy:L"}
"""Who starts where: two lefties alone on 5-6."""
SHOTS_A_GAME = 10


def entrant(pair: int, text: str) -> Entrant:
    name, hand = text.split(":")
    return Entrant(
        pair=Pair(pair),
        name=name,
        hand=Hand.RIGHT if hand == "R" else Hand.LEFT,
        style=Style.ONE_HANDED,
        rev_rate_radps=36.0,
        speed_mps=8.0,
        cover=Cover.HYBRID,
    )


def event(squad=SQUAD, name="Ada", hand=Hand.RIGHT, games=5, move=1, practice_shots=4.0) -> Event:
    """An event whose practice is so long that a lane takes `practice_shots` shots."""
    oil = Pattern("Low Tide 40", 12.2, passes=(Pass(Direction.FORWARD, 2, 38, 3, 50, 0, 12.0),))
    bowler = Bowler(
        name=name,
        hand=hand,
        style=Style.ONE_HANDED,
        release=Release(8.0, 36.0, 0.9, 0.2),
        pap_over_m=0.127,
        pap_up_m=0.013,
        slide_to_laydown_boards=6.5,
        average=200.0,
        scatter=Scatter(0.5, 0.005, 0.15, 1.5),
        reach=Reach((10, 33), (-0.02, 0.09), (-0.4, 0.4)),
    )
    ball = Ball(
        "Kestrel", 6.8, 0.0635, 0.00127, 0.0, Cover.SOLID, Surface(1500), Layout(0.1, 1.0, 0.7)
    )
    return Event(
        name="Harbour Lights Scratch Open",
        date=date(2026, 6, 13),
        games=games,
        practice_s=practice_shots * SECONDS_A_SHOT,
        ball_limit=None,
        surface_changes=SurfaceChanges.BEFORE,
        house=House("Copperfield Lanes", 24, LaneSurface.SYNTHETIC, 9.0),
        left_pattern=oil,
        right_pattern=oil,
        bowler=bowler,
        locker=(ball,),
        squad=tuple(entrant(pair, who) for pair, row in squad.items() for who in row.split()),
        bowler_name=name,
        move_pairs=move,
        money=Money(),
    )


def by_hand(own: int, other: int) -> ShotsBefore:
    """Shots of one squad whose hands are all known."""
    return ShotsBefore(own, other, unknown_side=0, earlier_squads=0)


def names(entrants) -> str:
    return " ".join(each.name for each in entrants)


def test_everybody_moves_and_wraps_within_the_pairs_of_the_squad():
    assert names(event().block.entrants_on(Pair(3), 1)) == "Cy Dee Eve"
    assert names(event().block.entrants_on(Pair(3), 2)) == "Ada Bo"
    assert names(event().block.entrants_on(Pair(1), 2)) == "Hal Ivy"
    assert names(event().block.entrants_on(Pair(1), 5)) == "Ada Bo"
    assert names(event(move=-1).block.entrants_on(Pair(3), 2)) == "Flo Gus"


def test_practice_is_on_the_first_pair():
    assert event().block.entrants_on(Pair(3), 0) == event().block.entrants_on(Pair(3), 1)


def test_nobody_is_on_a_pair_that_the_squad_does_not_use():
    assert event().block.entrants_on(Pair(9), 1) == ()


def test_a_game_that_is_not_played_is_refused():
    with pytest.raises(InvalidValueError, match="game"):
        event().block.entrants_on(Pair(1), 6)
    with pytest.raises(InvalidValueError, match="game"):
        shots_before(event(), 0)


def test_a_visit_names_everybody_who_came_before_in_order():
    third = visits(event())[2]
    assert (third.game, third.pair) == (3, Pair(5))
    assert [(session.game, names(session.entrants)) for session in third.earlier] == [
        (0, "Flo Gus"),
        (1, "Flo Gus"),
        (2, "Cy Dee Eve"),
    ]


def test_the_first_game_follows_the_own_groups_practice():
    first = visits(event())[0]
    assert [(session.game, names(session.entrants)) for session in first.earlier] == [
        (0, "Ada Bo")
    ]
    # Two bowlers, two lanes, four shots a lane: four shots each.
    assert shots_before(event(), 1) == by_hand(4, 4)


def test_practice_is_shared_by_those_on_the_pair():
    twelve_a_lane = event(practice_shots=12)
    assert practice_shots_per_bowler(twelve_a_lane.block, Pair(1)) == 12
    assert practice_shots_per_bowler(twelve_a_lane.block, Pair(3)) == 8
    assert practice_shots_per_bowler(event(practice_shots=0).block, Pair(1)) == 0


def test_a_bowler_alone_has_one_lane_at_a_time():
    alone = event({1: "Ada:R", 3: "Bo:L"}, practice_shots=12)
    assert practice_shots_per_bowler(alone.block, Pair(1)) == 12


def test_others_who_came_before_count_by_their_hand():
    # On 3-4: Cy, Dee and Eve, three right-handers, in practice (2 shots each) and game 1.
    assert shots_before(event(), 2) == by_hand(3 * 2 + 3 * SHOTS_A_GAME, 0)


def test_a_pair_that_only_left_handers_bowled_on_is_fresh_on_the_right():
    on_lefty_pair = event({1: "Ada:R Bo:L", 3: "Flo:L Gus:L"}, games=2)
    assert shots_before(on_lefty_pair, 2) == by_hand(0, 2 * 4 + 2 * SHOTS_A_GAME)


def test_the_same_pair_looks_mirrored_to_the_other_hand():
    by_game = range(1, 6)
    right = [shots_before(event(), game) for game in by_game]
    left = [shots_before(event(name="Bo", hand=Hand.LEFT), game) for game in by_game]
    assert left == [by_hand(one.other_side, one.own_side) for one in right]


def test_a_pair_come_back_to_holds_the_own_shots_too():
    # Game 5 is on 1-2 again: Ada and Bo in practice and game 1, then Hal and Ivy, Flo and Gus,
    # and Cy, Dee and Eve.
    assert shots_before(event(), 5) == by_hand(
        4 + SHOTS_A_GAME * (1 + 1 + 0 + 3),
        4 + SHOTS_A_GAME * (1 + 1 + 2),
    )


def test_a_squad_that_stays_wears_its_own_pair():
    staying = event(move=0)
    assert shots_before(staying, 3) == by_hand(4 + 2 * SHOTS_A_GAME, 4 + 2 * SHOTS_A_GAME)


def test_a_hand_that_nobody_wrote_down_counts_for_neither_side():
    squad = event().squad
    unknown = tuple(replace(e, hand=None) if e.name == "Dee" else e for e in squad)
    assert shots_before(replace(event(), squad=unknown), 2) == ShotsBefore(
        own_side=2 * (2 + SHOTS_A_GAME),
        other_side=0,
        unknown_side=2 + SHOTS_A_GAME,
        earlier_squads=0,
    )


EARLIER = Block(
    (entrant(3, "Jo:L"), entrant(5, "Kim:R"), entrant(5, "Lou:L")),
    games=2,
    practice_s=3 * SECONDS_A_SHOT,
    move_pairs=1,
)
"""A squad on two pairs, 3-4 and 5-6, which change places after its first game."""


def test_earlier_squads_come_first_with_their_own_practice_games_and_pairs():
    visit = visits(replace(event(), earlier=(EARLIER,)))[1]
    assert visit.pair == Pair(3)
    assert [(s.block, s.game, names(s.entrants), s.shots_each) for s in visit.earlier] == [
        (0, 0, "Jo", (2, 1)),
        (0, 1, "Jo", (5, 5)),
        (0, 2, "Kim Lou", (5, 5)),
        (1, 0, "Cy Dee Eve", (1, 1)),
        (1, 1, "Cy Dee Eve", (5, 5)),
    ]
    assert shots_before(replace(event(), earlier=(EARLIER,)), 2) == ShotsBefore(
        own_side=SHOTS_A_GAME + 3 * (2 + SHOTS_A_GAME),
        other_side=3 + SHOTS_A_GAME + SHOTS_A_GAME,
        unknown_side=0,
        earlier_squads=3 + 3 * SHOTS_A_GAME,
    )


def test_an_earlier_squad_elsewhere_leaves_a_pair_as_it_was():
    assert shots_before(replace(event(), earlier=(EARLIER,)), 1) == shots_before(event(), 1)


def test_only_the_last_game_on_each_of_the_bowlers_pairs_counts():
    assert last_games(event()) == {Pair(1): 5, Pair(3): 2, Pair(5): 3, Pair(7): 4}
