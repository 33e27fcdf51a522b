"""What an account lets somebody else read: another account, or whoever has a link."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import UUID

from nextpair.domain.errors import require

NIL = UUID(int=0)
"""The id that is none ([rfc-9562], 5.9): no event has it, and a table means all of them by it."""
SHORTEST_LINK, LONGEST_LINK = timedelta(days=1), timedelta(days=30)


@dataclass(frozen=True, slots=True)
class Share:
    """That `reader` may read what `owner` keeps of one event, or of all of them where `event` is
    None: those to come too."""

    owner: UUID
    reader: UUID
    event: UUID | None
    since: datetime

    def __post_init__(self) -> None:
        require(self.reader != self.owner, "reader", "yourself", "somebody else")
        require(self.event != NIL, "event", str(self.event), "the id of an event")

    def covers(self, event: UUID) -> bool:
        """Whether it lets an event of the owner be read."""
        return self.event is None or self.event == event


@dataclass(frozen=True, slots=True)
class GuestLink:
    """That whoever knows a secret may read the sheet of one event, until the link expires. Of the
    secret only the SHA-256 is kept."""

    digest: str
    owner: UUID
    event: UUID
    made_at: datetime
    expires_at: datetime

    def __post_init__(self) -> None:
        lasts = self.expires_at - self.made_at
        allowed = f"{SHORTEST_LINK.days} to {LONGEST_LINK.days} days"
        require(SHORTEST_LINK <= lasts <= LONGEST_LINK, "days", lasts.days, allowed)
