"""The packing list as a decision table: what an event is like, and what that puts on the list.

Common practice, from memory; the approach and its soles by [facts] section 1.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from nextpair.application.packing import hours_there, packing_list
from nextpair.domain.bowler import Style
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.event import SurfaceChanges
from nextpair.domain.house import Approach
from nextpair.domain.packing import PackGroup, PackItem
from nextpair.domain.sheet import BagItem
from small_event import small_event

BAG = (
    BagItem("Slate Weir", 1000, 2.0, "For games 1 and 2."),
    BagItem("Dunlin Flock", 3000, 1.0, "When the lane dries.", surface_by="hand"),
    BagItem("Plain Thimble", "polished", 3.0, "For spares."),
)


def listed(**changes) -> dict[str, PackItem]:
    return {item.item: item for item in packing_list(replace(small_event(), **changes), BAG)}


def bowled(style: Style) -> dict[str, PackItem]:
    return listed(bowler=replace(small_event().bowler, style=style))


def on(approach: Approach) -> dict[str, PackItem]:
    return listed(house=replace(small_event().house, approach=approach))


def test_every_ball_of_the_bag_is_listed_once_with_what_it_is_for():
    balls = [item for item in listed().values() if item.group is PackGroup.BALLS]
    assert [item.item for item in balls] == [
        "Slate Weir @ 1000",
        "Dunlin Flock @ 3000",
        "Plain Thimble @ polished",
    ]
    assert balls[0].why == "For games 1 and 2."


@pytest.mark.parametrize(
    ("rule", "pads"),
    [
        (SurfaceChanges.NONE, []),
        (SurfaceChanges.BEFORE, ["Pad 1000", "Pad 3000"]),
        (SurfaceChanges.ANY, ["Pad 3000"]),
    ],
)
def test_pads_go_by_what_the_rules_allow(rule, pads):
    found = listed(surface_changes=rule)
    assert [name for name in found if name.startswith("Pad")] == pads


def test_pads_for_before_the_event_say_that_they_are_put_away():
    assert "put it away" in listed(surface_changes=SurfaceChanges.BEFORE)["Pad 1000"].why


@pytest.mark.parametrize(
    ("style", "tape"),
    [(Style.ONE_HANDED, True), (Style.TWO_HANDED, False), (Style.NO_THUMB, False)],
)
def test_only_who_has_a_thumb_in_the_ball_tapes_it(style, tape):
    found = bowled(style)
    thumb = {name for name in found if name.startswith("Thumb")}
    assert bool(thumb) is tape
    assert "Finger inserts" in found


@pytest.mark.parametrize(("games", "strips", "towels"), [(1, 2, 2), (4, 8, 2), (5, 10, 3)])
def test_what_is_used_up_grows_with_the_games(games, strips, towels):
    found = listed(games=games)
    assert found["Thumb tape, strips cut"].many == strips
    assert found["Towel"].many == towels


@pytest.mark.parametrize(
    ("approach", "sole"),
    [(Approach.TACKY, "slide more"), (Approach.SLICK, "slide less"), (Approach.MEDIUM, "either")],
)
def test_soles_go_against_what_the_approach_does(approach, sole):
    feet = [item for item in on(approach).values() if item.group is PackGroup.FEET]
    assert sum(sole in item.item for item in feet) == 1


@pytest.mark.parametrize("name", ["Thumb tape, roll", "Laces", "Finger inserts", "Shoe covers"])
def test_what_can_fail_comes_twice(name):
    assert listed()[name].many == 2


@pytest.mark.parametrize(("limit", "asked"), [(None, False), (6, True)])
def test_papers_of_balls_where_balls_are_counted(limit, asked):
    assert ("Papers of your balls" in listed(ball_limit=limit)) is asked


def test_food_goes_by_hours_and_hours_by_games_and_by_how_full_the_pair_is():
    event = small_event()
    bowlers = sum(entrant.pair == event.start_pair for entrant in event.squad)
    expected = event.practice_s / 3600 + event.games * bowlers / 6
    assert hours_there(event) == pytest.approx(expected)
    longer = {item.item: item for item in packing_list(replace(event, games=12), BAG)}
    assert longer["Water, half a litre"].many > listed()["Water, half a litre"].many


def test_nothing_of_what_a_bowler_watches_is_listed():
    watched = replace(small_event().bowler, care=("left knee", "thumb brace"))
    assert listed(bowler=watched) == listed(bowler=replace(watched, care=()))


def test_every_item_has_a_number_and_a_reason():
    with pytest.raises(InvalidValueError, match="reason"):
        PackItem("Towel", 1, " ", PackGroup.COVERS)
    with pytest.raises(InvalidValueError, match="many"):
        PackItem("Towel", 0, "Oil.", PackGroup.COVERS)
