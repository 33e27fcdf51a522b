"""One JSON archive of an account: whole, into any store, as often as one likes."""

from __future__ import annotations

import json
from dataclasses import replace
from uuid import uuid4

import pytest

from contracts.things import account, draft, shot
from nextpair.application.archive import archive_of, unpack
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.jotting import JottingKind
from nextpair.domain.record import Kind


@pytest.fixture
def season(store):
    """Somebody who has a bowler, an event that was changed, one that is gone, and logs."""
    me = account(store)
    bowler, house = draft(Kind.BOWLER, "Ada Voss", care="left knee"), draft(Kind.HOUSE, "Quay")
    event, gone = (draft(Kind.EVENT, name, bowler.id, house.id) for name in ("Open", "Cup"))
    store.save_all(me, [event, gone, bowler, house])
    store.save(me, replace(event, document={"games": 8, "share": 0.1, "whole": 2.0}), 1)
    store.delete(me, gone.id)
    first = shot(event.id)
    undone = shot(event.id, 2, kind=JottingKind.VOID, supersedes=first.id, payload={})
    store.append(me, [first, undone, shot(gone.id, 3), shot(uuid4(), 4)])
    return me


def sent(archive):
    """The archive as a file holds it."""
    return json.loads(json.dumps(archive))


def test_an_archive_into_an_empty_account_is_everything_again(store, season):
    archive, me = sent(archive_of(store, season)), account(store)
    unpacked = unpack(store, me, archive)
    assert (unpacked.stored, unpacked.same, unpacked.conflicts) == (10, 0, ())
    assert store.every_revision(me) == store.every_revision(season)
    assert store.logged_events(me) == store.logged_events(season)
    for event in store.logged_events(me):
        assert store.log(me, event) == store.log(season, event)
    assert archive_of(store, me) == archive


def test_an_archive_taken_in_again_stores_nothing(store, season):
    archive, me = sent(archive_of(store, season)), account(store)
    unpack(store, me, archive)
    for owner in (me, season):
        assert unpack(store, owner, archive).stored == 0
        assert unpack(store, owner, archive).same == 10
        assert archive_of(store, owner) == archive


def test_what_was_added_since_is_kept_beside_the_archive(store, season):
    archive = sent(archive_of(store, season))
    event = store.records(season, Kind.EVENT)[0]
    more = shot(event.id, 9)
    store.append(season, [more])
    store.save(season, draft(name="Ebb"), None)
    assert unpack(store, season, archive).stored == 0
    assert store.log(season, event.id)[-1].jotting == more
    assert [one.name for one in store.records(season, Kind.PATTERN)] == ["Ebb"]


def test_a_jotting_that_differs_here_stays_and_is_told(store, season):
    archive = sent(archive_of(store, season))
    changed = archive["jottings"][0]
    changed["client_time"] = "another"
    before = archive_of(store, season)
    unpacked = unpack(store, season, archive)
    assert [str(id) for id in unpacked.conflicts] == [changed["id"]]
    assert (unpacked.stored, unpacked.same) == (0, 9)
    assert archive_of(store, season) == before


SPOILED = {
    "records[0].name": lambda archive: archive["records"][0].update(name=""),
    "records[1]": lambda archive: archive["records"][1].update(id="7"),
    "records[2].saved_at": lambda archive: archive["records"][2].update(saved_at="2026-11-28"),
    "records[0].deleted": lambda archive: archive["records"][0].update(deleted=1),
    "records[0].revision": lambda archive: archive["records"][0].update(revision=True),
    "records[0].document": lambda archive: archive["records"][0].update(document=[]),
    "records[3]": lambda archive: archive["records"][3].pop("links"),
    "jottings[0].device_seq": lambda archive: archive["jottings"][0].update(device_seq=0),
    "jottings[3]": lambda archive: archive["jottings"].__setitem__(3, None),
    "jottings": lambda archive: archive.update(jottings={}),
    "archive": lambda archive: archive.update(archive=2),
    "archive: found 'app": lambda archive: archive.update(app="another"),
}


@pytest.mark.parametrize("place", SPOILED)
def test_a_spoiled_archive_is_refused_whole_and_told_where(store, season, place):
    archive, me = sent(archive_of(store, season)), account(store)
    archive["app"] = "nextpair"
    SPOILED[place](archive)
    with pytest.raises(InvalidValueError) as refusal:
        unpack(store, me, archive)
    assert str(refusal.value).startswith(place.split(":")[0])
    assert "\n" not in str(refusal.value)
    assert store.records(me) == ()
    assert store.logged_events(me) == ()


@pytest.mark.parametrize("told", [None, [], "archive", {}, {"app": "nextpair"}])
def test_what_is_no_archive_is_refused(memory, told):
    with pytest.raises(InvalidValueError, match="archive"):
        unpack(memory, account(memory), told)


@pytest.mark.parametrize("found", ["x" * 3000, 10**400, "9" * 5000], ids=["x", "number", "9"])
def test_what_is_found_is_told_in_short(memory, found):
    me = account(memory)
    for told in (
        {"app": "nextpair", "archive": found, "records": [], "jottings": []},
        {"app": "nextpair", "archive": 1, "records": [{"id": found}], "jottings": []},
    ):
        with pytest.raises(InvalidValueError) as refused:
            unpack(memory, me, told)
        assert len(str(refused.value)) < 500


def test_an_archive_without_a_record_that_another_needs_is_refused(store, season):
    archive, me = sent(archive_of(store, season)), account(store)
    archive["records"] = [one for one in archive["records"] if one["kind"] != "bowler"]
    with pytest.raises(InvalidValueError):
        unpack(store, me, archive)
    assert store.every_revision(me) == ()


def test_an_archive_tells_no_password_and_no_session(store, season):
    store.change_password(season, "$argon2id$secret")
    assert "argon2" not in json.dumps(archive_of(store, season))
