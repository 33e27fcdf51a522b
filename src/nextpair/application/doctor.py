"""Whether the program and what it keeps are well on this computer: one check a line.

Each check is a function of what was found, and says what to do where something is wrong. What is
found is gathered in `bootstrap.examination`; nothing is mended and nothing is sent anywhere.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from enum import StrEnum
from typing import Any

from nextpair.application.self_test import LARGEST_BOARDS, LARGEST_DEGREES, SelfTest

LEAST_FREE_BYTES, ENOUGH_FREE_BYTES = 50_000_000, 1_000_000_000
"""Less than the first and saving will soon fail; a season with its backups is well under the
second (assumption)."""
SLOW_RATIO = 1000
"""Times as fast as the oracle: half of what the kernel must be (benchmarks/bars.py)."""
SLOW_COMPILE_S = 5.0
BACKUP_DAYS = 14
CLOCK_SLACK = timedelta(hours=1)
MEGABYTE, GIGABYTE = 1e6, 1e9


class Verdict(StrEnum):
    """How something was found."""

    OK = "ok"
    LOOK = "look at this"
    WRONG = "wrong"
    """At the user's end: there is something to do."""
    FAULT = "our fault"
    """The program does not do what it says: to be reported."""


@dataclass(frozen=True, slots=True)
class Check:
    """One thing that was looked at: what was found, in words, and what to do about it. `facts` are
    the same as numbers and names, for programs."""

    name: str
    verdict: Verdict
    found: str
    advice: str = ""
    facts: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Versions:
    """What runs, on what. `libraries` are the versions of those that decide numbers or keep
    things."""

    program: str
    model: str
    python: str
    system: str
    processor: str
    cores: int
    libraries: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class StoreFound:
    """A store as it lies there; `state` in the words of the schema, `trouble` what keeps it from
    being read or found sound, `writable` whether this user may change it."""

    place: str
    on_server: bool
    there: bool
    writable: bool
    size_bytes: int
    schema: str
    state: str
    trouble: str
    records: int
    jottings: int
    latest: datetime | None


@dataclass(frozen=True, slots=True)
class CopiesFound:
    """The daily copies beside a store: the newest that is sound, the command that puts it back,
    and how many after it are not sound."""

    newest: str = ""
    made_at: datetime | None = None
    command: str = ""
    unsound: int = 0


@dataclass(frozen=True, slots=True)
class FolderFound:
    """A folder that the program keeps things in."""

    place: str
    there: bool
    writable: bool
    open_to_others: tuple[str, ...]
    """Names in it, or itself, that others on this computer may read."""
    free_bytes: int | None


def exit_code(checks: Sequence[Check]) -> int:
    """0 where all is well or only worth a look, 2 where something is wrong at the user's end, 1
    where it is the program's fault."""
    verdicts = {check.verdict for check in checks}
    if Verdict.FAULT in verdicts:
        return 1
    return 2 if Verdict.WRONG in verdicts else 0


def check_versions(found: Versions) -> Check:
    """What runs here; nothing about it is wrong."""
    libraries = ", ".join(f"{name} {number}" for name, number in found.libraries.items())
    words = (
        f"nextpair {found.program}, model {found.model}; Python {found.python} on {found.system}, "
        f"{found.cores} cores, {found.processor}; {libraries}"
    )
    facts = {
        "program": found.program,
        "model_version": found.model,
        "python": found.python,
        "system": found.system,
        "processor": found.processor,
        "cores": found.cores,
        "libraries": dict(found.libraries),
    }
    return Check("versions", Verdict.OK, words, facts=facts)


def check_store(found: StoreFound) -> Check:
    """Whether the store opens, is whole, is ours and may be written."""
    facts = {
        "place": found.place,
        "there": found.there,
        "size_bytes": found.size_bytes,
        "schema": found.schema,
        "state": found.state,
        "records": found.records,
        "jottings": found.jottings,
    }

    def said(verdict: Verdict, words: str, advice: str = "") -> Check:
        return Check("store", verdict, f"{found.place}: {words}", advice, facts)

    if not found.there:
        return said(Verdict.OK, "nothing is kept yet; it is made when it is first needed")
    if found.trouble:
        if found.on_server:
            advice = "look whether the server runs, and NEXTPAIR_STORE is right"
        else:
            advice = (
                "stop `nextpair serve`, keep the file, and `nextpair restore` the newest backup"
            )
        return said(Verdict.WRONG, f"cannot be used: {found.trouble}", advice)
    if found.state == "newer":
        advice = "install the nextpair that wrote it, or a newer one"
        return said(Verdict.WRONG, f"schema {found.schema} of a newer program", advice)
    if found.state in ("foreign", "empty") and not found.on_server:
        advice = "name another file with --store, or move this one away"
        return said(Verdict.WRONG, "is no store of nextpair", advice)
    if found.state == "empty":
        return said(Verdict.OK, "an empty database; tables are made when it is first needed")
    if not found.writable:
        advice = "give your user the right to write it; until then nothing new is kept"
        return said(Verdict.WRONG, "may not be written", advice)
    if found.state == "older":
        words = f"schema {found.schema}, of an older program; whole"
        advice = "back it up; it is brought up to date the next time it is opened"
        return said(Verdict.LOOK, words, advice)
    size = f"{found.size_bytes / MEGABYTE:.1f} MB"
    words = f"whole, schema {found.schema}, {size}, {found.records} records"
    return said(Verdict.OK, f"{words}, {found.jottings} jottings")


def check_backup(found: StoreFound, copies: CopiesFound, now: datetime) -> Check:
    """How old the newest sound copy is that the program knows of, and how it is put back."""
    if found.on_server:
        return Check("backup", Verdict.OK, "a server's: by its own pg_dump, or nextpair archive")
    elsewhere = "nextpair backup FILE, onto another disk"
    damaged = f"; {copies.unsound} newer than it damaged" if copies.unsound else ""
    if copies.made_at is None:
        facts: dict[str, Any] = {"unsound": copies.unsound}
        if copies.unsound:
            words = f"no sound copy lies beside the store, {copies.unsound} damaged"
            return Check("backup", Verdict.LOOK, words, elsewhere, facts)
        if not found.there or not found.records + found.jottings:
            return Check("backup", Verdict.OK, "nothing is kept that could be lost", facts=facts)
        return Check("backup", Verdict.LOOK, "no copy lies beside the store", elsewhere, facts)
    days = max(0, (now - copies.made_at).days)
    words = f"{copies.newest} is sound, {days} days old{damaged}; to put it back: {copies.command}"
    facts = {
        "newest": copies.made_at.isoformat(timespec="seconds"),
        "days": days,
        "place": copies.newest,
        "command": copies.command,
        "unsound": copies.unsound,
    }
    if found.trouble:
        return Check("backup", Verdict.LOOK, words, copies.command, facts)
    if days > BACKUP_DAYS or copies.unsound:
        return Check("backup", Verdict.LOOK, words, elsewhere, facts)
    return Check("backup", Verdict.OK, words, facts=facts)


def check_folder(found: FolderFound) -> Check:
    """Whether what is kept may be written, and is for this user alone."""
    facts = {"place": found.place, "open_to_others": list(found.open_to_others)}
    if not found.there:
        return Check("data folder", Verdict.OK, f"{found.place} is not made yet", facts=facts)
    if not found.writable:
        advice = "give your user the right to write there, or name another one with --data-dir"
        return Check(
            "data folder", Verdict.WRONG, f"{found.place} cannot be written", advice, facts
        )
    if found.open_to_others:
        names = ", ".join(found.open_to_others)
        words = f"others on this computer may read: {names}"
        return Check("data folder", Verdict.LOOK, words, f"chmod -R go= {found.place}", facts)
    return Check("data folder", Verdict.OK, f"{found.place} is yours alone", facts=facts)


def check_disk(found: FolderFound) -> Check:
    """Whether there is room to save."""
    if found.free_bytes is None:
        return Check("disk", Verdict.LOOK, "how much is free cannot be told")
    facts = {"free_bytes": found.free_bytes}
    words = f"{found.free_bytes / GIGABYTE:.1f} GB free where the data folder is"
    if found.free_bytes < LEAST_FREE_BYTES:
        return Check("disk", Verdict.WRONG, words, "free some: saving will fail", facts)
    if found.free_bytes < ENOUGH_FREE_BYTES:
        return Check("disk", Verdict.LOOK, words, "free some soon", facts)
    return Check("disk", Verdict.OK, words, facts=facts)


def check_clock(now: datetime, built: datetime, latest: datetime | None) -> Check:
    """Whether the clock may be right: not before the program was made, nor before what is kept."""
    shown = now.isoformat(timespec="seconds")
    facts = {"now": shown}
    advice = "set the computer's date and time"
    if now < built:
        words = f"{shown} is before this program was made"
        return Check("clock", Verdict.WRONG, words, advice, facts)
    if latest is not None and latest > now + CLOCK_SLACK:
        words = (
            f"{shown} is before {latest.isoformat(timespec='seconds')}, when something was kept"
        )
        return Check("clock", Verdict.LOOK, words, advice, facts)
    return Check("clock", Verdict.OK, shown, facts=facts)


def check_cache(place: str, lasting: bool, in_place: bool, first_s: float) -> Check:
    """Whether compiled code is kept from one start to the next."""
    facts = {"place": place, "lasting": lasting, "in_place": in_place, "first_shot_s": first_s}
    if not lasting:
        advice = "name a folder that you may write with --cache-dir, or NEXTPAIR_CACHE_DIR"
        words = "no folder for it can be written, so every start compiles anew"
        return Check("compiled code", Verdict.LOOK, words, advice, facts)
    how = "in place" if in_place else "made now, and kept"
    words = f"{how}, in {place}; first shot after {first_s:.1f} s"
    if in_place and first_s > SLOW_COMPILE_S:
        return Check("compiled code", Verdict.LOOK, words, f"remove {place}", facts)
    return Check("compiled code", Verdict.OK, words, facts=facts)


def check_kernel(found: SelfTest) -> Check:
    """Whether the compiled kernel rolls as the slow oracle does."""
    facts = {
        "shots": found.shots,
        "error_board_max": found.error_board_max,
        "error_deg_max": found.error_deg_max,
        "allowed_boards": LARGEST_BOARDS,
        "allowed_deg": LARGEST_DEGREES,
    }
    words = (
        f"{found.shots} shots by the compiled kernel and the slow oracle, at worst "
        f"{found.error_board_max:.4f} boards and {found.error_deg_max:.4f} degrees apart at the "
        f"pins ({LARGEST_BOARDS:g} and {LARGEST_DEGREES:g} allowed)"
    )
    if found.agrees:
        return Check("numbers", Verdict.OK, words, facts=facts)
    advice = (
        "believe no sheet of this computer, and please report this with `nextpair doctor --json`"
    )
    return Check("numbers", Verdict.FAULT, words, advice, facts)


def check_speed(found: SelfTest) -> Check:
    """Whether it is as quick as this computer allows."""
    facts = {"shots_per_cpu_s": found.shots_per_cpu_s, "ratio_to_oracle": found.ratio_to_oracle}
    words = (
        f"{found.shots_per_cpu_s:,.0f} shots a second of one core, {found.ratio_to_oracle:,.0f} "
        "times the oracle"
    )
    if found.ratio_to_oracle < SLOW_RATIO:
        advice = (
            "right, but slow: sheets take longer; see whether other programs hold the computer up"
        )
        return Check("speed", Verdict.LOOK, words, advice, facts)
    return Check("speed", Verdict.OK, words, facts=facts)


def check_log(place: str, writable: bool, faults: int) -> Check:
    """Where faults are written down, and how many are."""
    facts = {"place": place, "writable": writable, "faults": faults}
    if not writable:
        advice = "give your user the right to write there; the program runs without it"
        return Check("log", Verdict.LOOK, f"{place} cannot be written", advice, facts)
    if faults:
        advice = "see docs/guide/troubles.md for what to attach to a report"
        return Check("log", Verdict.LOOK, f"{place} tells {faults} faults", advice, facts)
    return Check("log", Verdict.OK, f"{place}, no faults in it", facts=facts)


def check_port(port: int, free: bool, ours: bool) -> Check:
    """Whether `nextpair serve` would get its port."""
    facts = {"port": port, "free": free, "nextpair": ours}
    if free:
        return Check("port", Verdict.OK, f"{port} is free for nextpair serve", facts=facts)
    if ours:
        return Check("port", Verdict.OK, f"nextpair serve runs at {port} now", facts=facts)
    words = f"another program uses {port}"
    return Check("port", Verdict.LOOK, words, "nextpair serve --port with another one", facts)
