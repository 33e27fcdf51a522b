"""scores.csv: what the field bowled, a row a game, or a row a bowler with a column a game."""

from __future__ import annotations

import os
import re
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from pydantic import Field

from nextpair.domain.bowler import Hand
from nextpair.domain.errors import InvalidValueError, require
from nextpair.domain.field_score import MOST_GAMES, FieldScore
from nextpair.domain.format import Counting
from nextpair.files.csv_file import Row, csv_text, header_of, read_rows
from nextpair.files.fields import CsvWhole, Text
from nextpair.files.folder import Table
from nextpair.files.forms import Form, fill, keys_of, make
from nextpair.files.intake import Intake, Source, Words
from nextpair.files.squad_file import pair_of
from nextpair.scoring.frames import Game
from nextpair.scoring.notation import parse_game


class ScoreRow(Form):
    """One row of scores.csv."""

    name: Text = Field(description="name of the bowler", examples=["a bowler"])
    game: CsvWhole = Field(description="game, from 1", examples=[1])
    score: CsvWhole = Field(description="pins of the game", examples=[0])
    handicap: CsvWhole = Field(default=0, description="pins added to it")
    squad: Text = Field(default="", description="squad that bowled it, such as A")
    hand: Hand | None = Field(default=None, description="right or left")
    pair: Text = Field(default="", description="pair that it was bowled on")
    average: CsvWhole | None = Field(default=None, description="average entered with")
    balls: Text = Field(default="", description="the game as a score sheet has it")


COLUMNS = keys_of(ScoreRow)
NEEDED = ("name", "game", "score")
ALWAYS_WRITTEN = (*NEEDED, "handicap")
WIDE_FURTHER = ("handicap", "squad", "hand", "average")
TOTAL = "total"
GAME_COLUMN = re.compile(r"(?:game|g)?\s*(\d{1,2})", re.ASCII | re.IGNORECASE)
Bowled = tuple[Row, str, FieldScore]
"""A score with the row and the column where it stands."""
MAY_LACK = tuple(column for column in COLUMNS if column not in NEEDED)


def load_scores(path: str | os.PathLike[str]) -> tuple[FieldScore, ...]:
    """The scores of a file, each once. Raises InputRefusedError with every problem."""
    intake = Intake()
    scores = read_scores(Source.first(Path(path)), intake)
    intake.close()
    return scores


def read_scores(source: Source, intake: Intake) -> tuple[FieldScore, ...]:
    """The scores of a file, wherever it lies, in its order."""
    return tuple(score for _, score in placed_scores(source, intake))


def placed_scores(source: Source, intake: Intake) -> Iterator[tuple[str, FieldScore]]:
    """The scores of a file in its order, each with the place of its row."""
    place_of: dict[tuple[str, int], str] = {}
    header = header_of(source, Intake())
    rows = _wide(source, header, intake) if is_wide(header) else _long(source, intake)
    for row, column, score in rows:
        bowled = score.name, score.game
        if bowled in place_of:
            found = Words(f"game {score.game} of {score.name!r} again, as in {place_of[bowled]}")
            intake.refuse(source, f"{row.at}{column}", found, "each game of a bowler once")
        else:
            place_of[bowled] = row.place
            yield row.place, score


def game_named(column: str) -> int | None:
    """The game of a column such as 1, g1 or game 1."""
    match = GAME_COLUMN.fullmatch(column.strip())
    game = int(match.group(1)) if match else 0
    return game if 1 <= game <= MOST_GAMES else None


def is_wide(header: Sequence[str]) -> bool:
    """Whether a header has a column for each game, and so a row for each bowler."""
    return any(map(game_named, header)) and not {"game", "score"} & set(header)


def read_score(cells: Table, source: Source, intake: Intake, at: str) -> FieldScore:
    """The score of one row."""
    return make(_score, fill(ScoreRow, cells, source, intake, at), source, intake, at)


def _long(source: Source, intake: Intake) -> Iterator[Bowled]:
    """Rows of a game each."""
    for row in read_rows(source, COLUMNS, intake, MAY_LACK):
        yield row, "game", read_score(row.cells, source, intake, row.at)


def _wide(source: Source, header: Sequence[str], intake: Intake) -> Iterator[Bowled]:
    """Rows of a bowler each, cells of a game each; an empty one is not bowled yet."""
    games = {column: game for column in header if (game := game_named(column))}
    columns = ("name", *games, *WIDE_FURTHER, TOTAL)
    for row in read_rows(source, columns, intake, columns[1:]):
        facts: Table = {
            key: cell for key, cell in row.cells.items() if key not in games and key != TOTAL
        }
        bowled, is_sound = [], True
        for column, game in games.items():
            if (cell := row.cells.get(column)) is not None:
                heard = Intake()
                cells: Table = facts | {"game": game, "score": cell}
                bowled.append((row, column, read_score(cells, source, heard, "")))
                is_sound &= not heard.problems
                for problem in heard.problems:
                    place = column if problem.place == "score" else problem.place
                    found = Words(problem.found)
                    intake.refuse(source, f"{row.at}{place}", found, problem.allowed)
        if is_sound and TOTAL in row.cells:
            _check_total(row, [score for _, _, score in bowled], source, intake)
        yield from bowled


def _check_total(row: Row, scores: Sequence[FieldScore], source: Source, intake: Intake) -> None:
    """Refuse a total that is neither that of the games nor with the handicap added."""
    sums = {sum(score.score for score in scores), sum(score.total for score in scores)}
    if str(row.cells[TOTAL]) not in set(map(str, sums)):
        allowed = f"{' or '.join(map(str, sorted(sums)))}, as the games add up"
        intake.refuse(source, f"{row.at}{TOTAL}", row.cells[TOTAL], allowed)


def scores_text(scores: Iterable[FieldScore]) -> str:
    """The file of some scores; read again, they are the same. What is known of none of them has no
    column."""
    scores = tuple(scores)
    columns = [
        column
        for column in COLUMNS
        if column in ALWAYS_WRITTEN
        or any(getattr(score, column) not in ("", None) for score in scores)
    ]
    return csv_text(
        columns, ({column: getattr(score, column) for column in columns} for score in scores)
    )


def _score(form: ScoreRow) -> FieldScore:
    score = FieldScore(**dict(form) | {"pair": form.pair and str(pair_of(form.pair))})
    if score.balls:
        _require_sum(score)
    return score


def _require_sum(score: FieldScore) -> None:
    """Refuse a written game that is not over, or is not its score by either counting."""
    sums = [game.score for game in _countings(score.balls) if game.score is not None]
    require(bool(sums), "balls", score.balls, "a game that is over")
    allowed = f"{' or '.join(map(str, sums))}, as the balls add up"
    require(score.score in sums, "score", score.score, allowed)


def _countings(balls: str) -> tuple[Game, ...]:
    """The game by each counting under which it can be bowled. Raises InvalidValueError where that
    is none."""
    games, refused = [], None
    for counting in Counting:
        try:
            games.append(parse_game(balls, counting))
        except InvalidValueError as wrong:
            refused = refused or wrong
    if refused is not None and not games:
        allowed = f"{refused.allowed} in {refused.field}"
        raise InvalidValueError("balls", str(refused.found), allowed)
    return tuple(games)
