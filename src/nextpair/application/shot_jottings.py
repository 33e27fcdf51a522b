"""Shots as they are written down at the lanes, for the reading; and shots of a file, written down.

A payload has the columns of shots.csv but `id` and `time`: pins are lists of numbers, null where
nobody looked, and `foul` is true for a foul. A shot's id is that of the jotting it began as, so it
stays when it is corrected.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, fields
from datetime import datetime
from typing import Any
from uuid import UUID

from nextpair.application.journal import standing
from nextpair.application.store import Store
from nextpair.domain.errors import InvalidValueError, Problem
from nextpair.domain.jotting import Answer, Jotting, JottingKind, Kept, Receipt
from nextpair.domain.shot_log import LoggedShot

FILE_DEVICE = "file"
LOG = "log"
"""What a log is called where a problem in it is told."""
PINS = ("standing_before", "standing_after")
NEEDED = ("game", "frame", "delivery", "lane", "ball")
TEXTS = ("ball", "note")
NUMBERS = (
    "laydown_board", "target_board", "meant_laydown_board", "meant_target_board", "speed_mph",
    "breakpoint_board", "entry_board",
)  # fmt: skip
LARGEST_NUMBER = 1e6
NOT_ON_A_LINE = frozenset({"Cc", "Cs", "Zl", "Zp"})
LONGEST_TEXT = 200
"""Of a ball's name and a note in shots.csv."""
PAYLOAD = tuple(one.name for one in fields(LoggedShot) if one.name not in ("id", "time"))


@dataclass(frozen=True, slots=True)
class NotedShot:
    """A shot of a log, and whether it was a foul: then its pins do not count."""

    shot: LoggedShot
    foul: bool

    @property
    def place(self) -> tuple[int, int, int]:
        """Game, frame and delivery."""
        return self.shot.game, self.shot.frame, self.shot.delivery


def noted_shots(log: Iterable[Kept]) -> tuple[tuple[NotedShot, ...], tuple[Problem, ...]]:
    """The shots of a log that stand, in the order in which they were thrown, and what is wrong
    with it: a shot that cannot be one, and two in one place. Of those none is dropped."""
    shots, problems = [], []
    for root, jotting in standing(log):
        if jotting.kind is not JottingKind.SHOT:
            continue
        try:
            shots.append(_noted(root, jotting))
        except InvalidValueError as wrong:
            found = str(wrong.found)[:60]
            problems.append(Problem(LOG, f"shot {root}: {wrong.field}", found, wrong.allowed))
    shots.sort(key=lambda noted: noted.place)
    return tuple(shots), (*problems, *_in_one_place(shots))


def logged_shots(log: Iterable[Kept]) -> tuple[LoggedShot, ...]:
    """The shots of a log that stand, as the reading takes them."""
    return tuple(noted.shot for noted in noted_shots(log)[0])


def shot_of(id: UUID, time: str, payload: Mapping[str, Any]) -> LoggedShot:
    """The shot of a payload. Raises InvalidValueError."""
    told = {key: value for key, value in payload.items() if value is not None and key != "foul"}
    unknown = sorted(set(told) - set(PAYLOAD))
    if unknown:
        raise InvalidValueError(unknown[0], "an unknown key", f"the keys {', '.join(PAYLOAD)}")
    for key in NEEDED:
        if key not in told:
            raise InvalidValueError(key, "nothing", "a value: it is needed")
    return LoggedShot(id=id, time=time, **{key: _read(key, told[key]) for key in told})


def payload_of(shot: LoggedShot) -> dict[str, Any]:
    """What is written down of a shot; what was not seen is left out."""
    told = {key: getattr(shot, key) for key in PAYLOAD}
    payload = {key: value for key, value in told.items() if value not in (None, "")}
    return payload | {key: _listed(told[key]) for key in PINS}


def take_in_shots(
    store: Store, account: UUID, event: UUID, shots: Sequence[LoggedShot]
) -> tuple[Receipt, ...]:
    """Add the shots of a file to an event's log, each once; one answer each, in order. A shot that
    stands there, the same, is there already, whatever wrote it down."""
    log = store.log(account, event)
    seq_of = {kept.jotting.id: kept.seq for kept in log}
    here = {shot.id: payload_of(shot) for shot in logged_shots(log)}
    new = [shot for shot in shots if here.get(shot.id) != payload_of(shot)]
    answers = iter(store.append(account, [_jotting(event, shot) for shot in new]))
    return tuple(
        Receipt(shot.id, Answer.DUPLICATE, seq_of.get(shot.id))
        if here.get(shot.id) == payload_of(shot)
        else next(answers)
        for shot in shots
    )


def _jotting(event: UUID, shot: LoggedShot) -> Jotting:
    """The number of a shot of a file is 1: a file has no counter, and its rows may move."""
    return Jotting(
        id=shot.id,
        event=event,
        device=FILE_DEVICE,
        device_seq=1,
        kind=JottingKind.SHOT,
        payload=payload_of(shot),
        client_time=shot.time,
    )


def _noted(root: UUID, jotting: Jotting) -> NotedShot:
    foul = jotting.payload.get("foul")
    if not isinstance(foul, bool | None):
        raise InvalidValueError("foul", foul, "true or false")
    return NotedShot(shot_of(root, _moment(jotting.client_time), jotting.payload), bool(foul))


def _moment(time: str) -> str:
    """A device's time, if it is one."""
    with suppress(ValueError):
        datetime.fromisoformat(time)
        return time
    return ""


def _in_one_place(shots: Sequence[NotedShot]) -> Iterator[Problem]:
    first: dict[tuple[int, int, int], NotedShot] = {}
    for noted in shots:
        other = first.setdefault(noted.place, noted)
        if other is not noted:
            game, frame, delivery = noted.place
            place = f"game {game}, frame {frame}, delivery {delivery}"
            found = f"two shots, {other.shot.id} and {noted.shot.id}"
            yield Problem(LOG, place, found, "one: take one of them back, or correct it")


def _read(key: str, value: Any) -> Any:
    if key in PINS:
        return _pins(key, value)
    if key in TEXTS:
        return _one_line(_kind(key, value, isinstance(value, str), "a text"))
    if key == "surface_grit" and isinstance(value, str):
        return _kind(key, value, value == "polished", "a grit number, or polished")
    number = float(_kind(key, value, _is_number(value), "a number"))
    if key in NUMBERS:
        return number
    return int(_kind(key, number, number.is_integer(), "a whole number"))


def _is_number(value: Any) -> bool:
    is_one = isinstance(value, int | float) and not isinstance(value, bool)
    return is_one and abs(value) <= LARGEST_NUMBER


def _one_line(text: str) -> str:
    """A text as a row of a file holds it."""
    told = (" " if unicodedata.category(one) in NOT_ON_A_LINE else one for one in text)
    return "".join(told).strip()[:LONGEST_TEXT].strip()


def _pins(key: str, value: Any) -> frozenset[int]:
    pins: Sequence[Any] = value if isinstance(value, list | tuple) else [None]
    known = all(_is_number(pin) and float(pin).is_integer() for pin in pins)
    _kind(key, value, known and len(set(pins)) == len(pins), "a list of pins, each once")
    return frozenset(int(pin) for pin in pins)


def _kind(key: str, value: Any, allowed: bool, words: str) -> Any:
    if not allowed:
        raise InvalidValueError(key, value, words)
    return value


def _listed(pins: frozenset[int] | None) -> list[int] | None:
    return None if pins is None else sorted(pins)
