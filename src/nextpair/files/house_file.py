"""house.toml: a bowling centre and what is known of its lanes."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from pydantic import Field

from nextpair.domain import typical
from nextpair.domain.errors import require_within
from nextpair.domain.house import Approach, House, LaneSurface, LaneTrait, Pinfall
from nextpair.domain.units import INCH_M
from nextpair.files.fields import FileName, Number, Text, Whole
from nextpair.files.forms import Form, fill, make, note_guesses, ordinary
from nextpair.files.heights_csv import read_heights
from nextpair.files.intake import Intake, Source
from nextpair.files.text_file import read_toml

GUESSED_IF_LEFT_OUT = ("surface", "surface_age_years", "pinfall", "temperature_c")


class LaneForm(Form):
    """One `[[lane]]` table."""

    number: Whole = Field(description="number of the lane", examples=[1])
    tilt_in: Number = Field(
        default=0.0, description="mean cross tilt, right edge lower = positive"
    )
    friction: Number = Field(default=1.0, description="factor on the house's dry friction")
    heights: FileName | None = Field(
        default=None, description="name of the file of the surface's heights, on top of the tilt"
    )
    notes: tuple[Text, ...] = Field(default=(), description="what else is known of the lane")


class HouseForm(Form):
    """The keys of house.toml."""

    name: Text = Field(description="name of the house", examples=["a house"])
    lanes: Whole = Field(description="how many lanes the house has", examples=[200])
    surface: LaneSurface = Field(
        default=typical.LANE_SURFACE, description="what the lane bed is made of"
    )
    surface_age_years: Number = Field(
        default=typical.SURFACE_AGE_YEARS, description="years since the surface was laid or sanded"
    )
    approach: Approach = Field(
        default=Approach.MEDIUM, description="how the approach lets a sole slide"
    )
    pinfall: Pinfall = Field(default=Pinfall.FREE, description="how pins are set")
    lane_machine: Text = Field(default="", description="the lane machine, for the notes")
    temperature_c: Number = Field(
        default=typical.TEMPERATURE_C, description="temperature of the lanes"
    )
    friction: Number = Field(default=1.0, description="factor on dry friction of all its lanes")
    ball_return: Text = Field(default="", description="what of the ball returns gets in the way")
    ceiling: Text = Field(default="", description="what of the ceiling gets in the way")
    photos: tuple[FileName, ...] = Field(default=(), description="names of picture files")
    notes: tuple[Text, ...] = Field(default=(), description="what else is known of the house")
    private_notes: tuple[Text, ...] = Field(
        default=(), description="notes that are left out when the house is shared"
    )
    lane: tuple[LaneForm, ...] = Field(default=(), description="what is known of single lanes")


def read_house(source: Source, intake: Intake) -> House:
    """The house of a file."""
    raw = read_toml(source, intake)
    if raw is None:
        return ordinary_house()
    form = fill(HouseForm, raw, source, intake)
    note_guesses(form, GUESSED_IF_LEFT_OUT, source, intake)
    house = make(_house, form, source, intake)
    traits: dict[int, LaneTrait] = {}
    for place, lane in enumerate(form.lane, start=1):
        at = f"lane table {place}: "
        trait = make(partial(_trait, lanes=house.lanes), lane, source, intake, at, strip="lane.")
        if lane.heights is not None:
            heights = read_heights(source.neighbour(f"{at}heights", lane.heights), intake)
            trait = replace(trait, heights=heights)
        if traits.setdefault(trait.number, trait) is not trait:
            intake.refuse(source, f"{at}number", trait.number, "each lane once")
    return replace(house, traits=tuple(traits.values()))


def ordinary_house() -> House:
    """Stands in for a house that could not be read."""
    return _house(ordinary(HouseForm))


def _trait(form: LaneForm, lanes: int) -> LaneTrait:
    require_within("number", form.number, 1, lanes, "(lanes of this house)")
    return LaneTrait(
        form.number, tilt_m=form.tilt_in * INCH_M, friction=form.friction, notes=form.notes
    )


def _house(form: HouseForm) -> House:
    return House(
        name=form.name,
        lanes=form.lanes,
        surface=form.surface,
        surface_age_years=form.surface_age_years,
        approach=form.approach,
        pinfall=form.pinfall,
        lane_machine=form.lane_machine,
        temperature_c=form.temperature_c,
        notes=form.notes,
        friction=form.friction,
        ball_return=form.ball_return,
        ceiling=form.ceiling,
        photos=form.photos,
        private_notes=form.private_notes,
    )
