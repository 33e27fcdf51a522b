"""squad.csv: who bowls where, with what release and cover."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import partial

from pydantic import Field

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
    """One row of a squad's file; an empty cell is not known. Without a name it is somebody."""

    pair: Text = Field(description=_PAIR_WORDS, examples=[_ANY_PAIR])
    name: Text | None = Field(default=None, description="name of the bowler")
    hand: Hand | None = Field(default=None, description="right or left")
    style: Style | None = Field(default=None, description="how the ball is held")
    rev_rate_rpm: CsvNumber | None = Field(default=None, description="rev rate at release")
    speed_mph: CsvNumber | None = Field(default=None, description="speed at release")
    cover: Cover | None = Field(default=None, description="cover of the ball mostly used")


COLUMNS = keys_of(EntrantRow)
GUESSED_IF_LEFT_OUT = ("hand", "style", "rev_rate_rpm", "speed_mph", "cover")


@dataclass(frozen=True, slots=True)
class Owner:
    """Whose sheet it is: their own row's empty cells come from bowler.toml, and what they throw
    from their locker.

    Where that file was refused, the bowler is an ordinary one in its place and not `known`.
    """

    name_in_squad: str
    bowler: Bowler
    file_name: str
    known: bool


def read_squad(source: Source, owner: Owner, lanes: int, intake: Intake) -> tuple[Entrant, ...]:
    """The entrants of a file, in its order, in a house of so many lanes."""
    squad: dict[str, Entrant] = {}
    place_of: dict[str, str] = {}
    for row in read_rows(source, COLUMNS, intake):
        entrant = _listed(row, source, owner, intake)
        if entrant.pair.lanes[1] > lanes:
            found = Words(str(entrant.pair))
            intake.refuse(source, f"{row.at}pair", found, f"lanes of the house, 1 to {lanes}")
            entrant = replace(entrant, pair=pair_of(_ANY_PAIR))
        if entrant.name in squad:
            found = Words(f"{entrant.name!r} again, as in {place_of[entrant.name]}")
            intake.refuse(source, f"{row.at}name", found, "each name once")
        else:
            squad[entrant.name], place_of[entrant.name] = entrant, row.place
    return tuple(squad.values()) or ordinary_squad(owner)


def ordinary_squad(owner: Owner) -> tuple[Entrant, ...]:
    """Stands in for a squad that could not be read."""
    name = owner.name_in_squad or owner.bowler.name
    return (_entrant(EntrantRow(pair=_ANY_PAIR, name=name), owner.bowler, name),)


def _listed(row: Row, source: Source, owner: Owner, intake: Intake) -> Entrant:
    at = row.at
    form = fill(EntrantRow, row.cells, source, intake, at)
    own = owner.bowler if form.name == owner.name_in_squad else None
    if own is not None and owner.known and form.hand not in (None, own.hand):
        found = Words(f"{form.hand} for {form.name}, but {own.hand} in {owner.file_name}")
        intake.refuse(source, f"{at}hand", found, "the same hand in both files")
    if own is None:
        who = form.name or f"somebody on {form.pair}"
        note_guesses(form, GUESSED_IF_LEFT_OUT, source, intake, of=who)
    somebody = f"somebody in row {row.number} of {source.name}"
    return make(partial(_entrant, own=own, somebody=somebody), form, source, intake, at)


def _entrant(form: EntrantRow, own: Bowler | None, somebody: str) -> Entrant:
    told = Entrant(
        pair=pair_of(form.pair),
        name=form.name or somebody,
        hand=form.hand,
        style=form.style,
        rev_rate_radps=None if form.rev_rate_rpm is None else form.rev_rate_rpm * RPM_RADPS,
        speed_mps=None if form.speed_mph is None else form.speed_mph * MPH_MPS,
        cover=form.cover,
    )
    if own is None:
        return told
    usual = own.release
    return replace(
        told,
        hand=own.hand,
        style=told.style or own.style,
        rev_rate_radps=(
            usual.rev_rate_radps if told.rev_rate_radps is None else told.rev_rate_radps
        ),
        speed_mps=usual.speed_mps if told.speed_mps is None else told.speed_mps,
    )


def pair_of(text: str) -> Pair:
    """The pair that a text such as 13-14 names. Raises InvalidValueError."""
    match = _PAIR.fullmatch(text)
    left, right = (int(lane) for lane in match.groups()) if match else (0, 0)
    require(right == left + 1, "pair", text, _PAIR_WORDS)
    return Pair(left)
