"""The bed of a lane seen from above, as SVG: its scale, and film, paint and pins drawn to it.

Foul line below, pins above, so left is left. The lane is drawn wider than true, or a path could
not be read.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from nextpair.domain.lane import BOARD_M, BOARDS, CENTRE_BOARD, HEAD_PIN_M, pin_position_m
from nextpair.domain.units import FOOT_M
from nextpair.reports.contours import outlines, simplified
from nextpair.reports.markup import escaped
from nextpair.reports.palette import FILM_STEPS_UNITS, HALO, INK, film_colour
from nextpair.scoring.leaves import PINS

DECK_FT = 63.0
HEAD_PIN_FT = round(HEAD_PIN_M / FOOT_M)
ARROW_BOARDS = range(5, 36, 5)
DOT_BOARDS = (3, 5, 8, 11, 14, 26, 29, 32, 35, 37)
DOTS_FT = 7.0

Rows = tuple[tuple[float, ...], ...]


@dataclass(frozen=True, slots=True)
class LanePlan:
    """A lane on paper; its origin is the lane's far left corner. Lengths are pixels."""

    board_px: float
    foot_px: float
    gutter_px: float

    @property
    def width_px(self) -> float:
        """Width between the gutters."""
        return BOARDS * self.board_px

    @property
    def length_px(self) -> float:
        """Length from the foul line to the end of the deck."""
        return DECK_FT * self.foot_px

    @property
    def stretch(self) -> float:
        """How many times wider than true the lane is drawn."""
        return (self.board_px / BOARD_M) / (self.foot_px / FOOT_M)

    def x(self, board: float) -> float:
        """Pixels from the lane's left edge; the last boards' outer edges are the lane's edges."""
        return (BOARDS + 0.5 - min(max(board, 0.5), BOARDS + 0.5)) * self.board_px

    def y(self, feet: float) -> float:
        """Pixels down from the end of the deck."""
        return (DECK_FT - feet) * self.foot_px


def px(number: float) -> str:
    """A coordinate to a tenth of a pixel."""
    return f"{number:.1f}".removesuffix(".0")


def on_paper(text: str, x: float, y: float, **attributes: str) -> str:
    """Text at a place; attributes have hyphens for their underscores."""
    said = "".join(f' {key.replace("_", "-")}="{value}"' for key, value in attributes.items())
    return f'<text x="{px(x)}" y="{px(y)}"{said}>{escaped(text)}</text>'


def lane_bed(plan: LanePlan, film_units: Rows) -> str:
    """Gutters, bare lane, film, paint and pins."""
    return "".join((_boards(plan), _film(plan, film_units), _paint(plan), _pins(plan)))


def _boards(plan: LanePlan) -> str:
    length, width = px(plan.length_px), px(plan.width_px)
    gutter = (
        f'y="0" width="{px(plan.gutter_px)}" height="{length}" fill="currentColor" '
        'opacity="0.12"/>'
    )
    return (
        f'<rect x="{px(-plan.gutter_px)}" {gutter}<rect x="{width}" {gutter}'
        f'<rect x="0" y="0" width="{width}" height="{length}" fill="{film_colour(0)}"/>'
    )


def _film(plan: LanePlan, film_units: Rows) -> str:
    """Filled steps of film, thin to thick, in tenths of a pixel to keep the picture small."""
    if not film_units:
        return ""
    xs = [10 * plan.x(0.5), *(10 * plan.x(board) for board in range(1, BOARDS + 1)), 0.0]
    ys = [10 * plan.y(0.0), *(10 * plan.y(foot + 0.5) for foot in range(len(film_units)))]
    ys.append(10 * plan.y(len(film_units)))
    rows = [(row[0], *row, row[-1]) for row in film_units]
    rows = [rows[0], *rows, rows[-1]]
    shapes = []
    for units in FILM_STEPS_UNITS:
        loops = [simplified(loop, 2.0) for loop in outlines(rows, xs, ys, units)]
        drawn = "".join(_outline(loop) for loop in loops if len(loop) > 2)
        if drawn:
            shapes.append(f'<path fill="{film_colour(units)}" d="{drawn}"/>')
    return f'<g transform="scale(0.1)" fill-rule="evenodd">{"".join(shapes)}</g>'


def _outline(loop: list[tuple[float, float]]) -> str:
    """A closed outline in whole steps from point to point."""
    points = [(round(x), round(y)) for x, y in loop]
    steps = "".join(f"l{x - x0} {y - y0}" for (x0, y0), (x, y) in pairwise(points))
    return f"M{points[0][0]} {points[0][1]}{steps}z"


def _paint(plan: LanePlan) -> str:
    """Dots and arrows. The arrows' depth follows [facts] section 1: about 12 to 16 ft."""
    dots = "".join(
        f'<circle cx="{px(plan.x(board))}" cy="{px(plan.y(DOTS_FT))}" r="1"/>'
        for board in DOT_BOARDS
    )
    arrows, half, deep = "", 0.72 * plan.board_px, 1.3 * plan.foot_px
    for board in ARROW_BOARDS:
        tip = plan.y(15.75 - 3.5 * abs(board - CENTRE_BOARD) / 15)
        x = plan.x(board)
        arrows += (
            f"M{px(x - half)} {px(tip + deep)}L{px(x)} {px(tip)}L{px(x + half)} {px(tip + deep)}z"
        )
    return (
        f'<g fill="{INK}" fill-opacity="0.55" stroke="{HALO}" stroke-opacity="0.7" '
        f'stroke-width="0.7">{dots}<path d="{arrows}"/></g>'
    )


def _pins(plan: LanePlan) -> str:
    spots = ""
    for pin in range(1, PINS + 1):
        x_m, beyond_m = pin_position_m(pin)
        x, y = plan.x(CENTRE_BOARD - x_m / BOARD_M), plan.y(HEAD_PIN_FT + beyond_m / FOOT_M)
        spots += f'<circle cx="{px(x)}" cy="{px(y)}" r="{px(0.75 * plan.board_px)}"/>'
    return f'<g fill="#ffffff" stroke="{INK}" stroke-width="0.9">{spots}</g>'
