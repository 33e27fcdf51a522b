"""Targets: every file format, and rows that are pasted."""

from __future__ import annotations

import json
import math
import tempfile
import zlib
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cache, partial
from pathlib import Path, PurePath, PurePosixPath
from typing import Any

from hypothesis import strategies as st

from event_documents import bundles
from fuzz import originals
from fuzz.damage import TEXTS, damaged_bytes, damaged_documents, damaged_texts
from fuzz.judge import first_fault, require
from fuzz.target import Target
from nextpair.application.bundle import EventBundle
from nextpair.domain.errors import InputRefusedError
from nextpair.domain.event import Event
from nextpair.domain.field_score import FieldScore
from nextpair.domain.format import Counting
from nextpair.domain.record import Kind
from nextpair.files.event_file import read_event
from nextpair.files.folder import LARGEST_FILE_BYTES, Memory, Table, UnreadableError
from nextpair.files.intake import Intake, Source
from nextpair.files.log_codes import ALPHABET, jottings_of_codes
from nextpair.files.pasted import pasted_balls, pasted_scores, pasted_squad
from nextpair.files.pattern_file import read_pattern
from nextpair.files.score_sheet import load_score_sheet
from nextpair.files.scores_file import read_scores
from nextpair.files.shared_house import read_shared_house
from nextpair.files.shots_file import read_shots, shots_text

PAPERS = originals.PAPERS


class Bytes:
    """A folder of files as bytes, as a disk has them."""

    def __init__(self, files: dict[str, bytes]) -> None:
        self._files = files

    def holds(self, path: PurePath) -> bool:
        return path.as_posix() in self._files

    def content(self, path: PurePath) -> bytes:
        content = self._files.get(path.as_posix())
        if content is None:
            raise UnreadableError("no such file")
        if len(content) > LARGEST_FILE_BYTES:
            raise UnreadableError("more than 4 MB")
        return content

    def table(self, path: PurePath) -> Table | None:  # noqa: ARG002
        return None

    def rows(self, path: PurePath) -> Sequence[Table] | None:  # noqa: ARG002
        return None


def source_of(name: str, content: bytes, others: dict[str, str] | None = None) -> Source:
    files = {key: text.encode() for key, text in (others or {}).items()}
    return Source.first(PurePosixPath(name), Bytes(files | {name: content}))


@cache
def event() -> Event:
    """The small event."""
    return read_event(Source.first(PurePosixPath("event.toml"), Memory(texts=originals.FILES)),
                      Intake())  # fmt: skip


def event_with(name: str, content: bytes) -> None:
    """The small event with one file another."""
    files = {key: text.encode() for key, text in originals.FILES.items()} | {name: content}
    read = read_event(Source.first(PurePosixPath("event.toml"), Bytes(files)), Intake())
    speeds = [entrant.likely_release.speed_mps for entrant in read.squad]
    require(all(map(math.isfinite, speeds)), "a speed that is none was taken")
    require(read.money.entry_fee.is_finite(), "a fee that is none was taken")
    require(read.start_pair in read.pairs, "a start on no pair was taken")
    require(read.start_pair.lanes[1] <= read.house.lanes, "a lane that is not there was taken")


def film(content: bytes) -> None:
    """A measured film."""
    others = {"pattern.toml": originals.MEASURED}
    source, intake = source_of("film.csv", content, others), Intake()
    pattern = read_pattern(replace(source, path=PurePosixPath("pattern.toml"),
                                   name="pattern.toml"), intake)  # fmt: skip
    intake.close()
    rows = pattern.film.thickness_um if pattern.film else ((math.nan,),)
    require(all(0 <= one < 1e4 for row in rows for one in row), "a film that is none was taken")


def shots(content: bytes) -> None:
    """A log; what is taken is written and read again the same."""
    intake = Intake()
    read = read_shots(source_of("shots.csv", content), event(), intake)
    intake.close()
    again = read_shots(source_of("shots.csv", shots_text(read).encode()), event(), Intake())
    require(again == read, "a log that is written is another when it is read")


def scores(content: bytes) -> None:
    """Scores of the field."""
    intake = Intake()
    read = read_scores(source_of("scores.csv", content), intake)
    intake.close()
    _sound_scores(read)


def _sound_scores(read: Sequence[FieldScore]) -> None:
    require(all(0 <= one.score <= 300 for one in read), "a score that is none was taken")
    require(len({(one.name, one.game) for one in read}) == len(read), "a game was taken twice")


def score_sheet(content: bytes) -> None:
    """A score sheet, by either counting."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "sheet.csv"
        path.write_bytes(content)
        for counting in Counting:
            games = load_score_sheet(path, counting)
            require(bool(games), "a sheet without a game was taken")


def shared_house(content: bytes) -> None:
    """A house that is shared."""
    document, visits = read_shared_house(source_of("shared.toml", content))
    lanes = document["lanes"]
    for visit in visits:
        named = [lane for lane, _ in (*visit.lanes, *visit.lane_friction)]
        require(all(1 <= lane <= lanes for lane in named), "a lane that is not there was taken")


def record(case: list[Any]) -> None:
    """A record's document. One that is taken is taken again."""
    kind, document = case
    require(isinstance(PAPERS.check(Kind(kind), document), tuple), "guesses are no tuple")


def records() -> st.SearchStrategy[Any]:
    """Documents of every kind."""
    return st.one_of(
        st.tuples(st.just(kind), damaged_documents(sound))
        for kind, sound in originals.records().items()
    )


PARTS = ("event", "house", "left_pattern", "bowler")


def whole_event(case: dict[str, Any]) -> None:
    """Any event as documents; what is taken is the same as files."""
    rows = {name: tuple(case[name]) for name in ("locker", "squad")}
    told = EventBundle(**{key: case[key] for key in PARTS}, right_pattern=None, earlier=(), **rows)
    read = PAPERS.event(told)
    texts = PAPERS.folder(told)
    again = read_event(Source.first(PurePosixPath("event.toml"), Memory(texts=texts)), Intake())
    require(again == read, "an event is another one as files")


@st.composite
def whole_events(draw: st.DrawFn) -> dict[str, Any]:
    drawn = draw(bundles())
    told = {key: getattr(drawn, key) for key in (*PARTS, "locker", "squad")}
    part = draw(st.sampled_from(sorted(told)))
    if isinstance(told[part], dict):
        told[part] = draw(damaged_documents([told[part]]))
    return told


def pasted(case: list[str]) -> None:
    """Rows that are pasted: some taken, the others told."""
    kind, text = case
    read = {"squad": pasted_squad, "balls": pasted_balls, "scores": pasted_scores}[kind]
    rows, problems = read(text)
    require(bool(rows or problems), "nothing was read and nothing told")
    fault = first_fault(*map(str, problems))
    require(not fault, fault)
    if kind == "scores":
        _sound_scores(rows)
    if problems and not rows:
        raise InputRefusedError(tuple(problems))


TABLES = {
    "squad": originals.FILES["squad.csv"],
    "balls": originals.FILES["locker.csv"],
    "scores": originals.SCORES,
}


def pastes() -> st.SearchStrategy[Any]:
    def of(kind: str) -> st.SearchStrategy[Any]:
        texts = [TABLES[kind], TABLES[kind].replace(",", "\t"), originals.WIDE]
        return st.tuples(st.just(kind), damaged_texts(texts) | st.text(max_size=60))

    return st.one_of(of(kind) for kind in TABLES)


def codes(texts: list[str]) -> None:
    """A phone's codes."""
    read = jottings_of_codes(texts)
    require(all(isinstance(one, dict) for one in read), "a jotting is no object")


@st.composite
def code_texts(draw: st.DrawFn) -> list[str]:
    """Codes of a log: damaged as read by a camera, or sound ones around a damaged log."""
    way = draw(st.integers(0, 3))
    sound = originals.SNAPSHOT["texts"]
    if way == 0:
        return [draw(damaged_texts([one])) for one in draw(st.permutations(sound))]
    if way == 1:
        return draw(st.lists(TEXTS | st.sampled_from(sound), max_size=4))
    rest = draw(damaged_documents([PACKED]))
    return packed(rest, draw(st.integers(0, 3)), draw(st.integers(1, 3)), draw(st.integers(0, 9)))


PACKED: dict[str, Any] = {
    "event": originals.EVENT_ID,
    "devices": ["phone"],
    "keys": [["game", "frame", "lane"], []],
    "rows": [[0, 1, 0, 1_790_000_000_000, 0, 0, 1, 1, 13], [0, 1, 1, 5000, 1, 1]],
    "odd": {"1": {"client_time": "2026-10-17T13:16:38.438Z"}},
}


def packed(rest: Any, more: int, parts: int, odd: int) -> list[str]:
    """Codes with sound checks around what a log says, as the phone packs it."""

    text = json.dumps(rest).encode()
    deflater = zlib.compressobj(wbits=-zlib.MAX_WBITS)
    deflated = deflater.compress(text) + deflater.flush()
    count = 2 + more * (odd == 0)
    content = count.to_bytes(2, "big") + bytes(range(10)) * 2 + deflated[: -odd or None]
    check = f"{zlib.crc32(content):08X}"
    coded = _base45(content)
    size = -(-len(coded) // (3 * parts)) * 3
    pieces = [coded[start : start + size] for start in range(0, len(coded), size)]
    return [
        f"NP1:{check}:{number}:{len(pieces)}:{piece}:"
        for number, piece in enumerate(pieces, start=1)
    ]


def _base45(content: bytes) -> str:
    """Base 45 written. Source: RFC 9285, section 4."""
    coded = ""
    for start in range(0, len(content), 2):
        pair = content[start : start + 2]
        value = int.from_bytes(pair, "big")
        digits = 3 if len(pair) == 2 else 2
        coded += "".join(ALPHABET[value // 45**place % 45] for place in range(digits))
    return coded


def _event_target(name: str) -> Target:
    return Target(name, lambda: damaged_bytes([originals.FILES[name]]), partial(event_with, name),
                  weight=6, is_parser=True)  # fmt: skip


def _file_target(
    name: str, sound: Sequence[str], run: Callable[[bytes], None], weight: int = 4
) -> Target:
    return Target(name, lambda: damaged_bytes(sound), run, weight, is_parser=True)


TARGETS = (
    *(_event_target(name) for name in originals.FILES),
    _file_target("film.csv", [originals.FILM], film),
    _file_target("shots.csv", [originals.SHOTS], shots, weight=6),
    _file_target("scores.csv", [originals.SCORES, originals.WIDE], scores, weight=6),
    _file_target("score sheet", [originals.SHEET, originals.BALLS, originals.SHOTS], score_sheet),
    _file_target("shared house", [originals.SHARED_HOUSE], shared_house, weight=6),
    Target("records", records, record, weight=8),
    Target("whole events", whole_events, whole_event, weight=1),
    Target("pasted rows", pastes, pasted, weight=8),
    Target("phone's codes", code_texts, codes, weight=6),
)
