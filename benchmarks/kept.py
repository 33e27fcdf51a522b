"""What it takes to put a season of shots back, and to copy it once a day."""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from datetime import date, timedelta
from itertools import count
from pathlib import Path
from uuid import UUID

import numpy as np

from contracts.things import draft, shot
from nextpair.application.accounts import home_account
from nextpair.domain.record import Kind
from nextpair.store.backup import back_up, restore
from nextpair.store.copies import damage
from nextpair.store.daily import keep_daily
from nextpair.store.opening import open_store

SEASON_SHOTS = 20_000
"""A season: 40 events, 500 shots each."""
SHOTS_AN_EVENT = 500
FIRST_DAY = date(2026, 1, 1)
PAYLOAD = {
    "game": 3, "frame": 7, "delivery": 1, "lane": 14, "ball": "Kestrel", "laydown_board": 24.5,
    "target_board": 17.2, "speed_mph": 17.6, "breakpoint_board": 9.1, "entry_board": 17.4,
    "standing_before": list(range(1, 11)), "standing_after": [10], "note": "a little high",
}  # fmt: skip


def keeping_costs(shots: int, runs: int) -> dict[str, float]:
    """Seconds on the wall, medians: to restore a season's store, to copy it as each day's first
    opening does, to look at a day that has its copy, and to check every page; and its size."""
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder) / "season" / "nextpair.sqlite3"
        _fill(place, shots)
        backup = Path(folder) / "backup.sqlite3"
        back_up(place, backup)
        days = count()

        def copy_one_day() -> None:
            keep_daily(place, FIRST_DAY + timedelta(days=next(days)))

        def look_again() -> None:
            keep_daily(place, FIRST_DAY + timedelta(days=runs))

        return {
            "restore.s": _wall_s(lambda: restore(backup, place), runs),
            "backup.daily_s": _wall_s(copy_one_day, runs),
            "seen.backup_not_due_ms": 1000 * _wall_s(look_again, runs),
            "seen.store_check_s": _wall_s(lambda: damage(place), runs),
            "seen.store_mb": place.stat().st_size / 1e6,
        }


def _fill(place: Path, shots: int) -> None:
    with closing(open_store(place)) as store:
        me = home_account(store).id
        for first in range(0, shots, SHOTS_AN_EVENT):
            event = draft(Kind.EVENT, f"Event {first // SHOTS_AN_EVENT + 1}")
            store.save(me, event, None)
            _log(lambda some: store.append(me, some), event.id, min(SHOTS_AN_EVENT, shots - first))


def _log(append: Callable[[list], object], event: UUID, shots: int) -> None:
    append([shot(event, number, payload=PAYLOAD) for number in range(1, shots + 1)])


def _wall_s(work: Callable[[], object], runs: int) -> float:
    """The median of `runs` after one that does not count."""
    took_s = []
    for _ in range(runs + 1):
        start_s = time.perf_counter()
        work()
        took_s.append(time.perf_counter() - start_s)
    return float(np.median(took_s[1:]))
