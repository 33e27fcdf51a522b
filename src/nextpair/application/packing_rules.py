"""The rules of the packing list, a table: what bowlers go by. Common practice, from memory.

A rule looks at the trip and nothing else, and yields what it puts on the list. Its name stands on
each of its items.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

from nextpair.application.packing_trip import Trip
from nextpair.domain.ball import POLISHED, Tool
from nextpair.domain.event import SurfaceChanges
from nextpair.domain.house import Approach
from nextpair.domain.packing import PackGroup, PackItem

WATER_BOTTLES_AN_HOUR = 1.0
"""Bottles of half a litre. Common practice."""
HOURS_A_SNACK = 1.5
STRIPS_A_GAME = 2
GAMES_A_TOWEL = 4
LONG_DAY_GAMES = 6
"""From so many games on, skin and thumb suffer. Common practice."""

Items = Iterator[PackItem]
Rule = Callable[[Trip], Items]


def by_rules(trip: Trip) -> Items:
    """What all rules put on the list, group by group."""
    for name, rule in RULES.items():
        for item in rule(trip):
            yield replace(item, rule=name)


def _bag(trip: Trip) -> Items:
    for item in trip.bag:
        yield PackItem(f"{item.ball} @ {item.surface_grit}", 1, item.purpose, PackGroup.BALLS)


def _spare_ball(trip: Trip) -> Items:
    """Where the bag has none and the rules leave it a place."""
    limit = trip.event.ball_limit
    if not trip.has_spare_ball and (limit is None or len(trip.bag) < limit):
        why = "None is in the bag: single pins ask for a ball that hardly hooks."
        yield PackItem("A ball for spares", 1, why, PackGroup.BALLS)


def _towels(trip: Trip) -> Items:
    many = 1 + math.ceil(trip.games / GAMES_A_TOWEL)
    why = "Oil off the cover before every shot; the first one is full of it after four games."
    yield PackItem("Towel", many, why, PackGroup.COVERS)


def _cleaner(_trip: Trip) -> Items:
    why = "Ask the event's rules which one, and when it may be used."
    yield PackItem("Ball cleaner", 1, why, PackGroup.COVERS)


def _pads(trip: Trip) -> Items:
    """A pad for each grit of the bag that may be put on: by hand where that is planned."""
    if not trip.sands:
        return
    before = trip.event.surface_changes is SurfaceChanges.BEFORE
    when = "only before the first game; put it away then" if before else "when the rules allow it"
    for grit, by_hand in _grits(trip, by_hand_alone=not before):
        how = "by hand" if by_hand else "on a spinner or by hand"
        why = f"To put the bag's surface on again, {how}: {when}."
        yield PackItem(f"Pad {grit}", 1, why, PackGroup.COVERS)


def _grits(trip: Trip, *, by_hand_alone: bool) -> list[tuple[int, bool]]:
    """Grits of the bag that a pad can put on, rough first, and whether that is by hand alone;
    where some are planned to be put on by hand before their games and `by_hand_alone`, those."""
    hands = {item.surface_grit for item in trip.bag if item.surface_by == Tool.HAND}
    spun = {item.surface_grit for item in trip.bag if item.surface_by != Tool.HAND}
    wanted = hands if hands and by_hand_alone else hands | spun
    return sorted((grit, grit not in spun) for grit in wanted if isinstance(grit, int))


def _polish(trip: Trip) -> Items:
    if trip.sands and any(item.surface_grit == POLISHED for item in trip.bag):
        why = "A cover of the bag is polished. Ask the event's rules which polish is allowed."
        yield PackItem("Polish and its own cloth", 1, why, PackGroup.COVERS)


def _dust(trip: Trip) -> Items:
    if trip.sands and _grits(trip, by_hand_alone=False):
        why = "Sanding throws dust and drops. Keep hands, hair and sleeves clear of a spinner."
        yield PackItem("Glasses and dust mask", 1, why, PackGroup.COVERS)


def _thumb(trip: Trip) -> Items:
    """Tape in two thicknesses, cut and on the roll, and a second thumb piece."""
    if not trip.has_thumb:
        return
    strips = STRIPS_A_GAME * trip.games
    why = "Two a game, thick and thin: thumbs swell and shrink."
    yield PackItem("Thumb tape, strips cut", strips, why, PackGroup.GRIP)
    why = "Two thicknesses, to fit in small steps."
    yield PackItem("Thumb tape, roll", 2, why, PackGroup.GRIP)
    why = "A second one, fitted for a swollen thumb: the first can crack or stick."
    yield PackItem("Thumb piece", 1, why, PackGroup.GRIP)
    why = "Takes a sharp edge off the thumb hole."
    yield PackItem("Bevel tool", 1, why, PackGroup.GRIP)


def _fingers(_trip: Trip) -> Items:
    yield PackItem("Finger inserts", 2, "One for each finger, should one tear.", PackGroup.GRIP)
    yield PackItem("Insert glue", 1, "Holds a new insert within minutes.", PackGroup.GRIP)
    yield PackItem("Scissors", 1, "For tape and inserts; not in hand luggage.", PackGroup.GRIP)


def _dry_hand(_trip: Trip) -> Items:
    why = "Chalk or a grip bag, as the event's rules allow. The halls are warm."
    yield PackItem("What keeps the hand dry", 1, why, PackGroup.GRIP)


def _skin(trip: Trip) -> Items:
    if trip.games >= LONG_DAY_GAMES:
        why = f"{trip.games} games rub skin open. Stop when it bleeds or hurts."
        yield PackItem("Skin protection", 1, why, PackGroup.BODY)


def _straps(_trip: Trip) -> Items:
    """One line that tells nobody anything."""
    why = "You know what that is. Ask the event's rules what you may wear."
    yield PackItem("What you strap or tape", 1, why, PackGroup.BODY)


def _own_straps(trip: Trip) -> Items:
    """What the bowler wears, in their own words: private."""
    why = "Your own. No treatment: where it hurts, see a professional."
    for strap in trip.event.bowler.straps:
        yield PackItem(strap, 1, why, PackGroup.BODY, private=True)


def _own_care(trip: Trip) -> Items:
    """What the bowler watches on the own body, in their own words: private."""
    why = "You watch this. Pain that changes the swing means stop and see a professional."
    for care in trip.event.bowler.care:
        yield PackItem(f"What you use for: {care}", 1, why, PackGroup.BODY, private=True)


SOLES = {
    Approach.TACKY: ("Sole and heel that slide more", "This approach holds."),
    Approach.MEDIUM: ("Soles, one step either way", "Approaches differ from pair to pair."),
    Approach.SLICK: ("Sole and heel that slide less", "This approach lets go."),
}
"""What to change the sole to, by how an approach lets it slide. Common practice."""


def _soles(trip: Trip) -> Items:
    approach = trip.event.house.approach
    sole, why = SOLES[approach]
    many = 2 if approach is Approach.MEDIUM else 1
    told = f"{why} Try a slide without a ball before the first shot."
    yield PackItem(sole, many, told, PackGroup.FEET)


def _shoes(_trip: Trip) -> Items:
    yield PackItem("Shoes", 1, "Yours: no other sole slides alike.", PackGroup.FEET)
    yield PackItem("Shoe covers", 2, "Water on a sole stops it dead.", PackGroup.FEET)
    yield PackItem("Shoe brush", 1, "Takes dirt off the sole.", PackGroup.FEET)
    yield PackItem("Laces", 2, "They tear when tied in a hurry.", PackGroup.FEET)


def _plan(_trip: Trip) -> Items:
    yield PackItem("Phone with this plan", 1, "Needs no network.", PackGroup.TABLE)
    yield PackItem("Charger and battery", 1, "A long day with the screen on.", PackGroup.TABLE)
    yield PackItem("Sheet on paper, pen", 1, "Needs no battery.", PackGroup.TABLE)


def _wheels(trip: Trip) -> Items:
    if trip.event.games > 1 and trip.event.move_pairs:
        why = "You change pairs after every game."
        yield PackItem("Cart or bag with wheels", 1, why, PackGroup.TABLE)


def _entry(_trip: Trip) -> Items:
    yield PackItem("Entry and its receipt", 1, "The desk may ask.", PackGroup.PAPERS)
    yield PackItem("Membership and proof of average", 1, "The desk may ask.", PackGroup.PAPERS)


def _measurements(trip: Trip) -> Items:
    if trip.event.ball_limit is not None:
        why = "Where balls are counted they may be weighed and measured too."
        yield PackItem("Papers of your balls", 1, why, PackGroup.PAPERS)


def _food(trip: Trip) -> Items:
    told = f"About {trip.hours:.1f} hours from practice to the last ball."
    bottles = max(1, math.ceil(WATER_BOTTLES_AN_HOUR * trip.hours))
    yield PackItem("Water, half a litre", bottles, told, PackGroup.FOOD)
    snacks = max(1, math.ceil(trip.hours / HOURS_A_SNACK))
    yield PackItem("Something to eat", snacks, told, PackGroup.FOOD)


def _shirts(trip: Trip) -> Items:
    why = f"One for each of {trip.blocks} blocks, if you make every cut."
    if trip.blocks > 1:
        yield PackItem("Shirt to change into", trip.blocks - 1, why, PackGroup.TRAVEL)


def _nights(trip: Trip) -> Items:
    if trip.days > 1:
        why = f"About {trip.hours:.0f} hours are {trip.days} days. Ask for the event's own times."
        yield PackItem("What you need for a night", trip.days - 1, why, PackGroup.TRAVEL)


RULES: dict[str, Rule] = {
    "bag": _bag,
    "spare ball": _spare_ball,
    "towels": _towels,
    "cleaner": _cleaner,
    "pads": _pads,
    "polish": _polish,
    "dust": _dust,
    "thumb": _thumb,
    "fingers": _fingers,
    "dry hand": _dry_hand,
    "skin": _skin,
    "straps": _straps,
    "own straps": _own_straps,
    "own care": _own_care,
    "soles": _soles,
    "shoes": _shoes,
    "plan": _plan,
    "wheels": _wheels,
    "entry": _entry,
    "measurements": _measurements,
    "food": _food,
    "shirts": _shirts,
    "nights": _nights,
}
"""Every rule by its name, in the order of the list."""
