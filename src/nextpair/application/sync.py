"""A phone's log taken in, and an event's log given out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any
from uuid import UUID

from nextpair.application.nesting import require_shallow
from nextpair.application.store import Store
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.jotting import NEWEST_SCHEMA, Answer, Jotting, JottingKind, Kept, Receipt

MOST_AT_ONCE = 500
KEYS = frozenset(
    {
        "id", "event", "device", "device_seq", "kind", "payload", "supersedes", "schema_version",
        "client_time",
    }
)  # fmt: skip


def take_in(store: Store, account: UUID, sent: Sequence[Any]) -> tuple[Receipt, ...]:
    """Add what a device sent, each once; one answer each, in order. What is no jotting is refused
    by itself, and the others are stored."""
    read = [_read(one) for one in sent]
    stored = iter(store.append(account, [one for one in read if isinstance(one, Jotting)]))
    return tuple(next(stored) if isinstance(one, Jotting) else one for one in read)


def jotting_of(sent: Mapping[str, Any]) -> Jotting:
    """A jotting in the form in which it is sent. Raises InvalidValueError."""
    unknown = sorted(str(key) for key in set(sent) - KEYS)
    if unknown:
        raise InvalidValueError("jotting", ", ".join(unknown)[:80], f"the keys {_KNOWN}")
    payload = sent.get("payload")
    if not isinstance(payload, Mapping):
        raise InvalidValueError("payload", _kind(payload), "an object")
    require_shallow("payload", payload)
    supersedes = sent.get("supersedes")
    return Jotting(
        id=_id(sent, "id"),
        event=_id(sent, "event"),
        device=_text(sent, "device"),
        device_seq=_whole(sent, "device_seq"),
        kind=_jotting_kind(sent),
        payload=payload,
        supersedes=None if supersedes is None else _id(sent, "supersedes"),
        schema_version=_whole({"schema_version": NEWEST_SCHEMA, **sent}, "schema_version"),
        client_time=_text({"client_time": "", **sent}, "client_time"),
    )


def sent_form(jotting: Jotting) -> dict[str, Any]:
    """A jotting as it is sent."""
    return {
        "id": str(jotting.id),
        "event": str(jotting.event),
        "device": jotting.device,
        "device_seq": jotting.device_seq,
        "kind": jotting.kind.value,
        "payload": dict(jotting.payload),
        "supersedes": None if jotting.supersedes is None else str(jotting.supersedes),
        "schema_version": jotting.schema_version,
        "client_time": jotting.client_time,
    }


def log_after(
    store: Store, account: UUID, event: UUID, after: int, most: int = MOST_AT_ONCE
) -> tuple[Kept, ...]:
    """What was added to an event's log since, so many at once."""
    return store.log(account, event, after, most)


_KNOWN = ", ".join(sorted(KEYS))


def _read(one: Any) -> Jotting | Receipt:
    try:
        if not isinstance(one, Mapping):
            raise InvalidValueError("jotting", _kind(one), "an object")
        return jotting_of(one)
    except InvalidValueError as refused:
        return Receipt(_id_if_any(one), Answer.REFUSED, why=str(refused))


def _id_if_any(one: Any) -> UUID:
    """The id under which a refusal is answered; of what has none, that of nothing."""
    try:
        return _id(one, "id")
    except (InvalidValueError, AttributeError):
        return UUID(int=0)


def _id(sent: Mapping[str, Any], key: str) -> UUID:
    value = sent.get(key)
    try:
        if isinstance(value, str):
            return UUID(value)
    except ValueError:
        pass
    raise InvalidValueError(key, _kind(value), "a UUID")


def _text(sent: Mapping[str, Any], key: str) -> str:
    value = sent.get(key)
    if not isinstance(value, str):
        raise InvalidValueError(key, _kind(value), "a text")
    return value


def _whole(sent: Mapping[str, Any], key: str) -> int:
    value = sent.get(key)
    if isinstance(value, float) and value.is_integer():
        value = int(value)
    if not isinstance(value, int) or isinstance(value, bool):
        raise InvalidValueError(key, _kind(value), "a whole number")
    return value


def _jotting_kind(sent: Mapping[str, Any]) -> JottingKind:
    try:
        return JottingKind(str(sent.get("kind")))
    except ValueError:
        allowed = ", ".join(kind.value for kind in JottingKind)
        raise InvalidValueError("kind", _kind(sent.get("kind")), allowed) from None


def _kind(value: Any) -> str:
    return "nothing" if value is None else type(value).__name__
