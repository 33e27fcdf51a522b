"""What went wrong, in a file on this computer: one JSON object a line, bounded, this user's alone.

It says where in the program, never with what: no messages of errors, which may quote documents, no
names, no secrets, no paths of the user's. Nothing is sent anywhere. That it cannot be written is
no reason to fail.
"""

from __future__ import annotations

import json
import logging
import os
import traceback
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from types import TracebackType
from typing import IO, Any

from nextpair.application.model_version import model_version
from nextpair.application.settings import Settings
from nextpair.bootstrap.at_home import AtHome

LOG_FOLDER, LOG_FILE = "log", "nextpair.log"
LARGEST_BYTES = 500_000
KEPT = 3
"""Files: the one that is written, and two before it, `.1` and `.2`."""
LONGEST_LINE = 8000
OURS = "nextpair"
PACKAGES = ("site-packages", "dist-packages", "lib")
"""Folders below which a file's path says nothing of whose computer it is."""

log = logging.getLogger(f"{OURS}.bootstrap")


class LogFile(logging.Handler):
    """Writes to one file, which several processes may do.

    Every line is appended by one write to a file opened for appending, so lines never mix. Who
    finds the file full moves the files on under a lock, and looks again once he has it. A line
    that was on its way meanwhile goes to the file that was moved.
    """

    def __init__(self, path: Path, largest_bytes: int = LARGEST_BYTES) -> None:
        super().__init__(logging.INFO)
        self.path = path
        self.largest_bytes = largest_bytes

    def emit(self, record: logging.LogRecord) -> None:
        """Write what happened; or nothing, where nothing can be written."""
        with suppress(OSError, ValueError, RuntimeError):
            self.write(told(record))

    def write(self, entry: dict[str, Any]) -> None:
        """Append an entry. Raises OSError."""
        line = json.dumps(entry, ensure_ascii=False)
        if len(line) > LONGEST_LINE:
            line = json.dumps({**entry, "steps": ["…", *entry.get("steps", [])[-20:]]})
        for folder in (self.path.parent.parent, self.path.parent):
            folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        if self._is_full():
            self._move_on()
        way = os.open(self.path, os.O_WRONLY | os.O_APPEND | os.O_CREAT, 0o600)
        try:
            os.write(way, f"{line}\n".encode())
        finally:
            os.close(way)

    def _is_full(self) -> bool:
        return self.path.is_file() and self.path.stat().st_size >= self.largest_bytes

    def _move_on(self) -> None:
        with _alone(self.path.with_name(f".{self.path.name}.lock")), suppress(OSError):
            if not self._is_full():
                return  # somebody else has just done it
            for number in range(KEPT - 1, 0, -1):
                source = self._numbered(number - 1)
                if source.exists():
                    source.replace(self._numbered(number))

    def _numbered(self, number: int) -> Path:
        return self.path.with_name(f"{self.path.name}.{number}") if number else self.path


@contextmanager
def _alone(file: Path) -> Iterator[None]:
    """Nobody else does it at the same time; without locks of files the last one wins."""
    with _opened(file) as held:
        with suppress(ImportError, OSError):
            import fcntl

            fcntl.flock(held, fcntl.LOCK_EX)
        yield


def _opened(file: Path) -> IO[bytes]:
    file.touch(mode=0o600)
    return file.open("rb")


@cache
def program_version() -> str:
    """The version that is installed."""
    from importlib.metadata import version

    return version(OURS)


def log_path(settings: Settings) -> Path:
    """Where the log lies. Raises RuntimeError where this user has no home folder."""
    return AtHome(settings).data_folder() / LOG_FOLDER / LOG_FILE


def start_log(settings: Settings, told_as: str) -> None:
    """Have what goes wrong in this process written down, and that it began."""
    with suppress(RuntimeError):
        root = logging.getLogger()
        if not any(isinstance(one, LogFile) for one in root.handlers):
            root.addHandler(LogFile(log_path(settings)))
        ours = logging.getLogger(OURS)
        ours.setLevel(logging.INFO)
        log.info("%s begins", told_as)


def write_fault(settings: Settings, command: str, fault: BaseException) -> Path | None:
    """Write down a fault of ours; returns the file, None where it could not be written."""
    try:
        path = log_path(settings)
        LogFile(path).write({**_where("ERROR", "nextpair.cli"), "what": command, **_fault(fault)})
    except (OSError, RuntimeError):
        return None
    return path


def told(record: logging.LogRecord) -> dict[str, Any]:
    """An entry of what was logged. Of our own words the first line, with errors by their kind; of
    other packages' only where in them, since nobody knows what theirs quote."""
    entry = _where(record.levelname, record.name)
    if record.name == OURS or record.name.startswith(f"{OURS}."):
        plain = logging.makeLogRecord({**record.__dict__, "args": _plain(record.args)})
        entry["what"] = plain.getMessage().partition("\n")[0]
    else:
        entry["at"] = f"{_shown(record.pathname)}:{record.lineno} {record.funcName}"
    fault = getattr(record, "fault", None) or (record.exc_info and record.exc_info[1])
    return entry if fault is None else {**entry, **_fault(fault)}


def steps_of(trace: TracebackType | None) -> list[str]:
    """Where a fault came by, outermost first, without whose computer it was on."""
    return [
        f"{_shown(step.filename)}:{step.lineno} {step.name}"
        for step in traceback.extract_tb(trace)
    ]


def _where(level: str, source: str) -> dict[str, Any]:
    return {
        "time": datetime.now(UTC).isoformat(timespec="milliseconds"),
        "level": level,
        "from": source,
        "process": os.getpid(),
        "version": program_version(),
        "model": model_version(),
    }


def _fault(fault: BaseException) -> dict[str, Any]:
    causes: list[str] = []
    seen = fault.__cause__ or fault.__context__
    while seen is not None and len(causes) < KEPT:
        causes.append(type(seen).__name__)
        seen = seen.__cause__ or seen.__context__
    by = {"by": causes} if causes else {}
    return {"fault": type(fault).__name__, **by, "steps": steps_of(fault.__traceback__)}


def _plain(args: Any) -> Any:
    """What a message is filled with: errors by their kind, the home folder by its sign."""
    if isinstance(args, tuple):
        return tuple(_plain(one) for one in args)
    if isinstance(args, BaseException):
        return type(args).__name__
    if isinstance(args, str | Path):
        with suppress(RuntimeError):
            return str(args).replace(str(Path.home()), "~")
    return args


def _shown(file: str) -> str:
    """The path of a module below its package's folder, or its bare name."""
    parts = Path(file).parts
    for folder in (*PACKAGES, "src"):
        if folder in parts:
            return "/".join(parts[len(parts) - parts[::-1].index(folder) :])
    return parts[-1] if parts else file
