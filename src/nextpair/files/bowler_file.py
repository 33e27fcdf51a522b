"""bowler.toml: hand, release, how well it repeats, what lies in reach, what to take care of."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from pydantic import Field

from nextpair.domain import typical
from nextpair.domain.bowler import Bowler, Hand, Reach, Release, Scatter, Style
from nextpair.domain.units import DEGREE_RAD, INCH_M, MPH_MPS, RPM_RADPS
from nextpair.files.fields import Flag, Number, Span, Text
from nextpair.files.forms import Form, fill, keys_of, make, note_guesses, ordinary
from nextpair.files.intake import Intake, Source
from nextpair.files.text_file import read_toml


class ScatterForm(Form):
    """The `[scatter]` table: one standard deviation of each."""

    laydown_boards: Number | None = Field(default=None, description="spread of the lay-down board")
    launch_angle_deg: Number | None = Field(default=None, description="spread of the launch angle")
    speed_mph: Number | None = Field(default=None, description="spread of the speed")
    rev_rate_rpm: Number | None = Field(default=None, description="spread of the rev rate")


class RangeForm(Form):
    """The `[range]` table: lowest and highest that the bowler can repeat."""

    laydown_boards: Span | None = Field(
        default=None, description="lay-down boards, from the right edge"
    )
    launch_angle_deg: Span | None = Field(
        default=None, description="launch angles, positive toward the gutter on the hand's side"
    )
    speed_change_mph: Span | None = Field(default=None, description="changes of speed")
    axis_rotation_change_deg: Span | None = Field(
        default=None, description="changes of axis rotation"
    )


class CareForm(Form):
    """The `[care]` table, which is kept private."""

    watch: tuple[Text, ...] = Field(default=(), description="what to take care of")
    straps: tuple[Text, ...] = Field(default=(), description="braces and tapes that are worn")


class BowlerForm(Form):
    """The keys of bowler.toml."""

    name: Text = Field(description="name of the bowler", examples=["a bowler"])
    hand: Hand = Field(description="right or left", examples=[Hand.RIGHT])
    style: Style = Field(default=typical.STYLE, description="how the ball is held")
    speed_mph: Number | None = Field(default=None, description="speed at release")
    rev_rate_rpm: Number | None = Field(default=None, description="rev rate at release")
    axis_rotation_deg: Number | None = Field(default=None, description="axis rotation at release")
    axis_tilt_deg: Number | None = Field(default=None, description="axis tilt at release")
    pap_over_in: Number = Field(
        default=typical.PAP_OVER_M / INCH_M,
        description="positive axis point, over from the grip's centre",
    )
    pap_up_in: Number = Field(
        default=typical.PAP_UP_M / INCH_M,
        description="positive axis point, up from the grip's centre",
    )
    slide_to_laydown_boards: Number = Field(
        default=typical.SLIDE_TO_LAYDOWN_BOARDS,
        description="from the lay-down board to the slide board",
    )
    loft_in: Number | None = Field(
        default=None, description="height of the ball's fall to the lane"
    )
    average: Number = Field(description="average of the bowler", examples=[180.0])
    side_pots: Flag = Field(default=True, description="whether side pots and brackets are shown")
    home_currency: Text | None = Field(
        default=None, description="currency that a season is added up in, as EUR"
    )
    scatter: ScatterForm = Field(default=ScatterForm(), description="how far single shots stray")
    range: RangeForm = Field(default=RangeForm(), description="what the bowler can repeat")
    care: CareForm = Field(default=CareForm(), description="what to take care of")


NEVER_GUESSED = (
    "name", "hand", "average", "side_pots", "home_currency", "scatter", "range", "care",
)  # fmt: skip
GUESSED_IF_LEFT_OUT = tuple(key for key in keys_of(BowlerForm) if key not in NEVER_GUESSED)


def read_bowler(source: Source, intake: Intake) -> Bowler:
    """The bowler of a file."""
    raw = read_toml(source, intake)
    if raw is None:
        return ordinary_bowler()
    form = fill(BowlerForm, raw, source, intake)
    note_guesses(form, GUESSED_IF_LEFT_OUT, source, intake)
    note_guesses(form.scatter, keys_of(ScatterForm), source, intake, at="scatter.")
    note_guesses(form.range, keys_of(RangeForm), source, intake, at="range.")
    bowler = make(_bowler, form, source, intake)
    scatter, reach = bowler.scatter, bowler.reach
    return replace(
        bowler,
        scatter=make(
            partial(_scatter, typical_scatter=scatter),
            form.scatter,
            source,
            intake,
            at="scatter.",
            strip="scatter.",
        ),
        reach=make(
            partial(_reach, typical_reach=reach),
            form.range,
            source,
            intake,
            at="range.",
            strip="range.",
        ),
    )


def ordinary_bowler() -> Bowler:
    """Stands in for a bowler who could not be read."""
    return _bowler(ordinary(BowlerForm))


def _bowler(form: BowlerForm) -> Bowler:
    """The bowler with typical scatter and reach."""
    usual = typical.release_of(form.style)
    release = Release(
        speed_mps=_si(form.speed_mph, MPH_MPS, usual.speed_mps),
        rev_rate_radps=_si(form.rev_rate_rpm, RPM_RADPS, usual.rev_rate_radps),
        axis_rotation_rad=_si(form.axis_rotation_deg, DEGREE_RAD, usual.axis_rotation_rad),
        axis_tilt_rad=_si(form.axis_tilt_deg, DEGREE_RAD, usual.axis_tilt_rad),
        loft_m=_si(form.loft_in, INCH_M, usual.loft_m),
    )
    return Bowler(
        name=form.name,
        hand=form.hand,
        style=form.style,
        release=release,
        pap_over_m=form.pap_over_in * INCH_M,
        pap_up_m=form.pap_up_in * INCH_M,
        slide_to_laydown_boards=form.slide_to_laydown_boards,
        average=form.average,
        scatter=typical.scatter_of(form.average, release),
        reach=typical.reach_of(form.hand, form.slide_to_laydown_boards),
        care=form.care.watch,
        straps=form.care.straps,
        side_pots=form.side_pots,
        home_currency=form.home_currency,
    )


def _scatter(form: ScatterForm, typical_scatter: Scatter) -> Scatter:
    usual = typical_scatter
    return replace(
        usual,
        laydown_boards=_si(form.laydown_boards, 1.0, usual.laydown_boards),
        launch_angle_rad=_si(form.launch_angle_deg, DEGREE_RAD, usual.launch_angle_rad),
        speed_mps=_si(form.speed_mph, MPH_MPS, usual.speed_mps),
        rev_rate_radps=_si(form.rev_rate_rpm, RPM_RADPS, usual.rev_rate_radps),
    )


def _reach(form: RangeForm, typical_reach: Reach) -> Reach:
    usual = typical_reach
    return Reach(
        laydown_boards=_span_si(form.laydown_boards, 1.0, usual.laydown_boards),
        launch_angle_rad=_span_si(form.launch_angle_deg, DEGREE_RAD, usual.launch_angle_rad),
        speed_change_mps=_span_si(form.speed_change_mph, MPH_MPS, usual.speed_change_mps),
        axis_rotation_change_rad=_span_si(
            form.axis_rotation_change_deg, DEGREE_RAD, usual.axis_rotation_change_rad
        ),
    )


def _si(value: float | None, unit: float, otherwise: float) -> float:
    """A given value in SI, or the typical one."""
    return otherwise if value is None else value * unit


def _span_si(
    span: tuple[float, float] | None, unit: float, otherwise: tuple[float, float]
) -> tuple[float, float]:
    return otherwise if span is None else (span[0] * unit, span[1] * unit)
