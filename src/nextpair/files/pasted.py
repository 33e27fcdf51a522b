"""Rows pasted from a spreadsheet: parted by tabs, semicolons or commas, with a header or without.

A row that is understood is taken, in the words and numbers of the files; what is wrong with the
others is told.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from pathlib import PurePath

from nextpair.domain.errors import Problem
from nextpair.domain.field_score import MOST_GAMES, FieldScore
from nextpair.domain.record import Document
from nextpair.files import locker_file, scores_file, squad_file
from nextpair.files.documents import document_of
from nextpair.files.folder import Table
from nextpair.files.forms import Form, fill
from nextpair.files.house_file import ordinary_house
from nextpair.files.intake import Intake, Source, Words, did_you_mean, key_shown
from nextpair.files.layout import Layout
from nextpair.files.record_check import NOBODY
from nextpair.files.spreadsheet import CommaCell, as_told, commas_are_decimal, plain_spaces

PASTED = "pasted"
SEPARATORS = ("\t", ";", ",")
"""Those that stand in fewer texts by chance come first."""
SQUAD_WORDS = {
    "pair": ("pair", "lane", "lanes", "lane pair", "start"),
    "name": ("name", "bowler", "player"),
    "hand": ("hand", "left right", "l r"),
    "style": ("style", "delivery"),
    "rev_rate_rpm": ("rev rate rpm", "rev rate", "revs", "rpm"),
    "speed_mph": ("speed mph", "speed", "mph"),
    "cover": ("cover", "ball", "cover material"),
}
BALL_WORDS = {column: (column.replace("_", " "),) for column in locker_file.COLUMNS}
SCORE_WORDS = {
    "name": ("name", "bowler", "player"),
    "game": ("game", "no", "game no"),
    "score": ("score", "pins", "scratch"),
    "handicap": ("handicap", "hcp", "hdcp"),
    "squad": ("squad",),
    "hand": ("hand", "left right", "l r"),
    "pair": ("pair", "lane", "lanes", "lane pair"),
    "average": ("average", "avg", "ave"),
    "balls": ("balls", "frames"),
}
WIDE_WORDS = {
    **{key: SCORE_WORDS[key] for key in ("name", *scores_file.WIDE_FURTHER)},
    scores_file.TOTAL: ("total", "sum", "series", "pins", "scratch"),
}
HANDS = {"r": "right", "right": "right", "right-handed": "right",
         "l": "left", "left": "left", "left-handed": "left"}  # fmt: skip
STYLES = {"1": "one-handed", "1h": "one-handed", "one": "one-handed",
          "2": "two-handed", "2h": "two-handed", "two": "two-handed"}  # fmt: skip
_LANES = re.compile(r"(\d{1,4})(?:\s*[-–—/+&]\s*(\d{1,4}))?", re.ASCII)

Columns = Callable[[Sequence[Sequence[str]], Intake], tuple[list[str], bool] | None]
Pasted = tuple[tuple[Document, ...], tuple[Problem, ...]]


def pasted_squad(text: str) -> Pasted:
    """Rows of a squad that are in order, and what is wrong with the others."""
    intake = Intake()
    rows = [_of_squad(row) for row in _rows(text, SQUAD_WORDS, intake)]
    source = Layout().rows(rows, PASTED, squad_file.COLUMNS)
    squad_file.read_squad(source, NOBODY, ordinary_house().lanes, intake)
    return _in_order(squad_file.EntrantRow, rows, intake)


def pasted_balls(text: str) -> Pasted:
    """Rows of a locker that are in order, and what is wrong with the others."""
    intake = Intake()
    rows = list(_rows(text, BALL_WORDS, intake))
    locker_file.read_locker(Layout().rows(rows, PASTED, locker_file.COLUMNS), intake)
    return _in_order(locker_file.BallRow, rows, intake)


def pasted_scores(text: str) -> tuple[tuple[FieldScore, ...], tuple[Problem, ...]]:
    """Scores that are in order, a row a game or a row a bowler, and what is wrong with the
    others."""
    intake = Intake()
    rows = [_of_score(row) for row in _rows(text, SCORE_WORDS, intake, _score_columns)]
    source = Layout().rows(rows, PASTED, scores_file.COLUMNS)
    placed = tuple(scores_file.placed_scores(source, intake))
    wrong = _wrong_rows(intake)
    return tuple(score for row, score in placed if row not in wrong), tuple(intake.problems)


def _in_order(form: type[Form], rows: Sequence[Table], intake: Intake) -> Pasted:
    """The rows with which nothing is wrong, as documents, and the problems."""
    wrong = _wrong_rows(intake)
    documents = tuple(
        document_of(fill(form, dict(row), _source(), Intake()))
        for number, row in enumerate(rows, start=1)
        if f"row {number}" not in wrong
    )
    return documents, tuple(intake.problems)


def _wrong_rows(intake: Intake) -> set[str]:
    return {problem.place.partition(":")[0] for problem in intake.problems}


def _source() -> Source:
    return Source.first(PurePath(PASTED))


def _rows(
    text: str,
    words: Mapping[str, tuple[str, ...]],
    intake: Intake,
    columns_of: Columns = lambda _records, _intake: None,
) -> Iterator[Table]:
    """The filled cells of each row by column, the header not among them."""
    separator = next((one for one in SEPARATORS if one in text), SEPARATORS[-1])
    lines = [line for line in plain_spaces(text).splitlines() if line.strip(f" {separator}")]
    reader = csv.reader(lines, delimiter=separator, skipinitialspace=separator != "\t")
    records = []
    with suppress(csv.Error):  # a cell longer than any that is understood
        records = [[as_told(cell.strip()) for cell in record] for record in reader]
    if not records:
        intake.refuse(_source(), "rows", Words("nothing"), "rows of a spreadsheet")
        return
    has_commas = commas_are_decimal([cell for record in records for cell in record], separator)
    named, has_header = columns_of(records, intake) or _columns(records, words, intake)
    for number, record in enumerate(records[has_header:], start=1):
        if len(record) > len(named):
            found = Words(f"{len(record)} values")
            allowed = f"at most {len(named)}: {', '.join(filter(None, named))}"
            intake.refuse(_source(), f"row {number}", found, allowed)
        yield {
            column: CommaCell(cell) if has_commas else cell
            for column, cell in zip(named, record, strict=False)
            if column and cell
        }


def _columns(
    records: Sequence[Sequence[str]], words: Mapping[str, tuple[str, ...]], intake: Intake
) -> tuple[list[str], bool]:
    """The column of each cell, and whether the first record is a header."""
    header = _header(records[0], words, intake)
    return (list(words), False) if header is None else (header, True)


def _score_columns(
    records: Sequence[Sequence[str]], intake: Intake
) -> tuple[list[str], bool] | None:
    """Columns of rows that hold a bowler's games side by side; None for other rows. Without a
    header they are a name, and numbers that are no games' numbers."""
    games = [scores_file.game_named(cell) for cell in records[0]]
    if any(games) and any(cell.casefold() in SCORE_WORDS["name"] for cell in records[0]):
        plain = ["" if game else cell for cell, game in zip(records[0], games, strict=True)]
        if (named := _header(plain, WIDE_WORDS, intake)) is not None:
            columns = zip(games, named, strict=True)
            return [str(game) if game else name for game, name in columns], True
    second = [record[1] for record in records if len(record) > 1 and record[1]]
    if second and all(map(_is_no_game, second)):
        longest = max(map(len, records))
        return ["name", *map(str, range(1, longest))], False
    return None


def _is_no_game(cell: str) -> bool:
    """Whether a cell is a number, and too large for that of a game."""
    return cell.isdecimal() and (len(cell) > len(str(MOST_GAMES)) or int(cell) > MOST_GAMES)


def _header(
    record: Sequence[str], words: Mapping[str, tuple[str, ...]], intake: Intake
) -> list[str] | None:
    """The column of each cell of a header, empty where it is none of ours; None for a row that is
    no header."""
    of_word = {word: column for column, known in words.items() for word in known}
    said = [" ".join(re.findall(r"[a-z]+", cell.casefold())) for cell in record]
    columns = [of_word.get(word, "") for word in said]
    if not any(columns) or any(re.search(r"\d", cell) for cell in record):
        return None
    for place, (cell, column) in enumerate(zip(record, columns, strict=True), start=1):
        at = f"header, column {place}"
        if cell and not column:
            allowed = f"{did_you_mean(cell, tuple(words))}the columns {', '.join(words)}"
            found = Words(f"{key_shown(cell)}, which is passed over")
            intake.refuse(_source(), at, found, allowed)
        elif column and column in columns[: place - 1]:
            columns[place - 1] = ""
            intake.refuse(_source(), at, cell, "each column once")
    return columns


def _of_squad(row: Table) -> Table:
    """A row in the words of squad.csv: what people write for a hand, a style or a pair."""
    told = dict(row)
    for key, known in (("hand", HANDS), ("style", STYLES), ("cover", {})):
        if key in told:
            said = str(told[key]).casefold()
            told[key] = known.get(said, said)
    if "pair" in told:
        told["pair"] = _pair(str(told["pair"]))
    return told


def _of_score(row: Table) -> Table:
    """A row in the words of scores.csv."""
    told = dict(row)
    if "hand" in told:
        told["hand"] = HANDS.get(str(told["hand"]).casefold(), told["hand"])
    if "pair" in told:
        told["pair"] = _pair(str(told["pair"]))
    return told


def _pair(text: str) -> str:
    """'13/14' and '13' as '13-14'; anything else as it is."""
    match = _LANES.fullmatch(text)
    if match is None:
        return text
    first, second = match.groups()
    if int(first) == 0:
        return text
    left = int(first) if second else int(first) - (int(first) + 1) % 2
    return f"{left}-{second or left + 1}"
