"""QR codes of a phone's log, read: the texts that frontend/shared/codes.ts makes, to jottings in
their wire form. tests/log_codes_snapshot.json holds both to one example."""

from __future__ import annotations

import json
import re
import zlib
from collections.abc import Iterable, Mapping
from datetime import UTC, datetime
from typing import Any

from nextpair.domain.errors import InvalidValueError

ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
"""Of base 45. Source: RFC 9285, table 1."""
KINDS = ("shot", "void", "score", "tick", "note", "visit", "lesson")
ID_BYTES = 10
LARGEST_LOG_BYTES = 4_000_000
LATEST_CLOCK_MS = 2**48
"""An id's clock has 48 bits. Source: RFC 9562, section 5.7."""
_TEXT = re.compile(r"NP1:([0-9A-F]{8}):([0-9]{1,3}):([0-9]{1,3}):(.*):", re.DOTALL)
_WRONG = (
    *(zlib.error, ValueError, LookupError, TypeError, AttributeError),
    *(OverflowError, RecursionError),
)
"""What reading raises that was packed by nobody's phone."""

Wire = dict[str, Any]


def jottings_of_codes(texts: Iterable[str]) -> list[Wire]:
    """The log that the codes hold, whatever their order and however often each was seen.

    Raises InvalidValueError for a text that is none of ours, for codes of two logs or of none, and
    while one is missing.
    """
    parts: dict[int, str] = {}
    told: set[tuple[str, int]] = set()
    for text in texts:
        match = _TEXT.fullmatch(text)
        if match is None:
            raise InvalidValueError("code", text[:40], "a code of a log, as the phone shows it")
        check, part, count, data = match.groups()
        told.add((check, int(count)))
        parts[int(part)] = data
    if len(told) != 1:
        raise InvalidValueError("codes", f"{len(told)} logs", "the codes of one log")
    check, count = told.pop()
    missing = [str(part) for part in range(1, int(count) + 1) if part not in parts]
    if missing:
        allowed = f"code {', '.join(missing)} too"
        raise InvalidValueError("codes", f"{len(parts)} of {count}", allowed)
    content = b"".join(bytes_of_base45(parts[part]) for part in sorted(parts))
    if f"{zlib.crc32(content):08X}" != check:
        raise InvalidValueError("codes", check, "codes of one log, read without a fault")
    return _unpacked(content)


def bytes_of_base45(text: str) -> bytes:
    """Base 45 read. Source: RFC 9285, section 4."""
    content = bytearray()
    for start in range(0, len(text), 3):
        digits = [ALPHABET.find(letter) for letter in text[start : start + 3]]
        value = sum(digit * 45**place for place, digit in enumerate(digits))
        size = len(digits) - 1
        if min(digits) < 0 or size == 0 or value >= 256**size:
            raise InvalidValueError("code", text[start : start + 3], "base 45")
        content += value.to_bytes(size, "big")
    return bytes(content)


def _unpacked(content: bytes) -> list[Wire]:
    count = int.from_bytes(content[:2], "big")
    start = 2 + ID_BYTES * count
    try:
        rest = json.loads(_inflated(content[start:]))
        return _jottings(rest, [content[2 + ID_BYTES * n :][:ID_BYTES] for n in range(count)])
    except _WRONG as wrong:
        raise InvalidValueError("codes", str(wrong)[:80], "a log as the phone packs it") from wrong


def _inflated(deflated: bytes) -> bytes:
    """Raw DEFLATE (RFC 1951), as far as any log goes."""
    inflater = zlib.decompressobj(wbits=-zlib.MAX_WBITS)
    content = inflater.decompress(deflated, LARGEST_LOG_BYTES)
    if not inflater.eof:
        raise ValueError("a log cut short, or longer than any")
    return content


def _jottings(rest: Mapping[str, Any], tails: list[bytes]) -> list[Wire]:
    clock_ms = seq = 0
    jottings: list[Wire] = []
    for place, (row, tail) in enumerate(zip(rest["rows"], tails, strict=True)):
        device, seq_since, kind, since_ms, _, keys, *values = row
        clock_ms, seq = clock_ms + since_ms, seq + seq_since
        jotting: Wire = {
            "id": _id(clock_ms, tail),
            "event": rest["event"],
            "device": rest["devices"][device],
            "device_seq": seq,
            "kind": KINDS[kind],
            "payload": dict(zip(rest["keys"][keys], values, strict=True)),
            "supersedes": None,
            "schema_version": 1,
            "client_time": _time(clock_ms),
        }
        jottings.append(jotting | rest["odd"].get(str(place), {}))
    for place, (jotting, row) in enumerate(zip(jottings, rest["rows"], strict=True)):
        back = row[4]
        if isinstance(back, str):
            jotting["supersedes"] = back
        elif back:
            jotting["supersedes"] = jottings[place - back]["id"]
    return jottings


def _id(clock_ms: int, tail: bytes) -> str:
    """A UUID of version 7 from its clock and the digits that are neither clock nor version.
    Raises ValueError."""
    if not 0 <= clock_ms < LATEST_CLOCK_MS:
        raise ValueError("a time that no clock shows")
    clock, digits = f"{clock_ms:012x}", tail.hex()
    return "-".join((clock[:8], clock[8:], f"7{digits[:3]}", digits[3:7], digits[7:19]))


def _time(clock_ms: int) -> str:
    moment = datetime.fromtimestamp(clock_ms // 1000, UTC)
    return f"{moment:%Y-%m-%dT%H:%M:%S}.{clock_ms % 1000:03d}Z"
