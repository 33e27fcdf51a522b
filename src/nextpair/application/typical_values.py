"""What stands for the keys that a record leaves out, in the units of its file: shown in a form
where nothing is filled in."""

from __future__ import annotations

import math
from enum import StrEnum
from typing import Any, TypeVar

from nextpair.domain import typical
from nextpair.domain.ball import Cover
from nextpair.domain.bowler import Hand, Release, Style
from nextpair.domain.record import Document, Kind
from nextpair.domain.units import DEGREE_RAD, INCH_M, MPH_MPS, RPM_RADPS

Typical = dict[str, Any]
"""Values by the path of their key, as `scatter.speed_mph`."""
POLISHED = "polished"
DIGITS = 3

Choice = TypeVar("Choice", bound=StrEnum)


def typical_values(kind: Kind, document: Document) -> Typical:
    """What is typical beside what a document says, however unfinished that is. Only keys whose
    typical value hangs on other ones: the others are in the guide of the files."""
    if kind is Kind.BOWLER:
        return _of_bowler(document)
    if kind is Kind.BALL:
        return _of_ball(document)
    return {}


def _of_bowler(document: Document) -> Typical:
    usual = typical.release_of(_choice(Style, document.get("style")) or typical.STYLE)
    told = {
        "speed_mph": usual.speed_mps / MPH_MPS,
        "rev_rate_rpm": usual.rev_rate_radps / RPM_RADPS,
        "axis_rotation_deg": usual.axis_rotation_rad / DEGREE_RAD,
        "axis_tilt_deg": usual.axis_tilt_rad / DEGREE_RAD,
        "loft_in": usual.loft_m / INCH_M,
    }
    return _rounded(told | _scatter(document, usual) | _reach(document))


def _scatter(document: Document, usual: Release) -> Typical:
    """By the average; that of the rev rate also by the rev rate itself."""
    average = _number(document.get("average"))
    if average is None:
        return {}
    scatter = typical.scatter_of(average, usual)
    rev_rate_rpm = _number(document.get("rev_rate_rpm"))
    share = scatter.rev_rate_radps / usual.rev_rate_radps
    own_rpm = usual.rev_rate_radps / RPM_RADPS if rev_rate_rpm is None else rev_rate_rpm
    return {
        "scatter.laydown_boards": scatter.laydown_boards,
        "scatter.launch_angle_deg": scatter.launch_angle_rad / DEGREE_RAD,
        "scatter.speed_mph": scatter.speed_mps / MPH_MPS,
        "scatter.rev_rate_rpm": share * own_rpm,
    }


def _reach(document: Document) -> Typical:
    """By the hand, and by where the foot slides."""
    hand = _choice(Hand, document.get("hand"))
    if hand is None:
        return {}
    slide_boards = _number(document.get("slide_to_laydown_boards"))
    if slide_boards is None:
        slide_boards = typical.SLIDE_TO_LAYDOWN_BOARDS
    reach = typical.reach_of(hand, slide_boards)
    spans = {
        "range.laydown_boards": (reach.laydown_boards, 1.0),
        "range.launch_angle_deg": (reach.launch_angle_rad, DEGREE_RAD),
        "range.speed_change_mph": (reach.speed_change_mps, MPH_MPS),
        "range.axis_rotation_change_deg": (reach.axis_rotation_change_rad, DEGREE_RAD),
    }
    return {key: [end / unit for end in span] for key, (span, unit) in spans.items()}


def _of_ball(document: Document) -> Typical:
    cover = _choice(Cover, document.get("cover"))
    if cover is None:
        return {}
    usual = typical.ball_of(cover)
    return _rounded(
        {
            "rg_in": usual.rg_m / INCH_M,
            "differential_in": usual.differential_m / INCH_M,
            "surface_grit": usual.surface_grit or POLISHED,
            "role": usual.role.value,
        }
    )


def _choice(choices: type[Choice], value: object) -> Choice | None:
    return choices(value) if isinstance(value, str) and value in tuple(choices) else None


def _number(value: object) -> float | None:
    """A number as it was typed so far; None for what is none."""
    if not isinstance(value, int | float) or isinstance(value, bool):
        return None
    return float(value) if math.isfinite(value) else None


def _rounded(told: Typical) -> Typical:
    def short(value: object) -> object:
        if isinstance(value, float):
            return round(value, DIGITS)
        if isinstance(value, list):
            return [short(end) for end in value]
        return value

    return {key: short(value) for key, value in told.items()}
