"""squad.csv: who bowls where, with what release and cover."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import partial

from pydantic import Field

from nextpair.domain import typical
from nextpair.domain.ball import Cover
from nextpair.domain.bowler import Bowler, Hand, Style
from nextpair.domain.errors import require
from nextpair.domain.event import Entrant, Pair
from nextpair.domain.units import MPH_MPS, RPM_RADPS
from nextpair.files.csv_file import Row, read_rows
from nextpair.files.fields import CsvNumber, Text
from nextpair.files.forms import Form, fill, keys_of, make, note_guesses
from nextpair.files.intake import Intake, Source, Words

_PAIR = re.compile(r"(\d{1,6})\s*-\s*(\d{1,6})", re.ASCII)
_ANY_PAIR = "1-2"
_PAIR_WORDS = "an odd lane and the next even one, such as 13-14"


class EntrantRow(Form):
    """One row of squad.csv; an empty cell is guessed."""

    pair: Text = Field(description=_PAIR_WORDS, examples=[_ANY_PAIR])
    name: Text = Field(description="name of the bowler", examples=["a bowler"])
    hand: Hand | None = Field(default=None, description="right or left")
    style: Style | None = Field(default=None, description="how the ball is held")
    rev_rate_rpm: CsvNumber | None = Field(default=None, description="rev rate at release")
    speed_mph: CsvNumber | None = Field(default=None, description="speed at release")
    cover: Cover = Field(default=typical.SQUAD_COVER, description="cover of the ball mostly used")


COLUMNS = keys_of(EntrantRow)
GUESSED_IF_LEFT_OUT = ("hand", "style", "rev_rate_rpm", "speed_mph", "cover")
GUESSED_IN_OWN_ROW = ("cover",)


@dataclass(frozen=True, slots=True)
class Owner:
    """Whose sheet it is: their own row's empty cells come from bowler.toml.

    Where that file was refused, the bowler is an ordinary one in its place and not `known`.
    """

    name_in_squad: str
    bowler: Bowler
    file_name: str
    known: bool


def read_squad(source: Source, owner: Owner, lanes: int, intake: Intake) -> tuple[Entrant, ...]:
    """The entrants of a file, in its order, in a house of so many lanes."""
    squad: dict[str, Entrant] = {}
    line_of: dict[str, int] = {}
    for row in read_rows(source, COLUMNS, intake):
        entrant, at = _listed(row, source, owner, intake), f"line {row.line}: "
        if entrant.pair.lanes[1] > lanes:
            found = Words(str(entrant.pair))
            intake.refuse(source, f"{at}pair", found, f"lanes of the house, 1 to {lanes}")
            entrant = replace(entrant, pair=_pair(_ANY_PAIR))
        if entrant.name in squad:
            found = Words(f"{entrant.name!r} again, as in line {line_of[entrant.name]}")
            intake.refuse(source, f"{at}name", found, "each name once")
        else:
            squad[entrant.name], line_of[entrant.name] = entrant, row.line
    if not squad:
        only = EntrantRow(pair=_ANY_PAIR, name=owner.name_in_squad)
        return (_entrant(only, owner.bowler),)
    return tuple(squad.values())


def _listed(row: Row, source: Source, owner: Owner, intake: Intake) -> Entrant:
    at = f"line {row.line}: "
    form = fill(EntrantRow, row.cells, source, intake, at)
    own = owner.bowler if form.name == owner.name_in_squad else None
    if own is not None and owner.known and form.hand not in (None, own.hand):
        found = Words(f"{form.hand} for {form.name}, but {own.hand} in {owner.file_name}")
        intake.refuse(source, f"{at}hand", found, "the same hand in both files")
    guessed = GUESSED_IN_OWN_ROW if own is not None else GUESSED_IF_LEFT_OUT
    note_guesses(form, guessed, source, intake, of=form.name)
    return make(partial(_entrant, own=own), form, source, intake, at)


def _entrant(form: EntrantRow, own: Bowler | None) -> Entrant:
    style = form.style or (own.style if own is not None else typical.STYLE)
    usual = own.release if own is not None else typical.release_of(style)
    return Entrant(
        pair=_pair(form.pair),
        name=form.name,
        hand=form.hand or (own.hand if own is not None else typical.HAND),
        style=style,
        rev_rate_radps=(
            usual.rev_rate_radps if form.rev_rate_rpm is None else form.rev_rate_rpm * RPM_RADPS
        ),
        speed_mps=usual.speed_mps if form.speed_mph is None else form.speed_mph * MPH_MPS,
        cover=form.cover,
    )


def _pair(text: str) -> Pair:
    match = _PAIR.fullmatch(text)
    left, right = (int(lane) for lane in match.groups()) if match else (0, 0)
    require(right == left + 1, "pair", text, _PAIR_WORDS)
    return Pair(left)
