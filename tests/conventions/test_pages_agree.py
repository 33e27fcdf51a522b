"""The pages draw in the program's own colours and on the program's own lane."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.lane import (
    ARROWS_M,
    BOARD_M,
    BOARDS,
    CENTRE_BOARD,
    HEAD_PIN_M,
    PIN_RADIUS_M,
    pin_position_m,
)
from nextpair.domain.units import FOOT_M
from nextpair.reports import lane_plan, palette
from nextpair.scoring.leaves import PINS

SHARED = Path(__file__).parents[2] / "frontend" / "shared"
TOLERANCE_BOARDS = 1e-4  # far under what a pixel shows


def _written(name: str) -> Any:
    return json.loads((SHARED / name).read_text("utf-8"))


def test_the_pages_have_the_programs_colours() -> None:
    film, strikes = palette.FILM_STEPS_UNITS, palette.STRIKE_STEPS
    assert _written("palette.json") == {
        "film_steps_units": list(film),
        "film_colours": [palette.film_colour(units) for units in (0.0, *film)],
        "strike_steps": list(strikes),
        "strike_colours": [palette.strike_colour(chance) for chance in (0.0, *strikes)],
        "accent": palette.ACCENT,
        "halo": palette.HALO,
        "ink": palette.INK,
        "path_colours": list(palette.PATH_COLOURS),
    }


def test_the_pages_have_the_programs_lane() -> None:
    lane = _written("lane/lane.json")
    pins = {number: pin_position_m(number) for number in range(1, PINS + 1)}
    assert lane.pop("pin_places") == [
        {
            "pin": number,
            "board": pytest.approx(CENTRE_BOARD - x_m / BOARD_M, abs=TOLERANCE_BOARDS),
            "beyond_ft": pytest.approx(beyond_m / FOOT_M, abs=TOLERANCE_BOARDS),
        }
        for number, (x_m, beyond_m) in pins.items()
    ]
    assert lane == {
        "boards": BOARDS,
        "centre_board": CENTRE_BOARD,
        "head_pin_ft": round(HEAD_PIN_M / FOOT_M),
        "deck_ft": lane_plan.DECK_FT,
        "target_ft": round(ARROWS_M / FOOT_M),
        "arrow_boards": list(lane_plan.ARROW_BOARDS),
        "dot_boards": list(lane_plan.DOT_BOARDS),
        "dots_ft": lane_plan.DOTS_FT,
        "board_ft": pytest.approx(BOARD_M / FOOT_M, abs=TOLERANCE_BOARDS),
        "ball_radius_boards": pytest.approx(BALL_RADIUS_M / BOARD_M, abs=TOLERANCE_BOARDS),
        "pin_radius_boards": pytest.approx(PIN_RADIUS_M / BOARD_M, abs=TOLERANCE_BOARDS),
    }
