"""The book of a house: visits, newest first, added to and corrected, never rewritten.

Visits are jottings in the log of the house's record; a correction supersedes what it corrects, and
all that was ever written stays.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from uuid import UUID

from nextpair.application.bundle import Papers
from nextpair.application.home_jottings import jot
from nextpair.application.intervals import HALF_OF_80
from nextpair.application.journal import standing, versions
from nextpair.application.keeping import record_of, save_record
from nextpair.application.lessons import accepted_lessons
from nextpair.application.names import plain_name
from nextpair.application.store import NotKeptError, Store
from nextpair.application.visit_jottings import payload_of, visit_of
from nextpair.domain.errors import InvalidValueError, require
from nextpair.domain.house import House
from nextpair.domain.house_book import (
    FrictionSaid,
    HouseFriction,
    Learned,
    LearnedFriction,
    Visit,
)
from nextpair.domain.jotting import Jotting, JottingKind, Kept
from nextpair.domain.lesson import ChangeKind, Lesson
from nextpair.domain.record import Kind, Record
from nextpair.domain.unknowns import DRY_LOG, OWN_DRY_LOG
from nextpair.reading.lasting import lasting, news_of

FRICTION_DIGITS = 3
"""Of a factor that is put into a house's file."""
LEAST_OF_A_LANE = 2
"""Visits that must have told of a lane before it is given a friction of its own: what one of them
shows of one lane is mostly the day's. Common practice."""


@dataclass(frozen=True, slots=True)
class BookPage:
    """A visit as it stands, and what was written of it before, newest first."""

    visit: Visit
    earlier: tuple[Visit, ...] = ()


@dataclass(frozen=True, slots=True)
class PatternMet:
    """A pattern met in a house: how often, and what was bowled and scored on it."""

    pattern: str
    length_ft: float | None
    visits: int
    games: int
    pins: int


@dataclass(frozen=True, slots=True)
class HouseBook:
    """Everything that is known of a house, and its record as it is kept. lessons : what debriefs
    found there that was accepted, newest event first."""

    record: Record
    house: House
    pages: tuple[BookPage, ...]
    patterns: tuple[PatternMet, ...]
    friction: HouseFriction
    lessons: tuple[Lesson, ...] = ()


def book_of(store: Store, papers: Papers, account: UUID, id: UUID) -> HouseBook:
    """The book of a house. Raises NotKeptError."""
    record = record_of(store, account, Kind.HOUSE, id)
    house = papers.house(record.document)
    pages = pages_of(store.log(account, id))
    visits = [page.visit for page in pages]
    friction = house_friction(house, visits)
    lessons = lessons_of_house(accepted_lessons(store, account, with_done=True), house.name)
    return HouseBook(record, house, pages, patterns_met(visits), friction, lessons)


def lessons_of_house(lessons: Iterable[Lesson], name: str) -> tuple[Lesson, ...]:
    """Those of accepted lessons that are notes on the house of a name."""
    return tuple(
        lesson
        for lesson in lessons
        if lesson.change.kind is ChangeKind.HOUSE_NOTE
        and plain_name(lesson.change.house or "") == plain_name(name)
    )


def visits_of(store: Store, account: UUID, house: UUID) -> tuple[Visit, ...]:
    """The visits to a house, newest first."""
    return tuple(page.visit for page in pages_of(store.log(account, house)))


def pages_of(log: Sequence[Kept]) -> tuple[BookPage, ...]:
    """The visits of a house's log that stand, newest first, each with its earlier versions. What
    is no visit is passed over."""
    told = versions(log)
    pages = []
    for root, newest in standing(log):
        visit = _visit(root, newest)
        if visit is not None:
            before = (one for one in reversed(told[root]) if one is not newest)
            earlier = (_visit(root, jotting) for jotting in before)
            pages.append(BookPage(visit, tuple(one for one in earlier if one is not None)))
    pages.reverse()
    return tuple(sorted(pages, key=lambda page: page.visit.date, reverse=True))


def add_visit(store: Store, account: UUID, house: UUID, visit: Visit) -> Visit:
    """Write a visit down. Raises NotKeptError where the house is not kept; InvalidValueError for
    a visit whose id is taken, and for one with too many words."""
    record_of(store, account, Kind.HOUSE, house)
    is_new = visit.id not in versions(store.log(account, house))
    require(is_new, "visit", visit.event or visit.date.isoformat(), "one not in the book yet")
    jot(store, account, house, JottingKind.VISIT, payload_of(visit), id=visit.id)
    return visit


def correct_visit(store: Store, account: UUID, house: UUID, visit: Visit) -> Visit:
    """Write a visit down anew, under the id that it has: what was written before is kept. Raises
    NotKeptError where there is no such visit."""
    newest = _newest(store, account, house, visit.id)
    if newest.payload != payload_of(visit):
        jot(store, account, house, JottingKind.VISIT, payload_of(visit), newest.id)
    return visit


def keep_visit(store: Store, account: UUID, house: UUID, visit: Visit) -> Visit:
    """Add a visit, or correct the one of its id."""
    here = {one.id for one in visits_of(store, account, house)}
    write = correct_visit if visit.id in here else add_visit
    return write(store, account, house, visit)


def take_back_visit(store: Store, account: UUID, house: UUID, visit: UUID) -> None:
    """Let a visit count no more; it stays in the log. Raises NotKeptError."""
    newest = _newest(store, account, house, visit)
    jot(store, account, house, JottingKind.VOID, {}, newest.id)


def house_friction(house: House, visits: Iterable[Visit]) -> HouseFriction:
    """What visits taught of a house's friction, drawn toward what its file had at the first of
    them: half of what a day shows belongs to the day. Of lanes, those of which several told."""
    told = sorted(visits, key=lambda visit: visit.date)
    lanes = sorted({lane for visit in told for lane in _lanes_learned(visit)})
    own = (_learned_friction(house, lane, told) for lane in lanes)
    return HouseFriction(
        house=_learned_friction(house, None, told),
        lanes=tuple(one for one in own if len(one.said) >= LEAST_OF_A_LANE),
    )


def accept_friction(
    store: Store, papers: Papers, account: UUID, record: Record, friction: HouseFriction
) -> Record:
    """Put what was learned into the house's file, so that the next sheet starts from it. Raises
    StaleError where somebody saved the house since."""
    document = dict(record.document)
    if friction.house.said:
        document["friction"] = round(friction.house.factor, FRICTION_DIGITS)
    lanes = [dict(lane) for lane in document.get("lane") or ()]
    of_lane = {lane["number"]: lane for lane in lanes}
    for learned in friction.lanes:
        if learned.lane not in of_lane:
            of_lane[learned.lane] = {"number": learned.lane}
            lanes.append(of_lane[learned.lane])
        of_lane[learned.lane]["friction"] = round(learned.factor, FRICTION_DIGITS)
    if lanes:
        document["lane"] = lanes
    return save_record(store, papers, account, Kind.HOUSE, record.id, document, record.revision)


def patterns_met(visits: Iterable[Visit]) -> tuple[PatternMet, ...]:
    """The patterns of some visits, each once under its newest name, in their order."""
    met: dict[str, list[Visit]] = {}
    for visit in visits:
        if visit.pattern:
            met.setdefault(plain_name(visit.pattern), []).append(visit)
    return tuple(
        PatternMet(
            pattern=there[0].pattern,
            length_ft=next((v.length_ft for v in there if v.length_ft is not None), None),
            visits=len(there),
            games=sum(visit.games for visit in there),
            pins=sum(visit.pins for visit in there),
        )
        for there in met.values()
    )


def _visit(root: UUID, jotting: Jotting) -> Visit | None:
    if jotting.kind is not JottingKind.VISIT:
        return None
    try:
        return visit_of(root, jotting.payload)
    except InvalidValueError:
        return None


def _newest(store: Store, account: UUID, house: UUID, visit: UUID) -> Jotting:
    told = dict(standing(store.log(account, house))).get(visit)
    if told is None or told.kind is not JottingKind.VISIT:
        raise NotKeptError("visit", visit)
    return told


def _lanes_learned(visit: Visit) -> tuple[int, ...]:
    """Lanes of whose own friction a visit says anything."""
    suffix = OWN_DRY_LOG.name
    names = (one.name for one in visit.learned if one.name.startswith("lane_"))
    return tuple(int(name.split("_")[1]) for name in names if name.endswith(f"_{suffix}"))


def _learned_friction(house: House, lane: int | None, visits: Sequence[Visit]) -> LearnedFriction:
    """One friction by the visits, oldest first."""
    name = DRY_LOG.name if lane is None else OWN_DRY_LOG.on(lane)
    told = [
        (visit, _from_one(learned, visit.friction_of(lane)))
        for visit in visits
        for learned in visit.learned
        if learned.name == name and news_of(learned)
    ]
    stands = house.friction if lane is None else house.trait(lane).friction
    about = math.log(told[0][0].friction_of(lane) if told else stands)
    found = lasting(name, (learned for _, learned in told), about)
    return LearnedFriction(
        lane,
        stands,
        *_factors(found.mean, found.sd),
        said=tuple(
            FrictionSaid(visit.date, visit.event, *_factors(learned.mean, learned.sd))
            for visit, learned in told
        ),
    )


def _from_one(learned: Learned, factor: float) -> Learned:
    """What was learned about a factor, counted from a friction of 1."""
    shift = math.log(factor)
    return replace(learned, before_mean=learned.before_mean + shift, mean=learned.mean + shift)


def _factors(mean_log: float, sd_log: float) -> tuple[float, float, float]:
    """A factor, and the two that hold it four times in five."""
    reach = HALF_OF_80 * sd_log
    return math.exp(mean_log), math.exp(mean_log - reach), math.exp(mean_log + reach)
