"""What the program at home writes into a log by itself."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from uuid import UUID, uuid4

from nextpair.application.clock import now_utc
from nextpair.application.store import Store
from nextpair.domain.errors import require
from nextpair.domain.jotting import Answer, Jotting, JottingKind

HOME_DEVICE = "home"


def jot(
    store: Store,
    account: UUID,
    event: UUID,
    kind: JottingKind,
    payload: Mapping[str, Any],
    supersedes: UUID | None = None,
    id: UUID | None = None,
) -> Jotting:
    """Add one jotting to a log, under an id of its own unless one is given. Raises
    InvalidValueError where another jotting has that id."""
    log = store.log(account, event)
    written = (kept.jotting.device_seq for kept in log if kept.jotting.device == HOME_DEVICE)
    jotting = Jotting(
        id=id or uuid4(),
        event=event,
        device=HOME_DEVICE,
        device_seq=max(written, default=0) + 1,
        kind=kind,
        payload=payload,
        supersedes=supersedes,
        client_time=now_utc().isoformat(timespec="seconds"),
    )
    [receipt] = store.append(account, [jotting])
    require(receipt.answer is Answer.STORED, "id", str(jotting.id), "an id that nothing has yet")
    return jotting
