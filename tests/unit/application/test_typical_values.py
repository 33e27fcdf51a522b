"""A form shows what the reading of a record puts in: typical values filled in change nothing."""

from __future__ import annotations

from typing import Any

import pytest

from nextpair.application.typical_values import typical_values
from nextpair.domain.ball import Ball
from nextpair.domain.bowler import Bowler
from nextpair.domain.record import Document, Kind
from nextpair.files.bowler_file import read_bowler
from nextpair.files.intake import Intake
from nextpair.files.layout import LOCKER, Layout
from nextpair.files.locker_file import read_ball

ROUNDED = 1e-3
"""Typical values are told to three decimals, of numbers from hundredths on."""


def _bowler(document: Document) -> Bowler:
    layout = Layout()
    bowler = read_bowler(layout.bowler(document), layout.intake)
    layout.intake.close()
    return bowler


def _ball(document: Document) -> Ball:
    intake = Intake()
    ball = read_ball(dict(document), Layout().source(LOCKER), intake)
    intake.close()
    return ball


def _filled_in(document: dict[str, Any], told: dict[str, Any]) -> dict[str, Any]:
    filled = {key: value for key, value in told.items() if "." not in key}
    for path, value in told.items():
        table, _, key = path.rpartition(".")
        if table:
            filled.setdefault(table, {})[key] = value
    return filled | document


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("style", [None, "one-handed", "two-handed", "no-thumb"])
@pytest.mark.parametrize("average", [120, 187, 205.5, 240])
def test_a_bowler_is_the_same_with_typical_values_written_down(
    hand: str, style: str | None, average: float
) -> None:
    document = {"name": "Wren Tallow", "hand": hand, "average": average}
    document |= {} if style is None else {"style": style}
    told = typical_values(Kind.BOWLER, document)
    plain, filled = _bowler(document), _bowler(_filled_in(document, told))
    assert filled.release.speed_mps == pytest.approx(plain.release.speed_mps, rel=ROUNDED)
    assert filled.release.loft_m == pytest.approx(plain.release.loft_m, rel=ROUNDED)
    assert filled.release.axis_tilt_rad == pytest.approx(plain.release.axis_tilt_rad, rel=ROUNDED)
    for key in ("laydown_boards", "launch_angle_rad", "speed_mps", "rev_rate_radps"):
        expected = getattr(plain.scatter, key)
        assert getattr(filled.scatter, key) == pytest.approx(expected, rel=5 * ROUNDED)
    for key in ("laydown_boards", "launch_angle_rad", "speed_change_mps"):
        assert getattr(filled.reach, key) == pytest.approx(getattr(plain.reach, key), rel=ROUNDED)


def test_a_bowlers_own_rev_rate_and_slide_count() -> None:
    document = {"name": "Wren Tallow", "hand": "left", "average": 200}
    document |= {"rev_rate_rpm": 500, "slide_to_laydown_boards": 3}
    told = typical_values(Kind.BOWLER, document)
    plain, filled = _bowler(document), _bowler(_filled_in(document, told))
    assert filled.scatter.rev_rate_radps == pytest.approx(plain.scatter.rev_rate_radps)
    assert filled.reach.laydown_boards == plain.reach.laydown_boards


@pytest.mark.parametrize("cover", ["plastic", "urethane", "pearl", "hybrid", "solid"])
def test_a_ball_is_the_same_with_typical_values_written_down(cover: str) -> None:
    document = {"name": "Kelp", "cover": cover}
    plain = _ball(document)
    filled = _ball(_filled_in(document, typical_values(Kind.BALL, document)))
    assert filled.role is plain.role
    assert filled.surface == plain.surface
    assert filled.rg_m == pytest.approx(plain.rg_m)
    assert filled.differential_m == pytest.approx(plain.differential_m)


@pytest.mark.parametrize(
    ("kind", "document"),
    [
        (Kind.BOWLER, {"hand": 3, "style": ["x"], "average": "many", "rev_rate_rpm": True}),
        (Kind.BOWLER, {"average": float("nan")}),
        (Kind.BALL, {"cover": {"of": "felt"}}),
        (Kind.BALL, {}),
        (Kind.HOUSE, {"name": "Kelp Lanes"}),
    ],
)
def test_an_unfinished_document_is_no_error(kind: Kind, document: Document) -> None:
    told = typical_values(kind, document)
    assert not any(path.startswith(("scatter.", "range.")) for path in told)
