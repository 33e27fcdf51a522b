"""The packing list of an event, by rules that bowlers go by: common practice, from memory.

A rule looks at the event, the bowler's style and the bag that the sheet chose, and at nothing
else. What a bowler watches on the own body is not looked at: the list may be shared.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from nextpair.domain.ball import Tool
from nextpair.domain.bowler import Style
from nextpair.domain.event import Event, SurfaceChanges
from nextpair.domain.house import Approach
from nextpair.domain.packing import PackGroup, PackItem
from nextpair.domain.sheet import BagItem

MINUTES_A_GAME = 10.0
"""That one bowler's game takes on a pair, others waiting. Common practice."""
WATER_BOTTLES_AN_HOUR = 1.0
"""Bottles of half a litre. Common practice."""
HOURS_A_SNACK = 1.5
STRIPS_A_GAME = 2
GAMES_A_TOWEL = 4
THUMBLESS = (Style.NO_THUMB, Style.TWO_HANDED)


def packing_list(event: Event, bag: tuple[BagItem, ...]) -> tuple[PackItem, ...]:
    """What to take to an event with such a bag, group by group."""
    return (
        *_balls(bag),
        *_covers(event, bag),
        *_grip(event),
        *_feet(event.house.approach),
        *_table(event),
        *_papers(event),
        *_food(hours_there(event)),
    )


def hours_there(event: Event) -> float:
    """Hours from the start of practice to the last ball, by how full the bowler's pair is."""
    bowlers = len(event.block.entrants_on(event.start_pair, 1))
    return event.practice_s / 3600 + event.games * bowlers * MINUTES_A_GAME / 60


def _balls(bag: tuple[BagItem, ...]) -> Iterator[PackItem]:
    for item in bag:
        yield PackItem(f"{item.ball} @ {item.surface_grit}", 1, item.purpose, PackGroup.BALLS)


def _covers(event: Event, bag: tuple[BagItem, ...]) -> Iterator[PackItem]:
    """Towels and cleaner always; pads as far as the rules let surfaces be changed."""
    towels = 1 + math.ceil(event.games / GAMES_A_TOWEL)
    why = "Oil off the cover before every shot; the first one is full of it after four games."
    yield PackItem("Towel", towels, why, PackGroup.COVERS)
    yield PackItem(
        "Ball cleaner", 1, "Ask the event's rules which one, and when it may be used.",
        PackGroup.COVERS,
    )  # fmt: skip
    if event.surface_changes is SurfaceChanges.NONE:
        return
    only = event.surface_changes is SurfaceChanges.BEFORE
    when = "only before the first game; put it away then" if only else "when the rules allow it"
    for grit in _grits(bag, by_hand_alone=not only):
        yield PackItem(
            f"Pad {grit}", 1, f"To put the bag's surface on again: {when}.", PackGroup.COVERS
        )


def _grits(bag: tuple[BagItem, ...], *, by_hand_alone: bool) -> list[int]:
    """Grits of the bag that a pad can put on, rough first; where some are planned to be put on by
    hand before their games and `by_hand_alone`, those."""
    by_hand = {item.surface_grit for item in bag if item.surface_by == Tool.HAND}
    every = {item.surface_grit for item in bag}
    return sorted(
        grit for grit in (by_hand if by_hand and by_hand_alone else every) if isinstance(grit, int)
    )


def _grip(event: Event) -> Iterator[PackItem]:
    """What wears or swells gets a second one."""
    if event.bowler.style not in THUMBLESS:
        strips = STRIPS_A_GAME * event.games
        yield PackItem(
            "Thumb tape, strips cut", strips, "Two a game: thumbs swell and shrink.",
            PackGroup.GRIP,
        )  # fmt: skip
        yield PackItem(
            "Thumb tape, roll", 2, "Two thicknesses, to fit in small steps.", PackGroup.GRIP
        )
        yield PackItem("Thumb piece", 1, "A second one: it can crack or stick.", PackGroup.GRIP)
    yield PackItem("Finger inserts", 2, "One for each finger, should one tear.", PackGroup.GRIP)
    yield PackItem("Insert glue", 1, "Holds a new insert within minutes.", PackGroup.GRIP)
    yield PackItem("Scissors and bevel tool", 1, "For tape, inserts and edges.", PackGroup.GRIP)
    yield PackItem("What keeps the hand dry", 1, "The halls are warm.", PackGroup.GRIP)
    yield PackItem(
        "What you strap or tape", 1,
        "You know what that is. Ask the event's rules what you may wear.", PackGroup.GRIP,
    )  # fmt: skip


SOLES = {
    Approach.TACKY: ("Sole and heel that slide more", "This approach holds."),
    Approach.MEDIUM: ("Soles, one step either way", "Approaches differ from pair to pair."),
    Approach.SLICK: ("Sole and heel that slide less", "This approach lets go."),
}
"""What to change the sole to, by how an approach lets it slide. Common practice."""


def _feet(approach: Approach) -> Iterator[PackItem]:
    sole, why = SOLES[approach]
    many = 2 if approach is Approach.MEDIUM else 1
    yield PackItem("Shoes", 1, "Yours: no other sole slides alike.", PackGroup.FEET)
    yield PackItem(
        sole, many, f"{why} Try a slide without a ball before the first shot.", PackGroup.FEET
    )
    yield PackItem("Shoe covers", 2, "Water on a sole stops it dead.", PackGroup.FEET)
    yield PackItem("Shoe brush", 1, "Takes dirt off the sole.", PackGroup.FEET)
    yield PackItem("Laces", 2, "They tear when tied in a hurry.", PackGroup.FEET)


def _table(event: Event) -> Iterator[PackItem]:
    yield PackItem("Phone with this plan", 1, "Needs no network.", PackGroup.TABLE)
    yield PackItem("Charger and battery", 1, "A long day with the screen on.", PackGroup.TABLE)
    yield PackItem("Sheet on paper, pen", 1, "Needs no battery.", PackGroup.TABLE)
    if event.games > 1 and event.move_pairs:
        why = "You change pairs after every game."
        yield PackItem("Cart or bag with wheels", 1, why, PackGroup.TABLE)


def _papers(event: Event) -> Iterator[PackItem]:
    yield PackItem("Entry and its receipt", 1, "The desk may ask.", PackGroup.PAPERS)
    yield PackItem("Membership and proof of average", 1, "The desk may ask.", PackGroup.PAPERS)
    if event.ball_limit is not None:
        why = "Where balls are counted they may be checked too."
        yield PackItem("Papers of your balls", 1, why, PackGroup.PAPERS)


def _food(hours: float) -> Iterator[PackItem]:
    told = f"About {hours:.1f} hours from practice to the last ball."
    bottles = max(1, math.ceil(WATER_BOTTLES_AN_HOUR * hours))
    yield PackItem("Water, half a litre", bottles, told, PackGroup.FOOD)
    snacks = max(1, math.ceil(hours / HOURS_A_SNACK))
    yield PackItem("Something to eat", snacks, told, PackGroup.FOOD)
