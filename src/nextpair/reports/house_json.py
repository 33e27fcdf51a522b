"""Houses and their books as JSON; docs/guide/json.md lists every field."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from nextpair.application.house_book import BookPage, HouseBook
from nextpair.application.house_search import HouseCard
from nextpair.application.house_sharing import TakenIn
from nextpair.application.visit_jottings import payload_of
from nextpair.domain.house_book import LearnedFriction, Visit

FACTOR_DECIMALS, INTERVAL_DECIMALS = 3, 4


def houses_document(cards: Sequence[HouseCard]) -> dict[str, Any]:
    """Houses at a glance."""
    return {"houses": [_card(card) for card in cards]}


def book_document(book: HouseBook) -> dict[str, Any]:
    """The book of a house."""
    return {
        "id": str(book.record.id),
        "revision": book.record.revision,
        "house": dict(book.record.document),
        "visits": [_page(page) for page in book.pages],
        "patterns": [asdict(met) for met in book.patterns],
        "friction": {
            "house": _friction(book.friction.house),
            "lanes": [_friction(lane) for lane in book.friction.lanes],
        },
        "lessons": [
            {"words": one.words, "event": one.event, "date": one.date.isoformat()}
            for one in book.lessons
        ],
    }


def visit_document(visit: Visit) -> dict[str, Any]:
    """A visit, as it is written down, with its id."""
    return {"id": str(visit.id), **payload_of(visit)}


def taken_document(taken: TakenIn) -> dict[str, Any]:
    """What became of a shared house."""
    return {
        "id": str(taken.record.id),
        "name": taken.record.name,
        "is_new": taken.is_new,
        "new_visits": taken.new_visits,
        "newer_visits": taken.newer_visits,
    }


def render_json(document: dict[str, Any]) -> str:
    """One JSON document."""
    return json.dumps(document, ensure_ascii=False, allow_nan=False) + "\n"


def _card(card: HouseCard) -> dict[str, Any]:
    house = card.house
    return {
        "id": str(card.id),
        "name": house.name,
        "lanes": house.lanes,
        "surface": house.surface.value,
        "surface_age_years": house.surface_age_years,
        "approach": house.approach.value,
        "pinfall": house.pinfall.value,
        "lane_machine": house.lane_machine,
        "friction": house.friction,
        "visits": card.visits,
        "last_visit": card.last_visit and card.last_visit.isoformat(),
        "patterns": [asdict(met) for met in card.patterns],
        "found": list(card.found),
    }


def _page(page: BookPage) -> dict[str, Any]:
    earlier = [visit_document(visit) for visit in page.earlier]
    return {**visit_document(page.visit), "earlier": earlier}


def _friction(learned: LearnedFriction) -> dict[str, Any]:
    return {
        "lane": learned.lane,
        "stands": learned.stands,
        "factor": round(learned.factor, FACTOR_DECIMALS),
        "interval_80": _interval(learned.low, learned.high),
        "visits": [
            {
                "date": said.date.isoformat(),
                "event": said.event,
                "factor": round(said.factor, FACTOR_DECIMALS),
                "interval_80": _interval(said.low, said.high),
            }
            for said in learned.said
        ],
    }


def _interval(low: float, high: float) -> list[float]:
    return [round(low, INTERVAL_DECIMALS), round(high, INTERVAL_DECIMALS)]
