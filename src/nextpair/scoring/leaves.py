"""Leaves: which pins stand after a ball, as a bit mask, and what the rule book calls them.

Pin 1 is bit 0 and pin 10 is bit 9, so a leave is a whole number from 0 (nothing stands) to 1023
(the full rack).

Sources: [facts] section 7: the split rule with its examples 7-9, 3-10 and 5-6; washout, a gap
behind a standing head pin, is common practice. So are the few names of leaves, from memory.
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum

from nextpair.domain.errors import InvalidValueError, require

PINS = 10
FULL_RACK = (1 << PINS) - 1

PAIRS_BEHIND = ((1, 2, 3), (2, 4, 5), (3, 5, 6), (4, 7, 8), (5, 8, 9), (6, 9, 10))
"""A pin, and the two side by side right behind it."""
DIRECTLY_BEHIND = ((1, 5), (2, 8), (3, 9))
GAPS_IN_A_ROW = ((4, 5, 6), (7, 8, 9), (8, 9, 10))
"""Three pins side by side, left to right."""
NAMES = {
    "2-8": "sleeper",
    "3-9": "sleeper",
    "2-7": "baby split",
    "3-10": "baby split",
    "2-4-5-8": "bucket",
    "3-5-6-9": "bucket",
    "1-2-4-7": "picket fence",
    "1-3-6-10": "picket fence",
    "7-10": "bedposts",
    "5-7-10": "lily",
    "4-6-7-10": "big four",
    "4-6-7-8-10": "Greek church",
    "4-6-7-9-10": "Greek church",
}
"""Leaves that the trade calls by a name."""
MIRROR_IMAGES = {1: 1, 2: 3, 3: 2, 4: 6, 5: 5, 6: 4, 7: 10, 8: 9, 9: 8, 10: 7}


def pin_bit(pin: int) -> int:
    """Mask of one pin, 1 to 10."""
    require(1 <= pin <= PINS, "pin", pin, "a pin from 1 to 10")
    return 1 << (pin - 1)


def standing_pins(mask: int) -> tuple[int, ...]:
    """Numbers of the pins that stand, lowest first."""
    require(0 <= mask <= FULL_RACK, "leave", mask, "a mask of ten pins, 0 to 1023")
    return tuple(pin for pin in range(1, PINS + 1) if mask >> (pin - 1) & 1)


def pin_count(mask: int) -> int:
    """How many pins stand."""
    return len(standing_pins(mask))


def parse_leave(text: str) -> int:
    """Mask of a leave written as its pins joined by hyphens, `1-2-10`; empty means no pin.

    Raises InvalidValueError where a part is no pin or a pin is named twice.
    """
    mask = 0
    for part in text.split("-") if text.strip() else ():
        name = part.strip()
        pin = int(name) if name.isascii() and name.isdigit() and len(name) <= 2 else 0
        if not 1 <= pin <= PINS:
            raise InvalidValueError("leave", text, "pins 1 to 10 joined by hyphens, as 1-2-10")
        bit = pin_bit(pin)
        require(not mask & bit, "leave", text, "each pin once")
        mask |= bit
    return mask


def leave_text(mask: int) -> str:
    """A leave as its pins joined by hyphens, lowest first; empty where nothing stands."""
    return "-".join(str(pin) for pin in standing_pins(mask))


def mirrored_leave(mask: int) -> int:
    """The same leave seen by the other hand."""
    return sum(pin_bit(MIRROR_IMAGES[pin]) for pin in standing_pins(mask))


def is_split(mask: int) -> bool:
    """Whether a leave of a first ball is a split.

    The head pin is down, and another pin is down between two or more that stand (7-9, 3-10) or
    immediately ahead of two that stand (5-6). Pins that hang together, each diagonally or directly
    behind another, have no pin down between them unless they stand in one row.
    """
    standing = set(standing_pins(mask))
    if 1 in standing or len(standing) < 2:
        return False
    return (
        any(
            ahead not in standing and {left, right} <= standing
            for ahead, left, right in PAIRS_BEHIND
        )
        or any(
            between not in standing and {left, right} <= standing
            for left, between, right in GAPS_IN_A_ROW
        )
        or not _hang_together(standing)
    )


def is_washout(mask: int) -> bool:
    """Whether the head pin stands and the pins that stand do not hang together, as in 1-2-10."""
    standing = set(standing_pins(mask))
    return 1 in standing and not _hang_together(standing)


class LeaveKind(StrEnum):
    """What a leave asks of its spare shooter."""

    SINGLE_PIN = "single-pin"
    MAKEABLE = "makeable"
    """Two pins or more that hang together."""
    SPLIT = "split"
    WASHOUT = "washout"


def leave_kind(mask: int) -> LeaveKind:
    """The kind of a first ball's leave. Raises InvalidValueError where no pin stands."""
    require(mask != 0, "leave", "no pin", "a pin or more that stand")
    if pin_count(mask) == 1:
        return LeaveKind.SINGLE_PIN
    if is_split(mask):
        return LeaveKind.SPLIT
    return LeaveKind.WASHOUT if is_washout(mask) else LeaveKind.MAKEABLE


def leave_name(mask: int) -> str | None:
    """What the trade calls a leave; None for most, which go by their pins."""
    return NAMES.get(leave_text(mask))


def _neighbours(pin: int) -> Iterator[int]:
    for ahead, left, right in PAIRS_BEHIND:
        if pin == ahead:
            yield from (left, right)
        elif pin in (left, right):
            yield ahead
    for ahead, behind in DIRECTLY_BEHIND:
        if pin in (ahead, behind):
            yield ahead + behind - pin


def _hang_together(standing: set[int]) -> bool:
    reached: set[int] = set()
    waiting = [min(standing)]
    while waiting:
        pin = waiting.pop()
        reached.add(pin)
        waiting += [other for other in _neighbours(pin) if other in standing - reached]
    return reached == standing
