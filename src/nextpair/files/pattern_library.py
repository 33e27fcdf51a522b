"""The patterns that come with the program, each called by its name."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from difflib import SequenceMatcher
from importlib.resources import as_file, files
from pathlib import Path

from nextpair.domain.pattern import Pattern
from nextpair.files.fields import LONGEST_TEXT
from nextpair.files.intake import Intake, Source
from nextpair.files.pattern_file import ordinary_pattern, read_pattern

MARK = "library:"
"""What stands before the name of a library pattern where the name of a file may stand too."""
CLOSE = 0.6
MOST_HINTS = 3
ALLOWED = "a pattern that `nextpair patterns` lists"


@contextmanager
def library_files() -> Iterator[tuple[Path, ...]]:
    """The files of the library, one a pattern."""
    with as_file(files("nextpair") / "library") as folder:
        yield tuple(sorted(folder.glob("*.toml")))


def load_library() -> tuple[Pattern, ...]:
    """All patterns of the library, short ones first."""
    with library_files() as paths:
        intake = Intake()
        patterns = [_read(path, intake) for path in paths]
        intake.close()
    return tuple(sorted(patterns, key=lambda pattern: (pattern.length_m, pattern.name)))


def read_library_pattern(name: str, source: Source, key: str, intake: Intake) -> Pattern:
    """The library pattern of a name; a name that is not known is refused at the key of a file."""
    with library_files() as paths:
        listed = {path.stem: path for path in paths}
        asked = _file_stem(name)
        if asked in listed:
            return _read(listed[asked], intake)
    intake.refuse(source, key, name, _hint(asked, sorted(listed)) + ALLOWED)
    return ordinary_pattern()


def marked_name(text: str) -> str | None:
    """The name after the library's mark; None where the text names a file."""
    return text.removeprefix(MARK).strip() if text.startswith(MARK) else None


def is_plain_name(text: str) -> bool:
    """Whether a text can only be a name: no folder, no ending, and no file of that name here."""
    path = Path(text)
    return path.name == text and not path.suffix and len(text) < LONGEST_TEXT and not path.exists()


def _read(path: Path, intake: Intake) -> Pattern:
    return read_pattern(Source.first(path), intake)


def _file_stem(name: str) -> str:
    """'Mill Race 35' as its file is called: 'mill-race-35'."""
    return "-".join(name.casefold().replace("-", " ").split())


def _hint(asked: str, stems: list[str]) -> str:
    """'did you mean "Mill Race 35"? ', with all that are near, nearest first."""
    near = {stem: _nearness(asked, stem) for stem in stems}
    close = sorted((stem for stem in stems if near[stem] >= CLOSE), key=lambda stem: -near[stem])
    said = [f'"{_title(stem)}"' for stem in close[:MOST_HINTS]]
    return f"did you mean {' or '.join(said)}? " if said else ""


def _nearness(asked: str, stem: str) -> float:
    """1 for a name that holds all that was asked for; else how alike the letters are."""
    if asked and asked in stem:
        return 1.0
    return SequenceMatcher(None, asked, stem).ratio()


def _title(stem: str) -> str:
    return stem.replace("-", " ").title()
