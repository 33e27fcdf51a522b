"""What an event's files did wrong and left open: problems, told together, and guesses."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from difflib import get_close_matches
from pathlib import PurePath

from nextpair.domain.errors import InputRefusedError, Problem
from nextpair.files.folder import DISK, Folder

LONGEST_SHOWN = 60
LONGEST_WORDS = 240
LONGEST_SHOWN_INTEGER_BITS = 64
MOST_PROBLEMS = 500
"""Told of one input: whoever has more has the wrong file, or means harm."""
PLAIN_KEY = re.compile(r"[A-Za-z0-9_ -]{1,40}")


@dataclass(frozen=True, slots=True)
class Source:
    """One file: where it is, what it is called, and the key of another file that names it."""

    path: PurePath
    name: str
    named_by: Source | None = None
    key: str = ""
    folder: Folder = DISK

    @classmethod
    def first(cls, path: PurePath, folder: Folder = DISK) -> Source:
        """The file that was asked for."""
        return cls(path, path.name, folder=folder)

    @property
    def is_there(self) -> bool:
        """Whether there is anything under its name."""
        return self.folder.holds(self.path)

    def neighbour(self, key: str, name: str) -> Source:
        """A file that a key of this one names, from where this one lies."""
        return Source(self.path.parent / name, name, self, key, self.folder)


@dataclass(slots=True)
class Intake:
    """Collects every problem and every guess while the files of one event are read."""

    problems: list[Problem] = field(default_factory=list)
    guessed: list[str] = field(default_factory=list)
    _told: set[tuple[str, str]] = field(default_factory=set)

    def refuse(self, source: Source, place: str, found: object, allowed: str) -> None:
        """Note one thing wrong; the first problem of a place is the one that is told. Raises
        InputRefusedError once there are too many to go on."""
        problem = Problem(str(source.path), place, shown(found), allowed)
        if (problem.file, place) not in self._told:
            self._told.add((problem.file, place))
            self.problems.append(problem)
        if len(self.problems) >= MOST_PROBLEMS:
            raise self.refusal()

    def has_refused(self, source: Source) -> bool:
        """Whether anything was wrong with this file."""
        return any(problem.file == str(source.path) for problem in self.problems)

    def guess(self, source: Source, what: str) -> None:
        """Note one value that the file leaves out and a typical one stands for."""
        self.guessed.append(f"{source.name}: {what}")

    def refusal(self) -> InputRefusedError:
        """All problems as one error: file by file, in the order in which files were opened."""
        files = list(dict.fromkeys(problem.file for problem in self.problems))
        return InputRefusedError(tuple(sorted(self.problems, key=lambda p: files.index(p.file))))

    def close(self) -> tuple[str, ...]:
        """All guesses, once each. Raises InputRefusedError when there was a problem."""
        if self.problems:
            raise self.refusal()
        return tuple(dict.fromkeys(self.guessed))


class Words(str):
    """Words of ours for what was found, shown as they are."""

    __slots__ = ()


NOTHING = Words("nothing")


def shown(found: object) -> str:
    """A found value on one short line: texts in quotes, everything else as it is written."""
    if isinstance(found, Words):
        return _short(found, LONGEST_WORDS)
    if found is None:
        return NOTHING
    if isinstance(found, bool):
        return "true" if found else "false"
    if isinstance(found, int) and found.bit_length() > LONGEST_SHOWN_INTEGER_BITS:
        return "a very large whole number"
    if isinstance(found, float):
        return f"{found:.6g}"
    if isinstance(found, dict):
        return "a table"
    if isinstance(found, list | tuple) and any(isinstance(part, dict | list) for part in found):
        return "a list of tables or lists"
    if isinstance(found, list | tuple):
        text = "[" + ", ".join(shown(part) for part in found[:LONGEST_SHOWN]) + "]"
    else:
        text = str(found) if isinstance(found, int | Decimal) else _written(found)
    return _short(text, LONGEST_SHOWN)


def _short(text: str, longest: int) -> str:
    return text if len(text) <= longest else text[: longest - 1] + "…"


def key_shown(key: str) -> str:
    """A key or column as it is written; in quotes, and short, where it holds odd characters."""
    return key if PLAIN_KEY.fullmatch(key) else shown(key)


def did_you_mean(word: str, known: Sequence[str]) -> str:
    """'did you mean "x"? ' when a known word is close, else nothing."""
    close = get_close_matches(word, known, n=1)
    return f'did you mean "{close[0]}"? ' if close else ""


def _written(found: object) -> str:
    return repr(str(found)) if isinstance(found, str) else str(found)
