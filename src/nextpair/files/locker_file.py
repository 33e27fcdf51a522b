"""locker.csv: all balls that the bowler owns."""

from __future__ import annotations

from pydantic import Field

from nextpair.domain import typical
from nextpair.domain.ball import (
    LARGEST_DIFFERENTIAL_M,
    LARGEST_GRIT,
    SMALLEST_GRIT,
    Balance,
    Ball,
    Cover,
    Layout,
    Role,
    Surface,
    Tool,
)
from nextpair.domain.errors import require_within
from nextpair.domain.units import DEGREE_RAD, INCH_M, OUNCE_KG, POUND_KG
from nextpair.files.csv_file import read_rows
from nextpair.files.fields import CsvNumber, Grit, Text
from nextpair.files.folder import Table
from nextpair.files.forms import Form, fill, keys_of, make, note_guesses, ordinary
from nextpair.files.intake import Intake, Source, Words


class BallRow(Form):
    """One row of locker.csv; an empty cell is guessed."""

    name: Text = Field(description="name of the ball", examples=["a ball"])
    weight_lb: CsvNumber = Field(default=typical.BALL_MASS_KG / POUND_KG, description="weight")
    rg_in: CsvNumber | None = Field(default=None, description="RG about the low axis")
    differential_in: CsvNumber | None = Field(
        default=None, description="total differential", examples=[LARGEST_DIFFERENTIAL_M / INCH_M]
    )
    intermediate_in: CsvNumber = Field(
        default=typical.INTERMEDIATE_M / INCH_M, description="intermediate differential"
    )
    cover: Cover = Field(description="material of the cover", examples=[Cover.SOLID])
    surface_grit: Grit | None = Field(default=None, description="grit of the finish, or polished")
    games_on_surface: CsvNumber = Field(
        default=typical.GAMES_ON_SURFACE, description="games since the surface was made"
    )
    surface_by: Tool = Field(
        default=Tool.SPINNER, description="tool that the finish was made with"
    )
    grit_before: Grit | None = Field(
        default=None, description="grit of the finish that was worked on, or polished"
    )
    pin_to_pap_in: CsvNumber = Field(
        default=typical.LAYOUT.pin_to_pap_m / INCH_M, description="pin to PAP distance"
    )
    drilling_angle_deg: CsvNumber = Field(
        default=typical.LAYOUT.drilling_angle_rad / DEGREE_RAD, description="drilling angle"
    )
    val_angle_deg: CsvNumber = Field(
        default=typical.LAYOUT.val_angle_rad / DEGREE_RAD, description="VAL angle"
    )
    role: Role | None = Field(default=None, description="strike or spare")
    top_weight_oz: CsvNumber = Field(default=0.0, description="static weight toward the grip")
    side_weight_oz: CsvNumber = Field(
        default=0.0, description="static weight toward the axis point's side"
    )
    finger_weight_oz: CsvNumber = Field(
        default=0.0, description="static weight toward the fingers, negative toward the thumb"
    )


COLUMNS = keys_of(BallRow)
STATIC_WEIGHTS = ("top_weight_oz", "side_weight_oz", "finger_weight_oz")
MAY_LACK = ("surface_by", "grit_before", *STATIC_WEIGHTS)
"""Columns that a file may leave out: then every finish was made on a spinner, and balls are in
balance."""
GUESSED_IF_LEFT_OUT = tuple(
    column for column in COLUMNS if column not in ("name", "cover", *MAY_LACK)
)


def read_locker(source: Source, intake: Intake) -> tuple[Ball, ...]:
    """The balls of a file, in its order."""
    locker: dict[str, Ball] = {}
    place_of: dict[str, str] = {}
    for row in read_rows(source, COLUMNS, intake, MAY_LACK):
        ball = read_ball(row.cells, source, intake, row.at)
        if ball.name in locker:
            found = Words(f"{ball.name!r} again, as in {place_of[ball.name]}")
            intake.refuse(source, f"{row.at}name", found, "each name once")
        else:
            locker[ball.name], place_of[ball.name] = ball, row.place
    return tuple(locker.values()) or (ordinary_ball(),)


def read_ball(cells: Table, source: Source, intake: Intake, at: str = "") -> Ball:
    """The ball of one row."""
    form = fill(BallRow, cells, source, intake, at)
    guessed = GUESSED_IF_LEFT_OUT + ("grit_before",) * (form.surface_by is Tool.HAND)
    note_guesses(form, guessed, source, intake, of=form.name)
    return make(_ball, form, source, intake, at)


def ordinary_ball() -> Ball:
    """Stands in for a ball that could not be read."""
    return _ball(ordinary(BallRow))


def _ball(form: BallRow) -> Ball:
    usual = typical.ball_of(form.cover)
    return Ball(
        name=form.name,
        mass_kg=form.weight_lb * POUND_KG,
        rg_m=usual.rg_m if form.rg_in is None else form.rg_in * INCH_M,
        differential_m=(
            usual.differential_m if form.differential_in is None else form.differential_in * INCH_M
        ),
        intermediate_m=form.intermediate_in * INCH_M,
        cover=form.cover,
        surface=_surface(form, usual.surface_grit),
        layout=Layout(
            pin_to_pap_m=form.pin_to_pap_in * INCH_M,
            drilling_angle_rad=form.drilling_angle_deg * DEGREE_RAD,
            val_angle_rad=form.val_angle_deg * DEGREE_RAD,
        ),
        role=form.role or usual.role,
        balance=Balance.of_static_weights(
            form.weight_lb * POUND_KG,
            top_kg=form.top_weight_oz * OUNCE_KG,
            side_kg=form.side_weight_oz * OUNCE_KG,
            finger_kg=form.finger_weight_oz * OUNCE_KG,
        ),
    )


def _surface(form: BallRow, usual_grit: int | None) -> Surface:
    """The finish of a row; `usual_grit` stands for one that is left out."""

    def grit(named: int | str | None) -> int | None:
        if named is None:
            return usual_grit
        return named if isinstance(named, int) else None

    if isinstance(form.grit_before, int):
        require_within("grit_before", form.grit_before, SMALLEST_GRIT, LARGEST_GRIT, "or polished")
    traced = form.surface_by is Tool.HAND or form.grit_before is not None
    return Surface(
        grit(form.surface_grit),
        form.games_on_surface,
        form.surface_by,
        Surface(grit(form.grit_before)) if traced else None,
    )
