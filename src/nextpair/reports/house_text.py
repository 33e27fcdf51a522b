"""Houses and the book of one for a terminal."""

from __future__ import annotations

from collections.abc import Sequence

from nextpair.application.house_book import BookPage, HouseBook, PatternMet
from nextpair.application.house_search import HouseCard
from nextpair.application.house_sharing import TakenIn
from nextpair.domain.house import House
from nextpair.domain.house_book import FrictionSaid, HouseFriction, LearnedFriction, Visit
from nextpair.domain.lesson import Lesson
from nextpair.reports.ink import Ink, fitted
from nextpair.reports.wording import counted, date_words, sentence, strings_words

NOTHING_KEPT = (
    "No house is kept: keep one with an event, by nextpair import, or take in a shared one."
)
NOT_FOUND = "No house that is kept is as wanted."
FRICTION_NOTE = (
    "Friction is a factor on dry friction, 1 as an ordinary house. Half of what a visit shows is "
    "taken for the day's own, so one visit moves it little; the interval holds it four times in "
    "five. An estimate."
)
NAME_COLUMNS, DATE_COLUMNS = 30, 14


def render_houses_text(
    cards: Sequence[HouseCard], is_filtered: bool, columns: int = 80, *, colour: bool = False
) -> str:
    """Houses, a line or two each."""
    page = Ink(columns, colour)
    if not cards:
        return f"{NOT_FOUND if is_filtered else NOTHING_KEPT}\n"
    lines = [page.strong(counted(len(cards), "house"))]
    for card in cards:
        last = f", last {date_words(card.last_visit.isoformat())}" if card.last_visit else ""
        visits = f"{counted(card.visits, 'visit')}{last}" if card.visits else "no visit"
        lines += ["", f"{page.strong(fitted(card.house.name, NAME_COLUMNS))} {visits}"]
        lines += page.indented("  ", 2, house_words(card.house))
        if card.patterns:
            names = ", ".join(met.pattern for met in card.patterns)
            lines += page.indented("  ", 2, f"Met there: {names}")
        for found in card.found:
            lines += page.indented("  - ", 4, found)
    return "\n".join(lines) + "\n"


def render_house_text(book: HouseBook, columns: int = 80, *, colour: bool = False) -> str:
    """The book of a house."""
    page = Ink(columns, colour)
    house = book.house
    lines = [page.strong(house.name), *page.indented("", 0, house_words(house))]
    lines += _facts(house, page)
    lines += page.section("FRICTION")
    lines += _friction(book.friction, house, page)
    if book.patterns:
        lines += page.section("PATTERNS MET")
        for met in book.patterns:
            lines += page.indented("  ", 4, pattern_met_words(met))
    if book.lessons:
        lines += page.section("FOUND BY DEBRIEFS")
        for lesson in book.lessons:
            lines += page.indented("  ", 4, taught_words(lesson))
    lines += page.section("VISITS")
    if not book.pages:
        lines.append("  None yet. After an event: nextpair house NAME --visit EVENT")
    for number, entry in enumerate(book.pages):
        lines += [""] * (number > 0) + _visit(entry, page)
    return "\n".join(lines) + "\n"


def taken_words(taken: TakenIn) -> str:
    """What became of a shared house."""
    what = "is kept" if taken.is_new else "was here and stays as it is"
    told = f"{taken.record.name} {what}: {counted(taken.new_visits, 'new visit')}"
    return f"{told}, {taken.newer_visits} corrected.\n"


def house_words(house: House) -> str:
    """A house in a line: '24 lanes, synthetic of 9 years, tacky approach'."""
    years = house.surface_age_years
    age = "1 year" if years == 1 else f"{years:g} years"
    machine = f", lane machine: {house.lane_machine}" if house.lane_machine else ""
    return (
        f"{counted(house.lanes, 'lane')}, {house.surface.value} of {age}, "
        f"{house.approach.value} approach{strings_words(house.pinfall)}{machine}"
    )


def pattern_met_words(met: PatternMet) -> str:
    """'Long Tide 43, 43 ft: 2 visits, 12 games, 203.4 a game'."""
    length = f", {met.length_ft:g} ft" if met.length_ft is not None else ""
    return f"{met.pattern}{length}: {counted(met.visits, 'visit')}{_games(met.games, met.pins)}"


def taught_words(lesson: Lesson) -> str:
    """'Harbour Open, 13 June 2026: the lanes had more friction than planned.'"""
    return f"{lesson.event}, {date_words(lesson.date.isoformat())}: {sentence(lesson.words)}"


def said_words(said: FrictionSaid) -> str:
    """What one visit showed: '1.05 (1.01 to 1.09)'."""
    return f"{said.factor:.2f} ({said.low:.2f} to {said.high:.2f})"


def learned_words(learned: LearnedFriction) -> str:
    """'1.03 (1.00 to 1.06); its file has 1.00'."""
    told = f"{learned.factor:.3f} ({learned.low:.2f} to {learned.high:.2f})"
    return f"{told}; the file has {learned.stands:g}."


def _games(games: int, pins: int) -> str:
    return f", {counted(games, 'game')}, {pins / games:.1f} a game" if games else ""


def _facts(house: House, page: Ink) -> list[str]:
    lines = []
    for label, told in (("Returns", house.ball_return), ("Ceiling", house.ceiling)):
        if told:
            lines += page.labelled(label, told)
    for note in house.notes:
        lines += page.labelled("Note", note)
    for note in house.private_notes:
        lines += page.labelled("Private", note)
    for trait in house.traits:
        for note in trait.notes:
            lines += page.labelled(f"Lane {trait.number}", note)
    if house.photos:
        lines += page.labelled("Photos", ", ".join(house.photos))
    return lines


def _friction(friction: HouseFriction, house: House, page: Ink) -> list[str]:
    if not friction.is_learned:
        return page.labelled("House", f"the file has {house.friction:g}; no visit told of it yet.")
    lines = []
    for learned in (friction.house, *friction.lanes):
        if learned.said:
            name = "House" if learned.lane is None else f"Lane {learned.lane}"
            lines += page.labelled(name, learned_words(learned))
            lines += [_said(said) for said in learned.said]
    lines += ["", *page.indented("  ", 2, FRICTION_NOTE, faint=True)]
    told = f'Take it into the house\'s file: nextpair house "{house.name}" --accept'
    return [*lines, *page.indented("  ", 2, told)]


def _said(said: FrictionSaid) -> str:
    day = fitted(date_words(said.date.isoformat()), 18)
    return f"    {day} {said_words(said)}  {said.event}".rstrip()


def _visit(entry: BookPage, page: Ink) -> list[str]:
    visit = entry.visit
    title = date_words(visit.date.isoformat()) + (f", {visit.event}" if visit.event else "")
    marks = ["private"] * visit.private
    if entry.earlier:
        marks.append(f"{counted(len(entry.earlier), 'earlier version')} kept")
    lines = [page.strong(title) + (f"  ({', '.join(marks)})" if marks else "")]
    if visit.pattern or visit.games:
        lines += page.indented("  ", 2, _bowled(visit))
    for label, told in (
        ("Played", visit.played),
        ("Changed", visit.changed),
        ("Note", visit.notes),
        *((f"Lane {lane}", words) for lane, words in visit.lanes),
    ):
        if told:
            lines += page.labelled(label, told)
    return lines


def _bowled(visit: Visit) -> str:
    length = f", {visit.length_ft:g} ft" if visit.length_ft is not None else ""
    volume = f", {visit.volume_ml:.1f} mL" if visit.volume_ml is not None else ""
    games = f"{_games(visit.games, visit.pins)}"
    return f"{visit.pattern}{length}{volume}{games}".removeprefix(", ")
