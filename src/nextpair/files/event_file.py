"""event.toml and the files it names: an event, read whole or refused whole."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from pathlib import Path

from pydantic import Field

from nextpair.domain import typical
from nextpair.domain.ball import Ball
from nextpair.domain.bowler import Bowler
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.event import SPARE_BALLS, Block, Entrant, Event, SurfaceChanges
from nextpair.domain.format import Counting
from nextpair.domain.house import House
from nextpair.domain.money import Money
from nextpair.domain.pattern import Pattern
from nextpair.files.bowler_file import read_bowler
from nextpair.files.fields import Day, FileName, Number, Text, Whole
from nextpair.files.format_table import HandicapForm, StageForm, format_of
from nextpair.files.forms import Form, fill, make, note_guesses
from nextpair.files.house_file import read_house
from nextpair.files.intake import NOTHING, Intake, Source, Words, did_you_mean
from nextpair.files.locker_file import read_locker
from nextpair.files.money_table import MoneyForm, money_of
from nextpair.files.pattern_file import ordinary_pattern, read_pattern
from nextpair.files.pattern_library import is_plain_name, marked_name, read_library_pattern
from nextpair.files.squad_file import Owner, read_squad
from nextpair.files.text_file import read_toml

SECONDS_PER_MINUTE = 60.0
GUESSED_IF_LEFT_OUT = ("practice_minutes", "surface_changes")
PATTERN_KEYS = ("pattern", "left_pattern", "right_pattern")
PATTERN_CHOICE = "either pattern, or both left_pattern and right_pattern"


_ANY_DAY = date.max
"""Stands for a day that was refused: no other day is told to be too late beside it."""


class EarlierSquadForm(Form):
    """The keys of an earlier_squad table of event.toml."""

    squad: FileName = Field(description="name of the squad's file", examples=["squad.csv"])
    games: Whole | None = Field(default=None, description="games that it bowls")
    practice_minutes: Number | None = Field(default=None, description="its practice")
    move_pairs: Whole | None = Field(default=None, description="its move after every game")


class EventForm(Form):
    """The keys of event.toml."""

    name: Text = Field(description="name of the event", examples=["an event"])
    date: Day = Field(description="first day of the event", examples=[_ANY_DAY])
    entry_deadline: Day | None = Field(default=None, description="last day to enter")
    games: Whole = Field(description="games that are bowled", examples=[1])
    practice_minutes: Number = Field(
        default=typical.PRACTICE_S / SECONDS_PER_MINUTE,
        description="practice before the first game",
    )
    ball_limit: Whole | None = Field(
        default=None, description="balls allowed; left out = no limit"
    )
    spare_balls: Whole = Field(
        default=SPARE_BALLS, description="balls brought for spares alone; 0 = none"
    )
    surface_changes: SurfaceChanges = Field(
        default=SurfaceChanges.BEFORE, description="when covers may be sanded or polished"
    )
    house: FileName = Field(description="name of the house's file", examples=["house.toml"])
    pattern: FileName | None = Field(default=None, description="name of the pattern's file")
    left_pattern: FileName | None = Field(
        default=None, description="pattern of each pair's left lane"
    )
    right_pattern: FileName | None = Field(
        default=None, description="pattern of each pair's right lane"
    )
    bowler: FileName = Field(description="name of the bowler's file", examples=["bowler.toml"])
    locker: FileName = Field(description="name of the locker's file", examples=["locker.csv"])
    squad: FileName = Field(description="name of the squad's file", examples=["squad.csv"])
    bowler_name: Text = Field(description="the bowler's name in the squad", examples=["a bowler"])
    move_pairs: Whole = Field(description="pairs to move after every game", examples=[1])
    earlier_squad: tuple[EarlierSquadForm, ...] = Field(
        default=(), description="squads before, on the same dressing, first one first"
    )
    counting: Counting = Field(default=Counting.TRADITIONAL, description="how pins become a score")
    handicap: HandicapForm | None = Field(default=None, description="what is added to a score")
    stage: tuple[StageForm, ...] = Field(
        default=(), description="what is bowled after the games that everybody bowls"
    )
    money: MoneyForm | None = Field(default=None, description="what the event costs and pays")


def load_event(path: str | os.PathLike[str]) -> Event:
    """An event with all its files. Raises InputRefusedError with every problem of every file."""
    return read_event(Source.first(Path(path)), Intake())


def read_event(source: Source, intake: Intake) -> Event:
    """The event of a file, wherever it lies. Raises InputRefusedError with every problem."""
    raw = read_toml(source, intake)
    if raw is None:
        raise intake.refusal()
    form = fill(EventForm, raw, source, intake)
    note_guesses(form, GUESSED_IF_LEFT_OUT, source, intake)
    event = event_of(form, _neighbours(form, source, intake), source, intake)
    return replace(event, guessed=intake.close())


def load_pattern(path: str | os.PathLike[str]) -> Pattern:
    """A pattern by itself: of a file, or of the library by its name.

    A file of that name comes first. Raises InputRefusedError with every problem of its files.
    """
    source, intake = Source.first(Path(path)), Intake()
    asked = os.fspath(path)
    name = marked_name(asked)
    if name is None and is_plain_name(asked):
        name = asked
    if name is None:
        pattern = read_pattern(source, intake)
    else:
        pattern = read_library_pattern(name, Source.first(Path("library")), "name", intake)
    intake.close()
    return pattern


@dataclass(frozen=True, slots=True)
class Neighbours:
    """What the files hold that an event names. `entries` are those of the whole event, where its
    money does not say."""

    house: House
    left_pattern: Pattern
    right_pattern: Pattern
    bowler: Bowler
    locker: tuple[Ball, ...]
    squad: tuple[Entrant, ...]
    earlier: tuple[tuple[Entrant, ...], ...]
    entries: int


def _neighbours(form: EventForm, source: Source, intake: Intake) -> Neighbours:
    """The neighbours of an event, read in the order of the keys."""
    house = read_house(source.neighbour("house", form.house), intake)
    left_pattern, right_pattern = _patterns(form, source, intake)
    so_far = len(intake.problems)
    bowler = read_bowler(source.neighbour("bowler", form.bowler), intake)
    owner = Owner(form.bowler_name, bowler, form.bowler, known=len(intake.problems) == so_far)
    locker = read_locker(source.neighbour("locker", form.locker), intake)
    squad = read_squad(source.neighbour("squad", form.squad), owner, house.lanes, intake)
    earlier = tuple(
        read_squad(source.neighbour(f"{at}squad", table.squad), owner, house.lanes, intake)
        for at, table in _earlier_squads(form)
    )
    names = [listed.name for listed in squad]
    if form.bowler_name not in names:
        row = f"{did_you_mean(form.bowler_name, names)}the name of a row of {form.squad}"
        intake.refuse(source, "bowler_name", form.bowler_name, row)
    return Neighbours(
        house, left_pattern, right_pattern, bowler, locker, squad, earlier, entries=len(squad)
    )


def _earlier_squads(form: EventForm) -> Iterator[tuple[str, EarlierSquadForm]]:
    """Each table of an earlier squad, with what comes before its keys where a problem is told."""
    for number, table in enumerate(form.earlier_squad, start=1):
        yield f"earlier_squad {number}: ", table


def event_of(form: EventForm, neighbours: Neighbours, source: Source, intake: Intake) -> Event:
    """The event of a filled form."""
    earlier = tuple(
        make(partial(_block, entrants=squad, event=form), table, source, intake, at)
        for (at, table), squad in zip(_earlier_squads(form), neighbours.earlier, strict=True)
    )
    money = Money(entries=neighbours.entries)
    if form.money is not None:
        money = money_of(form.money, neighbours.entries, source, intake)
    known = None if form.money is None else form.money.entries
    decided = format_of(form.counting, form.handicap, form.stage, known, source, intake)

    def event(form: EventForm) -> Event:
        return Event(
            name=form.name,
            date=form.date,
            entry_deadline=form.entry_deadline,
            games=form.games,
            practice_s=form.practice_minutes * SECONDS_PER_MINUTE,
            ball_limit=form.ball_limit,
            spare_balls=form.spare_balls,
            surface_changes=form.surface_changes,
            house=neighbours.house,
            left_pattern=neighbours.left_pattern,
            right_pattern=neighbours.right_pattern,
            bowler=neighbours.bowler,
            locker=neighbours.locker,
            squad=neighbours.squad,
            bowler_name=form.bowler_name,
            move_pairs=form.move_pairs,
            money=money,
            earlier=earlier,
            format=decided,
        )

    try:
        return make(event, form, source, intake)
    except InvalidValueError as refused:  # a check across files, told already, that nothing passes
        raise intake.refusal() from refused


def _block(form: EarlierSquadForm, entrants: tuple[Entrant, ...], event: EventForm) -> Block:
    minutes = form.practice_minutes
    if minutes is None:
        minutes = event.practice_minutes
    return Block(
        entrants,
        games=event.games if form.games is None else form.games,
        practice_s=minutes * SECONDS_PER_MINUTE,
        move_pairs=event.move_pairs if form.move_pairs is None else form.move_pairs,
    )


def _patterns(form: EventForm, source: Source, intake: Intake) -> tuple[Pattern, Pattern]:
    """The patterns of a pair's left and right lane."""
    given = patterns_named(form, source, intake)
    read = [_pattern(name, source, key, intake) for key, name in given.items()]
    read = read or [ordinary_pattern()]
    return read[0], read[-1]


def patterns_named(form: EventForm, source: Source, intake: Intake) -> dict[str, str]:
    """The keys of an event's patterns, with what each names."""
    given = {key: name for key in PATTERN_KEYS if (name := getattr(form, key)) is not None}
    if set(given) not in ({"pattern"}, {"left_pattern", "right_pattern"}):
        found = Words(" and ".join(given) or NOTHING)
        intake.refuse(source, "pattern", found, PATTERN_CHOICE)
    return given


def _pattern(name: str, source: Source, key: str, intake: Intake) -> Pattern:
    """A pattern of the library, or of a neighbour's file."""
    listed = marked_name(name)
    if listed is None:
        return read_pattern(source.neighbour(key, name), intake)
    return read_library_pattern(listed, source, key, intake)
