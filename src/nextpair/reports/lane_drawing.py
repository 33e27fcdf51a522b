"""One lane seen from above, as SVG: film, paint, pins, path and marks, and the scales beside it.

Foul line below, pins above, so left is left. Lengths are pixels of the picture; the lane is drawn
wider than true, or a path could not be read. Scales take the page's own text colour.
"""

from __future__ import annotations

from dataclasses import dataclass

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.lane import ARROWS_M, PIN_RADIUS_M
from nextpair.domain.units import FOOT_M
from nextpair.reports.lane_plan import HEAD_PIN_FT, LanePlan, Rows, lane_bed, px
from nextpair.reports.markup import escaped
from nextpair.reports.palette import ACCENT, HALO, INK
from nextpair.reports.wording import board_words, said_board

GUTTER_PX = 13.0
PLAN = LanePlan(board_px=3.6, foot_px=7.0, gutter_px=GUTTER_PX)
LANE_PX = PLAN.width_px
STRETCH = PLAN.stretch
CONTACT_FT = 1 - (BALL_RADIUS_M + PIN_RADIUS_M) / FOOT_M
"""How far past 59 ft the ball's centre is when ball and head pin touch."""
AXIS_PX = 26.0
GAP_PX = 4.0
TOP_PX = 22.0
FOOT_ROW_PX = 38.0
HEIGHT_PX = TOP_PX + PLAN.length_px + FOOT_ROW_PX

TARGET_FT = round(ARROWS_M / FOOT_M)
ROOM_FOR_A_LABEL_BOARDS = 4.5
"""Nearer the gutter than this a label does not fit between its mark and the next lane."""


@dataclass(frozen=True, slots=True)
class Trace:
    """One lane to draw: its film, and where they are known the path, its spread and its marks."""

    label: str
    film_units: Rows
    path_boards: tuple[float, ...] = ()
    band_boards: tuple[tuple[float, float], ...] = ()
    slide_board: float | None = None
    breakpoint: tuple[float, float] | None = None
    """Board and feet."""
    rule_of_31: tuple[float, float] | None = None
    """Board and feet."""


def lane_drawing(trace: Trace, hand: str) -> str:
    """Everything of one lane; its origin is the lane's far left corner."""
    return "".join(
        (
            f'<text x="{px(LANE_PX / 2)}" y="-8" text-anchor="middle" font-weight="600" '
            f'font-size="13" fill="currentColor">{escaped(trace.label)}</text>',
            lane_bed(PLAN, trace.film_units),
            _rule_mark(trace, hand),
            _band(trace.band_boards),
            _path(trace.path_boards),
            _target_mark(trace.path_boards, hand),
            _breakpoint_mark(trace, hand),
            _board_scale(hand),
            _feet(trace.slide_board, hand),
        )
    )


def _band(band_boards: tuple[tuple[float, float], ...]) -> str:
    if not band_boards:
        return ""
    feet = range(len(band_boards))
    there = [(PLAN.x(band_boards[foot][0]), PLAN.y(foot)) for foot in feet]
    back = [(PLAN.x(band_boards[foot][1]), PLAN.y(foot)) for foot in reversed(feet)]
    points = " ".join(f"{px(x)},{px(y)}" for x, y in there + back)
    return (
        f'<polygon points="{points}" fill="{HALO}" fill-opacity="0.5" stroke="{ACCENT}" '
        'stroke-opacity="0.85" stroke-width="0.7" stroke-dasharray="2 1.6"/>'
    )


def _path(path_boards: tuple[float, ...]) -> str:
    if not path_boards:
        return ""
    ends = [(float(foot), board) for foot, board in enumerate(path_boards)]
    if len(ends) == HEAD_PIN_FT:
        before, last = path_boards[-2:]
        ends.append((len(ends) - 1 + CONTACT_FT, last + CONTACT_FT * (last - before)))
    points = " ".join(f"{px(PLAN.x(board))},{px(PLAN.y(feet))}" for feet, board in ends)
    line = f'<polyline points="{points}" fill="none" stroke-linejoin="round" '
    return (
        f'{line}stroke="{HALO}" stroke-width="4.4"/>{line}stroke="{ACCENT}" stroke-width="2.2"/>'
        f'<circle cx="{px(PLAN.x(path_boards[0]))}" cy="{px(PLAN.y(0))}" r="3" fill="{ACCENT}" '
        f'stroke="{HALO}" stroke-width="1"/>'
    )


def _target_mark(path_boards: tuple[float, ...], hand: str) -> str:
    if len(path_boards) <= TARGET_FT:
        return ""
    board = path_boards[TARGET_FT]
    x, y = PLAN.x(board), PLAN.y(TARGET_FT)
    return (
        f'<path d="M{px(x - 6)} {px(y)}h12" stroke="{HALO}" stroke-width="4"/>'
        f'<path d="M{px(x - 5)} {px(y)}h10" stroke="{ACCENT}" stroke-width="2"/>'
        + _label(board, y + 4, board_words(board, hand), inside=True, hand=hand)
    )


def _breakpoint_mark(trace: Trace, hand: str) -> str:
    if trace.breakpoint is None:
        return ""
    board, feet = trace.breakpoint
    near_gutter = said_board(board, hand) < ROOM_FOR_A_LABEL_BOARDS
    y = PLAN.y(feet)
    return (
        f'<circle cx="{px(PLAN.x(board))}" cy="{px(y)}" r="4.2" fill="{HALO}" stroke="{ACCENT}" '
        'stroke-width="2"/>'
        + _label(board, y + 1, board_words(board, hand), inside=near_gutter, hand=hand)
        + _label(board, y + 11, f"{feet:.0f} ft", inside=near_gutter, hand=hand, small=True)
    )


def _rule_mark(trace: Trace, hand: str) -> str:
    """A flag on the end of the oil, at the board of the rule of 31."""
    if trace.rule_of_31 is None:
        return ""
    board, feet = trace.rule_of_31
    x, y = PLAN.x(board), PLAN.y(feet)
    return (
        f'<path d="M0 {px(y)}H{px(LANE_PX)}" stroke="{INK}" stroke-width="0.8" '
        'stroke-dasharray="1.5 3"/>'
        f'<path d="M{px(x - 4)} {px(y - 10)}h8l-4 8z" fill="{HALO}" stroke="{INK}" '
        'stroke-width="1.1"/>' + _label(board, y - 3, "31", inside=True, hand=hand, small=True)
    )


def _label(
    board: float, y: float, text: str, *, inside: bool, hand: str, small: bool = False
) -> str:
    """Text beside a mark, toward the bowler's inside or outside, on a halo of its own."""
    leftward = inside == (hand == "right")
    x = PLAN.x(board) + (-8 if leftward else 8)
    size = 'font-size="10"' if small else 'font-size="13" font-weight="700"'
    return (
        f'<text x="{px(x)}" y="{px(y)}" text-anchor="{"end" if leftward else "start"}" {size} '
        f'fill="{INK}" stroke="{HALO}" stroke-width="3" stroke-linejoin="round" '
        f'paint-order="stroke">{escaped(text)}</text>'
    )


def _board_scale(hand: str) -> str:
    numbers = "".join(
        f'<text x="{px(PLAN.x(board))}" y="{px(PLAN.y(0) + 12)}" text-anchor="middle">'
        f"{said_board(board, hand):.0f}</text>"
        for board in range(5, 36, 5)
    )
    return (
        f'<path d="M{px(-GUTTER_PX)} {px(PLAN.y(0))}h{px(LANE_PX + 2 * GUTTER_PX)}" '
        'stroke="currentColor" stroke-width="1.6"/>'
        f'<g font-size="9" fill="currentColor" opacity="0.75">{numbers}</g>'
    )


def _feet(slide_board: float | None, hand: str) -> str:
    if slide_board is None:
        return ""
    x = min(max(PLAN.x(slide_board), 24.0), LANE_PX - 24.0)
    y = PLAN.y(0)
    return (
        f'<path d="M{px(PLAN.x(slide_board))} {px(y + 15)}l4.5 7h-9z" fill="{ACCENT}"/>'
        f'<text x="{px(x)}" y="{px(y + 34)}" text-anchor="middle" font-weight="700" '
        f'font-size="12" fill="currentColor">feet {board_words(slide_board, hand)}</text>'
    )


def distance_scale() -> str:
    """Feet from the foul line, left of the lanes."""
    ticks = "".join(
        f'<path d="M{px(AXIS_PX - 5)} {px(TOP_PX + PLAN.y(feet))}h4" stroke="currentColor"/>'
        f'<text x="{px(AXIS_PX - 7)}" y="{px(TOP_PX + PLAN.y(feet) + 3.5)}" text-anchor="end">'
        f"{feet}</text>"
        for feet in range(0, 61, 10)
    )
    return (
        f'<g font-size="10" fill="currentColor" opacity="0.75">{ticks}'
        f'<text x="{px(AXIS_PX - 7)}" y="{px(TOP_PX - 8)}" text-anchor="end">ft</text></g>'
    )
