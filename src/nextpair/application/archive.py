"""All of an account's records and logs as one JSON document, and back into any store.

Sessions, passwords, jobs and computed results stay behind: results can be computed again.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, TypeVar
from uuid import UUID

from nextpair.application.nesting import require_shallow
from nextpair.application.store import Store
from nextpair.application.sync import MOST_AT_ONCE, jotting_of, sent_form
from nextpair.domain.errors import InvalidValueError, require
from nextpair.domain.jotting import Answer
from nextpair.domain.record import Document, Draft, Kind, Record

APP = "nextpair"
NEWEST_FORM = 1
"""Version of the form that this program writes; it reads every one up to it."""
KEYS = frozenset({"app", "archive", "records", "jottings"})
AS_WRITTEN = "as `nextpair archive` writes it"
LONGEST_FOUND, LONGEST_BITS = 200, 64
Thing = TypeVar("Thing")


@dataclass(frozen=True, slots=True)
class Unpacked:
    """What became of an archive: versions and jottings that were new, and that were here already,
    the same; `conflicts` are jottings whose id another one has here, which stays."""

    stored: int
    same: int
    conflicts: tuple[UUID, ...]


def archive_of(store: Store, account: UUID) -> dict[str, Any]:
    """Everything of an account: each version of each record, oldest first, and each event's
    jottings in the order they came in."""
    versions = store.every_revision(account)
    jottings = [
        kept.jotting
        for event in store.logged_events(account)
        for kept in store.log(account, event)
    ]
    return {
        "app": APP,
        "archive": NEWEST_FORM,
        "records": [_version_form(version) for version in versions],
        "jottings": [sent_form(jotting) for jotting in jottings],
    }


def unpack(store: Store, account: UUID, archive: Document) -> Unpacked:
    """Take in what an archive has and the account has not. All of it is read first: raises
    InvalidValueError, with nothing stored, for what is no archive.

    Records go in first and all at once, then jottings; an unpacking that was cut off is made whole
    by another one.
    """
    _require_archive(archive)
    versions = _each("records", archive["records"], _version)
    jottings = _each("jottings", archive["jottings"], jotting_of)
    new = store.merge_revisions(account, versions)
    receipts = [
        receipt
        for start in range(0, len(jottings), MOST_AT_ONCE)
        for receipt in store.append(account, jottings[start : start + MOST_AT_ONCE])
    ]
    told = Counter(receipt.answer for receipt in receipts)
    return Unpacked(
        new + told[Answer.STORED],
        len(versions) - new + told[Answer.DUPLICATE],
        tuple(receipt.id for receipt in receipts if receipt.answer is Answer.CONFLICT),
    )


def _require_archive(archive: object) -> None:
    if not isinstance(archive, Mapping) or archive.get("app") != APP or set(archive) != KEYS:
        found = sorted(map(str, archive))[:8] if isinstance(archive, Mapping) else archive
        raise InvalidValueError("archive", str(found)[:80], "an archive of nextpair")
    form = archive["archive"]
    readable = isinstance(form, int) and 1 <= form <= NEWEST_FORM
    require(
        readable, "archive", _short(form), f"a form that this program reads: 1 to {NEWEST_FORM}"
    )


def _each(name: str, told: object, read: Callable[[Any], Thing]) -> list[Thing]:
    """Read each of a list, telling which one is wrong."""
    if not isinstance(told, list):
        raise InvalidValueError(name, type(told).__name__, "a list")
    things = []
    for number, one in enumerate(told):
        place = f"{name}[{number}]"
        try:
            things.append(read(one))
        except InvalidValueError as error:
            place = f"{place}.{error.field}"
            raise InvalidValueError(place, _short(error.found), error.allowed) from error
        except (AttributeError, KeyError, TypeError, ValueError) as error:
            raise InvalidValueError(place, _short(str(error)), AS_WRITTEN) from error
    return things


def _short(found: object) -> object:
    """What was found, or the beginning of a long text; Python writes no number of any length."""
    if isinstance(found, int) and found.bit_length() > LONGEST_BITS:
        return "a very large whole number"
    text = str(found)
    return found if len(text) <= LONGEST_FOUND else f"{text[:LONGEST_FOUND]}…"


def _version_form(version: Record) -> dict[str, Any]:
    return {
        "id": str(version.id),
        "kind": version.kind.value,
        "revision": version.revision,
        "saved_at": version.saved_at.isoformat(),
        "deleted": version.deleted,
        "name": version.name,
        "document": version.document,
        "links": sorted(str(link) for link in version.links),
    }


def _version(told: Any) -> Record:
    links = frozenset(UUID(link) for link in told["links"])
    require_shallow("document", told["document"])
    draft = Draft(UUID(told["id"]), Kind(told["kind"]), told["name"], told["document"], links)
    saved_at, revision = datetime.fromisoformat(told["saved_at"]), told["revision"]
    require(isinstance(draft.document, dict), "document", type(draft.document).__name__, "JSON")
    require(saved_at.tzinfo is not None, "saved_at", told["saved_at"], "a time with its zone")
    require(isinstance(told["deleted"], bool), "deleted", told["deleted"], "true or false")
    require(type(revision) is int and revision > 0, "revision", revision, "counted from 1")
    return Record(
        draft.id,
        draft.kind,
        draft.name,
        draft.document,
        links,
        revision,
        saved_at,
        told["deleted"],
    )
