"""One record's document checked by itself, by the rules of the file of its kind.

What only shows beside other records is checked with the whole event: a lane that the house lacks,
a bowler who is not in the squad.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from pydantic import Field

from nextpair.domain.ball import Layout as Drilled
from nextpair.domain.ball import Surface, Tool
from nextpair.domain.money import MOST_ENTRIES
from nextpair.domain.record import Document, Kind
from nextpair.domain.units import DEGREE_RAD, INCH_M
from nextpair.files.bowler_file import ordinary_bowler, read_bowler
from nextpair.files.event_file import (
    GUESSED_IF_LEFT_OUT,
    EventForm,
    Neighbours,
    event_of,
    patterns_named,
)
from nextpair.files.fields import Flag, Grit, Id, IsoDay, Number, Text, Whole, is_id
from nextpair.files.folder import filled, told
from nextpair.files.forms import Form, fill, keys_of, make, note_guesses
from nextpair.files.goal_form import goal_of
from nextpair.files.house_file import ordinary_house, read_house
from nextpair.files.intake import Words
from nextpair.files.kit_form import kit_of
from nextpair.files.layout import EVENT, LOCKER, SQUAD, Layout, with_day
from nextpair.files.locker_file import ordinary_ball, read_ball
from nextpair.files.pattern_file import ordinary_pattern, read_pattern
from nextpair.files.pattern_library import marked_name, read_library_pattern
from nextpair.files.squad_file import COLUMNS, Owner, ordinary_squad, read_squad
from nextpair.files.text_file import read_toml

NOBODY = Owner("", ordinary_bowler(), "bowler.toml", known=False)


class SurfaceChange(Form):
    """A finish that a ball got."""

    date: IsoDay = Field(description="day on which it was made", examples=["2026-01-01"])
    surface_grit: Grit = Field(description="grit of the finish, or polished", examples=[2000])
    surface_by: Tool = Field(default=Tool.SPINNER, description="tool that it was made with")
    note: Text = Field(default="", description="anything")


class LayoutChange(Form):
    """A layout that a ball was drilled to."""

    date: IsoDay = Field(description="day on which it was drilled", examples=["2026-01-01"])
    pin_to_pap_in: Number = Field(description="pin to PAP distance", examples=[4.5])
    drilling_angle_deg: Number = Field(description="drilling angle", examples=[60.0])
    val_angle_deg: Number = Field(description="VAL angle", examples=[40.0])
    note: Text = Field(default="", description="anything")


class BallKeeping(Form):
    """What is kept of a ball beside its row in locker.csv."""

    bowler: Id | None = Field(default=None, description="id of the bowler who owns it")
    retired: Flag = Field(default=False, description="whether it stays at home")
    place: Whole | None = Field(default=None, description="its place in the locker")
    surface_history: tuple[SurfaceChange, ...] = Field(default=(), description="its finishes")
    layout_history: tuple[LayoutChange, ...] = Field(default=(), description="its layouts")


class SquadRecord(Form):
    """A squad that is kept."""

    name: Text = Field(min_length=1, description="name of the squad", examples=["a squad"])
    rows: tuple[dict[str, Any], ...] = Field(description="who bowls where", examples=[()])


def check_record(kind: Kind, document: Document) -> tuple[str, ...]:
    """What would be guessed of a record. Raises InputRefusedError with every problem of it."""
    layout = Layout()
    _CHECKS[kind](document, layout)
    return layout.intake.close()


def _check_house(document: Document, layout: Layout) -> None:
    read_house(layout.house(document), layout.intake)


def _check_pattern(document: Document, layout: Layout) -> None:
    read_pattern(layout.pattern(document), layout.intake)


def _check_bowler(document: Document, layout: Layout) -> None:
    read_bowler(layout.bowler(document), layout.intake)


def _check_ball(document: Document, layout: Layout) -> None:
    kept_keys = keys_of(BallKeeping)
    row = {key: value for key, value in document.items() if key not in kept_keys}
    source = layout.source(LOCKER)
    read_ball(filled(row), source, layout.intake)
    kept = told({key: value for key, value in document.items() if key in kept_keys})
    form = fill(BallKeeping, kept, source, layout.intake)
    for number, surface in enumerate(form.surface_history, start=1):
        at = f"surface_history {number}: "
        make(_surface, surface, source, layout.intake, at)
    for number, drilled in enumerate(form.layout_history, start=1):
        make(_layout, drilled, source, layout.intake, f"layout_history {number}: ")


def _surface(form: SurfaceChange) -> Surface:
    return Surface.put_on(form.surface_grit)


def _layout(form: LayoutChange) -> Drilled:
    return Drilled(
        pin_to_pap_m=form.pin_to_pap_in * INCH_M,
        drilling_angle_rad=form.drilling_angle_deg * DEGREE_RAD,
        val_angle_rad=form.val_angle_deg * DEGREE_RAD,
    )


def _check_squad(document: Document, layout: Layout) -> None:
    form = fill(SquadRecord, dict(document), layout.source(SQUAD), layout.intake)
    if not layout.intake.problems:
        source = layout.rows(form.rows, SQUAD, COLUMNS)
        read_squad(source, NOBODY, ordinary_house().lanes, layout.intake)


def _check_event(document: Document, layout: Layout) -> None:
    intake = layout.intake
    layout.tables[EVENT] = with_day(document) | {"locker": LOCKER}
    source = layout.source(EVENT)
    if "locker" in document:
        intake.refuse(source, "locker", Words("a key"), "none: it is what the bowler owns")
    form = fill(EventForm, read_toml(source, intake) or {}, source, intake)
    note_guesses(form, GUESSED_IF_LEFT_OUT, source, intake)
    needed = {"house": form.house, "bowler": form.bowler, "squad": form.squad}
    for key, name in patterns_named(form, source, intake).items():
        listed = marked_name(name)
        if listed is None:
            needed[key] = name
        else:
            read_library_pattern(listed, source, key, intake)
    for number, earlier in enumerate(form.earlier_squad, start=1):
        needed[f"earlier_squad {number}: squad"] = earlier.squad
    for place, name in needed.items():
        if not is_id(name):
            intake.refuse(source, place, name, "the id of a record")
    event_of(form, _ordinary_neighbours(form), source, intake)


def _check_kit(document: Document, layout: Layout) -> None:
    kit_of(document, layout.source("kit"), layout.intake)


def _check_goal(document: Document, layout: Layout) -> None:
    goal_of(document, layout.source("goal"), layout.intake)


def _ordinary_neighbours(form: EventForm) -> Neighbours:
    """Neighbours beside which nothing of an event is wrong that is right by itself."""
    squad = ordinary_squad(replace(NOBODY, name_in_squad=form.bowler_name))
    return Neighbours(
        house=ordinary_house(),
        left_pattern=ordinary_pattern(),
        right_pattern=ordinary_pattern(),
        bowler=NOBODY.bowler,
        locker=(ordinary_ball(),),
        squad=squad,
        earlier=(squad,) * len(form.earlier_squad),
        entries=MOST_ENTRIES,
    )


_CHECKS: dict[Kind, Callable[[Document, Layout], None]] = {
    Kind.HOUSE: _check_house,
    Kind.PATTERN: _check_pattern,
    Kind.BOWLER: _check_bowler,
    Kind.BALL: _check_ball,
    Kind.SQUAD: _check_squad,
    Kind.EVENT: _check_event,
    Kind.KIT: _check_kit,
    Kind.GOAL: _check_goal,
}
