"""Outings and stores with events, for tests of the pattern book and the chart of conditions."""

from __future__ import annotations

from datetime import date
from uuid import UUID, uuid4

from event_folder import DEMO
from nextpair.application.events import take_in_event
from nextpair.application.intervals import share_of
from nextpair.application.store import Account
from nextpair.domain.bowler import Hand
from nextpair.domain.house import LaneSurface
from nextpair.domain.outing import BallThrown, LinePlayed, Outing
from nextpair.files import FilePapers
from nextpair.store.memory import MemoryStore

FILES = {path.name: path.read_text("utf-8") for path in DEMO.iterdir() if path.is_file()}
OWNER, OTHER = "Maren Tolvane", "Osk Verrill"
PAPERS = FilePapers()


def empty_store() -> tuple[MemoryStore, UUID]:
    """A store in memory, and the account of whoever uses the program at home."""
    store, account = MemoryStore(), Account(uuid4(), "home", None)
    store.add_account(account)
    return store, account.id


def keep_demo(store: MemoryStore, account: UUID, **changes: str) -> UUID:
    """Keep the bundled event, with keys of event.toml said otherwise; its id."""
    files = dict(FILES)
    for key, value in changes.items():
        lines = files["event.toml"].splitlines()
        place = next(n for n, line in enumerate(lines) if line.startswith(f"{key} ="))
        lines[place] = f"{key} = {value}"
        files["event.toml"] = "\n".join(lines) + "\n"
    return take_in_event(store, PAPERS, account, files).id


def outing(**facts: object) -> Outing:
    """An outing of six games on a medium, middling pattern."""
    told: dict[str, object] = {
        "event": "an event",
        "event_id": None,
        "date": date(2026, 5, 2),
        "bowler": OWNER,
        "hand": Hand.RIGHT,
        "is_own": True,
        "house": "a house",
        "surface": LaneSurface.SYNTHETIC,
        "patterns": ("library: Lee Shore 39",),
        "length_ft": 39.0,
        "volume_ml": 24.0,
        "games": 6,
        "mean_pins": 200.0,
        "field_pins": None,
        "others": 0,
    }
    return Outing(**(told | facts))  # type: ignore[arg-type]


def line(struck: int, racks: int, ball: str = "Kestrel", boards: tuple[float, float] = (24, 17)):
    """A line that was played."""
    return LinePlayed(ball, *boards, share_of(struck, racks))


def thrown(struck: int, racks: int, ball: str = "Kestrel"):
    """A ball that was thrown."""
    return BallThrown(ball, share_of(struck, racks))
