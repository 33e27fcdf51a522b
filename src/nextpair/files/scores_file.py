"""scores.csv: what the field bowled, game by game."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path

from pydantic import Field

from nextpair.domain.bowler import Hand
from nextpair.domain.errors import InvalidValueError, require
from nextpair.domain.field_score import FieldScore
from nextpair.files.csv_file import csv_text, read_rows
from nextpair.files.fields import CsvWhole, Text
from nextpair.files.folder import Table
from nextpair.files.forms import Form, fill, keys_of, make
from nextpair.files.intake import Intake, Source, Words
from nextpair.files.squad_file import pair_of
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
MAY_LACK = tuple(column for column in COLUMNS if column not in NEEDED)


def load_scores(path: str | os.PathLike[str]) -> tuple[FieldScore, ...]:
    """The scores of a file, each once. Raises InputRefusedError with every problem."""
    intake = Intake()
    scores = read_scores(Source.first(Path(path)), intake)
    intake.close()
    return scores


def read_scores(source: Source, intake: Intake) -> tuple[FieldScore, ...]:
    """The scores of a file, wherever it lies, in its order."""
    scores: dict[tuple[str, int], FieldScore] = {}
    place_of: dict[tuple[str, int], str] = {}
    for row in read_rows(source, COLUMNS, intake, MAY_LACK):
        score = read_score(row.cells, source, intake, row.at)
        bowled = score.name, score.game
        if scores.setdefault(bowled, score) is not score:
            found = Words(f"game {score.game} of {score.name!r} again, as in {place_of[bowled]}")
            intake.refuse(source, f"{row.at}game", found, "each game of a bowler once")
        place_of.setdefault(bowled, row.place)
    return tuple(scores.values())


def read_score(cells: Table, source: Source, intake: Intake, at: str) -> FieldScore:
    """The score of one row."""
    return make(_score, fill(ScoreRow, cells, source, intake, at), source, intake, at)


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
    """Refuse a written game that is not over, or is not its score."""
    try:
        game = parse_game(score.balls)
    except InvalidValueError as wrong:
        allowed = f"{wrong.allowed} in {wrong.field}"
        raise InvalidValueError("balls", str(wrong.found), allowed) from None
    require(game.is_complete, "balls", score.balls, "a game that is over")
    require(game.score == score.score, "score", score.score, f"{game.score}, as the balls add up")
