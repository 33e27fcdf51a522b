"""What is read of another's: the one door through which every such route goes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Annotated
from uuid import UUID

from fastapi import Depends

from nextpair.application.at_hand import AtHand
from nextpair.application.sharing import as_shared, readable
from nextpair.application.store import Account
from nextpair.domain.event import Event
from nextpair.web.home import Home
from nextpair.web.visitor import Here, Visitor


@dataclass(frozen=True, slots=True)
class SharedEvent:
    """An event that the visitor may read, its documents without what is private."""

    home: Home
    owner: Account
    at_hand: AtHand

    @property
    def id(self) -> UUID:
        """Of the event."""
        return self.at_hand.record.id

    @property
    def event(self) -> Event:
        """The event without what is private. Raises InputRefusedError with every problem of
        what may be read."""
        return self.home.events.event(self.owner.id, self.at_hand)


def shared_event(owner: UUID, id: UUID, home: Here, account: Visitor) -> SharedEvent:
    """The event of an owner, for whoever may read it. Raises NotKeptError."""
    found = readable(home.store, account.id, owner, id)
    at_hand = home.events.at_hand(owner, id)
    return SharedEvent(home, found.owner, replace(at_hand, bundle=as_shared(at_hand.bundle)))


Shared = Annotated[SharedEvent, Depends(shared_event)]
