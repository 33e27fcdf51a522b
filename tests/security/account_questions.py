"""Every question that the API takes, asked with ids of one's own, of somebody else, or of nobody.

`QUESTIONS` has one entry for each route; a route without one fails the test of it.
"""

from __future__ import annotations

import base64
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID, uuid5

from nextpair.domain.record import Kind

API = "/api/v1"
NOBODYS = UUID(int=0x4ACE)
"""Ids of nothing at all are made of this one."""
KINDS = ("event", "house", "visit", "job", "sheet", "entry", "ticket", "link", "account",
         "jotting", *(f"record:{kind.value}" for kind in Kind))  # fmt: skip
OWN, OTHERS, NO_ONES = "own", "others", "no one's"
WHOSE = (OWN, OTHERS, NO_ONES)


@dataclass(slots=True)
class Belongings:
    """Ids of what an account has, by kind, in the order in which it came; and its mark."""

    mark: str
    ids: dict[str, list[str]] = field(default_factory=lambda: {kind: [] for kind in KINDS})

    def add(self, kind: str, id: object) -> None:
        self.ids[kind].append(str(id))


@dataclass(frozen=True, slots=True)
class Asker:
    """Who asks, and with whose ids; `turn` picks which."""

    own: Belongings
    other: Belongings
    whose: str
    turn: int

    def id(self, kind: str, whose: str | None = None) -> str:
        """An id of a kind: of whom the question is about, or as told."""
        whose = whose or self.whose
        if whose != NO_ONES:
            known = (self.own if whose == OWN else self.other).ids[kind]
            if known:
                return known[self.turn % len(known)]
        return self.no_ones(kind)

    def no_ones(self, kind: str) -> str:
        digest = uuid5(NOBODYS, f"{kind} {self.turn}").hex
        return digest * 2 if kind in ("ticket", "link") else str(UUID(digest))

    @property
    def mark(self) -> str:
        return {OWN: self.own.mark, OTHERS: self.other.mark, NO_ONES: "nobody's"}[self.whose]

    @property
    def kind(self) -> str:
        return list(Kind)[self.turn % len(Kind)].value


Body = Callable[[Asker], Any]
Params = Callable[[Asker], Mapping[str, object]]


@dataclass(frozen=True, slots=True)
class Question:
    """How a route is asked. `computes` is one that takes the model to answer about one's own, or
    ends the session that asks."""

    body: Body | None = None
    params: Params | None = None
    computes: bool = False


PLAIN = Question()
TEXT = Question(lambda asker: {"text": f"{asker.mark},1,200"})


def _document(asker: Asker) -> dict[str, Any]:
    documents: dict[str, dict[str, Any]] = {
        "house": {"name": asker.own.mark, "lanes": 12},
        "kit": {"name": asker.own.mark, "items": [{"name": asker.own.mark, "count": 1}]},
        "bowler": {"name": asker.own.mark, "hand": "right"},
        "ball": {"name": asker.own.mark, "bowler": asker.id("record:bowler")},
        "squad": {"name": asker.own.mark, "rows": [{"pair": "1-2", "name": "Ada"}]},
        "event": {
            "name": asker.own.mark, "date": "2026-06-13", "games": 3, "bowler_name": "Ada",
            "pattern": asker.id("record:pattern"), "house": asker.id("house"),
            "bowler": asker.id("record:bowler"), "squad": asker.id("record:squad"),
        },
    }  # fmt: skip
    return documents.get(asker.kind, {"name": asker.own.mark})


def _jotting(asker: Asker) -> dict[str, Any]:
    supersedes = asker.id("jotting") if asker.turn % 3 == 0 else None
    id = asker.id("jotting") if asker.turn % 3 == 1 else str(uuid5(NOBODYS, f"new {asker}"))
    return {
        "id": id, "event": asker.id("event"), "device": "phone", "device_seq": asker.turn + 1,
        "kind": "note", "payload": {"about": "house", "text": asker.own.mark},
        "supersedes": None if supersedes == id else supersedes, "schema_version": 1,
        "client_time": "",
    }  # fmt: skip


def _archive(asker: Asker) -> dict[str, Any]:
    record = {
        "id": asker.id("house"), "kind": "house", "revision": 1, "deleted": False, "links": [],
        "saved_at": "2026-01-01T00:00:00+00:00", "name": asker.own.mark,
        "document": {"name": asker.own.mark, "lanes": 12},
    }  # fmt: skip
    return {"app": "nextpair", "archive": 1, "records": [record], "jottings": [_jotting(asker)]}


def _shot(asker: Asker) -> dict[str, Any]:
    return {"ball": asker.mark, "laydown_board": 24.5, "launch_angle_deg": 2.4}


def _visit(asker: Asker) -> dict[str, Any]:
    visit = {"date": "2026-01-01", "notes": asker.own.mark}
    return {"visit": visit | ({"id": asker.id("visit")} if asker.turn % 2 else {})}


def _entry(asker: Asker) -> dict[str, Any]:
    replaced = {"replaces": asker.id("entry")} if asker.turn % 2 else {}
    return {"prompt": "free", "text": asker.own.mark} | replaced


PICTURE = {"width": 16, "height": 16, "grey": base64.b64encode(bytes(256)).decode()}
QUESTIONS: dict[tuple[str, str], Question] = {
    ("GET", "/archive"): PLAIN,
    ("POST", "/archive"): Question(_archive),
    ("GET", "/backup"): PLAIN,
    ("POST", "/balls/paste"): TEXT,
    ("POST", "/codes"): Question(lambda _: PICTURE),
    ("GET", "/conditions"): Question(computes=True),
    ("GET", "/demo/season"): PLAIN,
    ("GET", "/events/{id}/debrief"): PLAIN,
    ("GET", "/events/{id}/diary"): PLAIN,
    ("POST", "/events/{id}/diary"): Question(_entry),
    ("DELETE", "/events/{id}/diary/{entry}"): PLAIN,
    ("GET", "/events/{id}/files"): Question(params=lambda _: {"private": True}),
    ("GET", "/events/{id}/folder.zip"): PLAIN,
    ("POST", "/events/{id}/games"): Question(lambda a: {"name": a.mark, "game": 1, "balls": "X"}),
    ("POST", "/events/{id}/games/check"): Question(lambda _: {"game": 1, "balls": "X"}),
    ("POST", "/events/{id}/guest-links"): Question(lambda _: {"days": 3}),
    ("POST", "/events/{id}/jobs"): Question(lambda _: {"kind": "sheet"}),
    ("GET", "/events/{id}/lessons"): PLAIN,
    ("POST", "/events/{id}/lessons"): Question(lambda _: {"key": "moves", "accepted": True}),
    ("POST", "/events/{id}/lessons/rest"): Question(lambda _: {"key": "moves"}),
    ("GET", "/events/{id}/log"): Question(params=lambda asker: {"after": asker.turn % 3}),
    ("GET", "/events/{id}/money"): PLAIN,
    ("GET", "/events/{id}/packing"): Question(params=lambda asker: {"kit": asker.mark}),
    ("POST", "/events/{id}/packing/missing"): Question(lambda asker: {"item": asker.own.mark}),
    ("GET", "/events/{id}/pocket"): Question(params=lambda asker: {"kit": asker.mark}),
    ("GET", "/events/{id}/read"): PLAIN,
    ("GET", "/events/{id}/recap"): Question(params=lambda _: {"money": True}),
    ("GET", "/events/{id}/recap.html"): PLAIN,
    ("GET", "/events/{id}/recap.md"): PLAIN,
    ("GET", "/events/{id}/recap.png"): Question(computes=True),
    ("GET", "/events/{id}/scores"): PLAIN,
    ("POST", "/events/{id}/scores"): TEXT,
    ("GET", "/events/{id}/sheet"): PLAIN,
    ("POST", "/events/{id}/shots"): Question(lambda _: {"text": "id\n"}),
    ("GET", "/events/{id}/shots.csv"): PLAIN,
    ("POST", "/events/{id}/spare"): Question(lambda _: {"leave": "3-10"}, computes=True),
    ("GET", "/events/{id}/spares"): PLAIN,
    ("GET", "/events/{id}/standing"): Question(computes=True),
    ("GET", "/events/{id}/statistics"): PLAIN,
    ("GET", "/events/{id}/summary"): PLAIN,
    ("POST", "/events/{id}/try"): Question(_shot, lambda _: {"moves": True}, computes=True),
    ("GET", "/events/{id}/visit"): PLAIN,
    ("GET", "/guest-links"): PLAIN,
    ("DELETE", "/guest-links/{digest}"): PLAIN,
    ("GET", "/houses"): Question(params=lambda asker: {"text": asker.mark}),
    ("POST", "/houses/shared"): Question(lambda a: {"text": f'[house]\nname = "{a.own.mark}"\n'}),
    ("GET", "/houses/{id}/book"): PLAIN,
    ("POST", "/houses/{id}/friction"): Question(lambda _: {"revision": 1}),
    ("GET", "/houses/{id}/shared"): PLAIN,
    ("POST", "/houses/{id}/visits"): Question(_visit),
    ("PUT", "/houses/{id}/visits/{visit_id}"): Question(_visit),
    ("DELETE", "/houses/{id}/visits/{visit_id}"): PLAIN,
    ("POST", "/import"): Question(lambda asker: {"files": {"event.toml": asker.mark}}),
    ("GET", "/jobs"): Question(params=lambda asker: {"active": asker.turn % 2 == 0}),
    ("GET", "/jobs/{id}"): PLAIN,
    ("DELETE", "/jobs/{id}"): PLAIN,
    ("GET", "/jobs/{id}/progress"): PLAIN,
    ("GET", "/ledger"): PLAIN,
    ("GET", "/library"): Question(computes=True),
    ("POST", "/links"): Question(lambda _: {}),
    ("POST", "/patterns/film"): Question(lambda a: {"name": f"library: {a.mark}"}, computes=True),
    ("GET", "/records/{kind}"): Question(params=lambda asker: {"deleted": asker.turn % 2 == 0}),
    ("POST", "/records/{kind}"): Question(lambda asker: {"document": _document(asker)}),
    ("POST", "/records/{kind}/check"): Question(lambda asker: {"document": _document(asker)}),
    ("GET", "/records/{kind}/{id}"): PLAIN,
    ("PUT", "/records/{kind}/{id}"): Question(lambda a: {"document": _document(a), "revision": 1}),
    ("DELETE", "/records/{kind}/{id}"): PLAIN,
    ("POST", "/records/{kind}/{id}/restore"): PLAIN,
    ("GET", "/records/{kind}/{id}/revisions"): PLAIN,
    ("POST", "/scores/paste"): TEXT,
    ("GET", "/season"): PLAIN,
    ("GET", "/season.ics"): PLAIN,
    ("GET", "/shared"): Question(params=lambda asker: {"search": asker.mark}),
    ("GET", "/shared/{owner}/events"): PLAIN,
    ("GET", "/shared/{owner}/events/{id}"): PLAIN,
    ("GET", "/shared/{owner}/events/{id}/debrief"): PLAIN,
    ("GET", "/shared/{owner}/events/{id}/folder.zip"): PLAIN,
    ("GET", "/shared/{owner}/events/{id}/scores"): PLAIN,
    ("GET", "/shared/{owner}/events/{id}/sheet"): PLAIN,
    ("GET", "/shared/{owner}/events/{id}/sheet.html"): PLAIN,
    ("GET", "/shared/{owner}/events/{id}/sheet.pdf"): PLAIN,
    ("GET", "/shared/{owner}/events/{id}/shots.csv"): PLAIN,
    ("GET", "/shared/{owner}/events/{id}/standing"): PLAIN,
    ("GET", "/shared/{owner}/events/{id}/statistics"): PLAIN,
    ("GET", "/shares"): PLAIN,
    ("DELETE", "/shares/{reader}"): Question(params=lambda asker: {"event": asker.id("event")}),
    ("GET", "/sheets/{id}.html"): PLAIN,
    ("GET", "/sheets/{id}.pdf"): Question(computes=True),
    ("GET", "/similar"): Question(params=lambda asker: {"pattern": asker.mark}, computes=True),
    ("POST", "/squads/paste"): TEXT,
    ("GET", "/status"): PLAIN,
    ("POST", "/sync"): Question(lambda asker: {"jottings": [_jotting(asker)]}),
    ("GET", "/tickets"): PLAIN,
    ("DELETE", "/tickets/{digest}"): Question(computes=True),
}
"""All but those of `ON_PURPOSE`."""
ON_PURPOSE = {
    ("POST", "/sign-in"): "tries are counted by address",
    ("POST", "/sign-out"): "ends the session that asks",
    ("PUT", "/password"): "ends the session that asks",
    ("POST", "/shares"): "tells whether there is an account of a name, to share with",
    ("POST", "/demo"): "as /import",
    ("POST", "/demo/season"): "as /import, for half a minute",
    ("DELETE", "/demo/season"): "undoes it",
}
"""Routes about which two accounts may differ, or that say nothing more, and why."""


def address_of(path: str, asker: Asker) -> str:
    """A route's path with its ids. Raises KeyError where a place in it is of no known kind."""
    first = path.split("/")[1]
    thing = {"events": "event", "houses": "house", "jobs": "job", "sheets": "sheet",
             "shared": "event", "records": f"record:{asker.kind}"}  # fmt: skip
    places = {
        "kind": lambda: asker.kind,
        "id": lambda: asker.id(thing[first]),
        "visit_id": lambda: asker.id("visit"),
        "entry": lambda: asker.id("entry"),
        "digest": lambda: asker.id("ticket" if first == "tickets" else "link"),
        "owner": lambda: asker.id("account"),
        "reader": lambda: asker.id("account"),
    }
    for name, found in places.items():
        if f"{{{name}}}" in path:
            path = path.replace(f"{{{name}}}", found())
    if "{" in path:
        raise KeyError(path)
    return API + path
