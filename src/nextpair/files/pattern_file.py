"""pattern.toml: the passes of a lane machine, or the name of a measured film."""

from __future__ import annotations

from dataclasses import replace

from pydantic import Field

from nextpair.domain import typical
from nextpair.domain.lane import BOARDS
from nextpair.domain.pattern import (
    NOTHING_TO_BUFF,
    ROUNDING_M,
    Direction,
    Pass,
    Pattern,
    Shape,
)
from nextpair.domain.units import CENTIPOISE_PAS, FOOT_M
from nextpair.files.fields import FileName, Number, Prose, Text, Whole
from nextpair.files.film_csv import read_film
from nextpair.files.forms import Form, fill, make, note_guesses, ordinary
from nextpair.files.intake import NOTHING, Intake, Source, Words
from nextpair.files.text_file import read_toml

GUESSED_IF_LEFT_OUT = ("viscosity_cp",)


class PassForm(Form):
    """One `[[pass]]` table."""

    direction: Direction = Field(description="forward or reverse", examples=[Direction.FORWARD])
    from_board: Whole = Field(description="first board, from the right edge", examples=[1])
    to_board: Whole = Field(description="last board, from the right edge", examples=[39])
    loads: Whole = Field(description="times the head crosses these boards", examples=[1])
    oil_ul: Number = Field(description="microlitres on one board per crossing", examples=[50.0])
    start_ft: Number = Field(description="end of the pass nearer the foul line", examples=[0.0])
    end_ft: Number = Field(description="end of the pass nearer the pins", examples=[60.0])
    taper_start_ft: Number = Field(
        default=0.0, description="length over which the oil rises from nothing after start_ft"
    )
    taper_end_ft: Number = Field(
        default=0.0, description="length over which the oil falls to nothing before end_ft"
    )


class FilmForm(Form):
    """The `[film]` table."""

    csv: FileName = Field(description="name of the measured film's file", examples=["film.csv"])


class PatternForm(Form):
    """The keys of pattern.toml."""

    name: Text = Field(description="name of the pattern", examples=["a pattern"])
    length_ft: Number = Field(description="where the oil ends", examples=[60.0])
    viscosity_cp: Number = Field(
        default=typical.VISCOSITY_PAS / CENTIPOISE_PAS,
        description="viscosity of the oil at 21 degrees C",
    )
    shape: Shape | None = Field(default=None, description="how the oil lies across the lane")
    description: Prose = Field(default="", description="what the pattern is to play")
    buff_ft: Number = Field(
        default=0.0, description="length over which the oil of the brush falls to 1/e"
    )
    passes: tuple[PassForm, ...] = Field(
        default=(), alias="pass", description="passes of the lane machine"
    )
    film: FilmForm | None = Field(default=None, description="a measured film in place of passes")


def read_pattern(source: Source, intake: Intake) -> Pattern:
    """The pattern of a file."""
    raw = read_toml(source, intake)
    if raw is None:
        return ordinary_pattern()
    has_passes, has_film = bool(raw.get("pass")), "film" in raw
    if has_passes == has_film:
        found = Words("both") if has_film else NOTHING
        intake.refuse(source, "pass or film", found, "either [[pass]] tables or one [film] csv")
    form = fill(PatternForm, raw, source, intake)
    note_guesses(form, GUESSED_IF_LEFT_OUT, source, intake)
    unoiled = make(_unoiled, form, source, intake)
    passes = []
    for number, pass_form in enumerate(form.passes, start=1):
        at = f"pass {number}: "
        a_pass = make(_pass, pass_form, source, intake, at)
        if a_pass.end_m > unoiled.length_m + ROUNDING_M:
            allowed = f"at most length_ft ({unoiled.length_m / FOOT_M:g})"
            intake.refuse(source, f"{at}end_ft", pass_form.end_ft, allowed)
        else:
            passes.append(a_pass)
    if form.buff_ft and not any(laid.direction is Direction.FORWARD for laid in form.passes):
        intake.refuse(source, "buff_ft", form.buff_ft, NOTHING_TO_BUFF)
    film = None
    if form.film is not None and not has_passes:
        film = read_film(source.neighbour("film.csv", form.film.csv), intake)
    if intake.has_refused(source) or not (film or passes):
        return unoiled
    return replace(unoiled, film=film, passes=tuple(passes))


def ordinary_pattern() -> Pattern:
    """Stands in for a pattern that could not be read."""
    return _unoiled(ordinary(PatternForm))


_ANY_OIL = (Pass(Direction.FORWARD, 1, BOARDS, 1, 50.0, 0.0, 1.0),)
"""Stands in for the oil of a pattern while everything else about it is checked."""


def _unoiled(form: PatternForm) -> Pattern:
    """The pattern before its oil is known: checks everything else."""
    return Pattern(
        name=form.name,
        length_m=form.length_ft * FOOT_M,
        viscosity_pas=form.viscosity_cp * CENTIPOISE_PAS,
        passes=_ANY_OIL,
        buff_m=form.buff_ft * FOOT_M,
        shape=form.shape,
        description=form.description,
    )


def _pass(form: PassForm) -> Pass:
    return Pass(
        direction=form.direction,
        from_board=form.from_board,
        to_board=form.to_board,
        loads=form.loads,
        oil_ul=form.oil_ul,
        start_m=form.start_ft * FOOT_M,
        end_m=form.end_ft * FOOT_M,
        taper_start_m=form.taper_start_ft * FOOT_M,
        taper_end_m=form.taper_end_ft * FOOT_M,
    )
