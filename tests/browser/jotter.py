"""A device that keeps a log by the sync rule, in plain Python: what the phone's page must do, with
nothing of the page in it.
"""

from __future__ import annotations

import http.client
import json
import random
import time
from collections.abc import Iterator
from typing import Any
from urllib.parse import urlsplit
from uuid import UUID

MOST_IN_A_BATCH = 500
SENT = frozenset({"stored", "duplicate"})
Jotting = dict[str, Any]


def uuid7(now_s: float, chance: random.Random) -> UUID:
    """A UUID of version 7 as RFC 9562 has it: 48 bits of Unix time in ms, the rest random."""
    now_ms = int(now_s * 1000) & (2**48 - 1)
    bits = (now_ms << 80) | (0x7 << 76) | (chance.getrandbits(12) << 64)
    return UUID(int=bits | (0b10 << 62) | chance.getrandbits(62))


def shots(game: int) -> Iterator[dict[str, Any]]:
    """Payloads of a game without a strike: two shots a frame, ten frames, over and over."""
    standing = [7, 10]
    while True:
        for frame in range(1, 11):
            for delivery in (1, 2):
                yield {
                    "game": game,
                    "frame": frame,
                    "delivery": delivery,
                    "lane": 13 + (frame + 1) % 2,
                    "ball": "Slate Weir",
                    "standing_before": list(range(1, 11)) if delivery == 1 else standing,
                    "standing_after": standing if delivery == 1 else [],
                }
        game += 1


class Jotter:
    """Writes jottings down and sends them until each is named by a good answer."""

    def __init__(
        self, url: str, event: UUID, seed: int, patience_s: float = 1.0, cookie: str = ""
    ) -> None:
        parts = urlsplit(url)
        self.host, self.port = parts.hostname or "", parts.port or 80
        self.headers = {"Content-Type": "application/json"}
        if cookie:
            self.headers["Cookie"] = cookie
        self.event = event
        self.patience_s = patience_s
        self.ahead_s = 0.0
        """How far its clock is off."""
        self.jottings: list[Jotting] = []
        self.sent: set[str] = set()
        self.trouble: dict[str, str] = {}
        """Answers that were neither stored nor duplicate, by id."""
        self.failed_sends = 0
        self._chance = random.Random(seed)
        self._device = f"test-{seed}"

    def jot(self, payload: dict[str, Any], supersedes: str | None = None) -> Jotting:
        """Write something down."""
        now_s = time.time() + self.ahead_s
        jotting = {
            "id": str(uuid7(now_s, self._chance)),
            "event": str(self.event),
            "device": self._device,
            "device_seq": len(self.jottings) + 1,
            "kind": "shot" if payload else "void",
            "payload": payload,
            "supersedes": supersedes,
            "schema_version": 1,
            "client_time": time.strftime("%Y-%m-%dT%H:%M:%SZ", time.gmtime(now_s)),
        }
        self.jottings.append(jotting)
        return jotting

    @property
    def unsent(self) -> list[Jotting]:
        """What no good answer has named yet."""
        return [one for one in self.jottings if one["id"] not in self.sent]

    def send(self, most: int = MOST_IN_A_BATCH) -> bool:
        """Send one batch of what is unsent; whether a good answer came."""
        batch = [one for one in self.unsent if one["id"] not in self.trouble][:most]
        receipts = self.post(batch)
        if receipts is None:
            self.failed_sends += 1
            return False
        for receipt in receipts:
            if receipt["answer"] in SENT:
                self.sent.add(receipt["id"])
            else:
                self.trouble[receipt["id"]] = receipt["answer"]
        return True

    def send_all(self, most: int = MOST_IN_A_BATCH, within_s: float = 60.0) -> None:
        """Send until nothing is left, so many at a time. Raises TimeoutError."""
        ends_s = time.monotonic() + within_s
        while len(self.unsent) > len(self.trouble):
            if time.monotonic() > ends_s:
                raise TimeoutError(f"{len(self.unsent)} jottings were not taken in {within_s} s")
            if not self.send(most):
                time.sleep(0.05)

    def post(self, batch: list[Jotting]) -> list[dict[str, Any]] | None:
        """The receipts of a batch, or None: only an answer that is 200, JSON and ours counts."""
        connection = http.client.HTTPConnection(self.host, self.port, timeout=self.patience_s)
        try:
            connection.request(
                "POST", "/api/v1/sync", json.dumps({"jottings": batch}), self.headers
            )
            answer = connection.getresponse()
            is_json = "application/json" in answer.getheader("Content-Type", "")
            told = json.loads(answer.read()) if answer.status == 200 and is_json else {}
        except (OSError, http.client.HTTPException, ValueError):
            return None
        finally:
            connection.close()
        return told["receipts"] if told.get("app") == "nextpair" else None
