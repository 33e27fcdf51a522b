"""The book of patterns: relatives by their films, with results and notes; where to start."""

from __future__ import annotations

from dataclasses import replace
from uuid import UUID, uuid4, uuid5

import pytest

from nextpair.application.keeping import add_record
from nextpair.application.outings import NO_OUTINGS
from nextpair.application.pattern_book import (
    MOST_BOWLED,
    MOST_RELATIVES,
    NEAR_FT,
    kept_book,
    kept_key,
    library_book,
)
from nextpair.application.pattern_notes import PATTERN_LOGS, attack_notes, pattern_log
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.jotting import Jotting, JottingKind
from nextpair.domain.record import Draft, Kind
from nextpair.domain.units import FOOT_M
from nextpair.files import load_library
from nextpair.physics.dressing import film_of
from nextpair.planning.film_distance import film_distance
from outings import OTHER, PAPERS, empty_store, keep_demo, line, outing

LIBRARY = {pattern.name: pattern for pattern in load_library()}
BOOK = library_book(PAPERS)


def bowled(*outings):
    return replace(BOOK, outings=replace(NO_OUTINGS, all=outings))


def note(log, text, **more):
    payload = {"about": "pattern", "text": text}
    told = {"kind": JottingKind.NOTE, "payload": payload, "client_time": "2026-05-02T10:00:00"}
    return Jotting(uuid4(), log, "home-1", 1, **(told | more))


def test_relatives_are_told_nearest_first_and_never_the_pattern_itself():
    page = BOOK.page("library: Lee Shore 39")
    expected = sorted(
        (film_distance(film_of(LIBRARY["Lee Shore 39"]), film_of(other)).feet, name)
        for name, other in LIBRARY.items()
        if name != "Lee Shore 39"
    )[:MOST_RELATIVES]
    assert [one.pattern.name for one in page.relatives] == [name for _, name in expected]
    assert [one.feet for one in page.relatives] == pytest.approx([feet for feet, _ in expected])
    assert [one.is_near for one in page.relatives] == [feet <= NEAR_FT for feet, _ in expected]


def test_a_pattern_never_seen_starts_from_its_nearest_bowled_relative():
    unseen = replace(
        LIBRARY["Lee Shore 39"],
        name="Never Seen",
        length_m=LIBRARY["Lee Shore 39"].length_m + 2 * FOOT_M,
    )
    book = bowled(
        outing(patterns=("library: Deep Channel 48",), lines=(line(20, 24, "Far Ball"),)),
        outing(event="Spring Open", lines=(line(14, 24), line(3, 24, "Wrong Ball"))),
    )
    page = book.page_of(unseen)
    assert page.key is None
    assert page.relatives[0].pattern.name == "Lee Shore 39"
    assert page.start.startswith("Start as on Lee Shore 39 (")
    assert "Kestrel, laid down on 24 over 17 at the arrows, 14 of 24 racks struck" in page.start
    assert "Spring Open" in page.start


def test_far_ones_that_were_bowled_on_are_told_after_the_near_ones_with_a_warning():
    names = ("Hoar Frost 32", "Mooring Post 34", "Mill Race 35")
    book = bowled(
        *(outing(patterns=(f"library: {name}",), lines=(line(9, 12),)) for name in names)
    )
    page = book.page("library: Outer Roads 52")
    assert len(page.relatives) == MOST_RELATIVES + MOST_BOWLED
    assert not any(one.outings for one in page.relatives[:MOST_RELATIVES])
    assert page.start.startswith("The nearest one that was bowled on is Mill Race 35")
    assert "too far to copy" in page.start


def test_what_one_did_oneself_comes_before_what_others_did():
    mine = outing(lines=(line(9, 20),), event="Mine")
    theirs = outing(
        lines=(line(19, 20),), event="Theirs", is_own=False, bowler=OTHER, patterns=mine.patterns
    )
    page = bowled(theirs, mine).page("library: Lee Shore 39")
    assert [one.event for one in page.outings] == ["Mine", "Theirs"]
    assert page.start.startswith("You know it: Kestrel")
    other = bowled(theirs).page("library: Lee Shore 39")
    assert f"{OTHER}, right-handed: Kestrel" in other.start


def test_without_any_result_nothing_is_promised():
    page = BOOK.page("library: Lee Shore 39")
    assert page.outings == ()
    assert page.start.startswith("No pattern near this one was bowled on yet")


def test_a_pattern_that_is_kept_has_its_events_and_its_own_key():
    store, account = empty_store()
    keep_demo(store, account)
    key = str(store.records(account, Kind.PATTERN)[0].id)
    page = kept_book(store, PAPERS, account).page(key)
    assert (page.key, page.log) == (key, UUID(key))
    assert [one.event for one in page.outings] == ["Samphire Scratch Singles"]
    assert key not in {one.key for one in page.relatives}
    beside = kept_book(store, PAPERS, account).page("library: Winter Quay 43")
    assert beside.relatives[0].key == key


def test_a_copy_of_a_pattern_is_its_nearest_relative():
    store, account = empty_store()
    document = next(one for one in PAPERS.library() if one["name"] == "Lee Shore 39")
    record, _ = add_record(store, PAPERS, account, Kind.PATTERN, {**document, "name": "My Lee"})
    page = kept_book(store, PAPERS, account).page("library: Lee Shore 39")
    first = page.relatives[0]
    assert (first.key, first.feet, first.words) == (str(record.id), 0.0, "the same film")


def test_notes_stand_in_a_log_of_the_pattern_and_are_taken_back_like_all_jottings():
    store, account = empty_store()
    key = "library: Lee Shore 39"
    log = pattern_log(key)
    assert log == uuid5(PATTERN_LOGS, key)
    first = note(log, " Stay inside of board 8. ")
    other = note(log, "of something else", payload={"about": "diary", "text": "a good day"})
    store.append(account, [first, note(log, "Dull it."), other])
    assert [one.text for one in attack_notes(store, account, log)] == [
        "Stay inside of board 8.",
        "Dull it.",
    ]
    gone = note(log, "", kind=JottingKind.VOID, payload={}, supersedes=first.id)
    store.append(account, [gone])
    page = kept_book(store, PAPERS, account).page(key)
    assert [one.text for one in page.notes] == ["Dull it."]
    near = kept_book(store, PAPERS, account).page(page.relatives[0].key)
    assert {one.key: one.notes for one in near.relatives}[key] == page.notes


def test_notes_of_one_account_are_nobody_elses():
    store, account = empty_store()
    log = pattern_log("library: Lee Shore 39")
    store.append(account, [note(log, "Dull it.")])
    assert attack_notes(store, uuid4(), log) == ()


def test_a_kept_pattern_is_found_by_name_or_id_and_a_double_name_is_refused():
    store, account = empty_store()
    keep_demo(store, account)
    record = store.records(account, Kind.PATTERN)[0]
    assert kept_key(store, account, record.name.upper()) == str(record.id)
    assert kept_key(store, account, str(record.id)) == str(record.id)
    assert kept_key(store, account, "no such pattern") is None
    add_record(store, PAPERS, account, Kind.PATTERN, {**record.document, "length_ft": 42})
    with pytest.raises(InvalidValueError, match=str(record.id)):
        kept_key(store, account, record.name)


@pytest.mark.parametrize("written", ["library:lee-shore-39", "library:  Lee Shore 39"])
def test_a_library_pattern_is_found_as_an_event_file_may_name_it(written):
    assert BOOK.page(written).key == "library: Lee Shore 39"


def test_a_key_of_none_is_refused():
    with pytest.raises(InvalidValueError, match="library: NAME"):
        BOOK.page("library: No Such Pattern")


def test_a_pattern_that_is_not_in_order_is_passed_over():
    store, account = empty_store()
    keep_demo(store, account)
    record = store.records(account, Kind.PATTERN)[0]
    store.save_all(account, [replace_document(record, {"name": record.name, "length_ft": 400})])
    book = kept_book(store, PAPERS, account)
    assert len(book.known) == len(LIBRARY)
    assert book.outings.left_out == ("Samphire Scratch Singles",)


def replace_document(record, document):
    return Draft(record.id, record.kind, record.name, document)
