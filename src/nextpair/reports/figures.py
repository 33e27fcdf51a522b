"""Pictures of lanes as SVG: the film from above, what is painted on the lane, and the ball's path.

Seen from above the pins, foul line below, so left is left. Every picture has a title and a
description in words, and needs no colour to be read. Lines outside the lanes and their text take
the page's own text colour.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from html import escape

from nextpair.application.film import FilmCard
from nextpair.domain.lane import BOARDS, CENTRE_BOARD
from nextpair.domain.sheet import GameCard, LaneCard
from nextpair.domain.shot import PathCard
from nextpair.reports.contours import outlines, simplified
from nextpair.reports.palette import ACCENT, FILM_STEPS_UNITS, HALO, INK, film_colour
from nextpair.reports.wording import board_words, breakpoint_words, pattern_words, said_board

BOARD_PX = 3.6
FOOT_PX = 7.0
LANE_PX = BOARDS * BOARD_PX
DECK_FT = 63.0
HEAD_PIN_FT = 60
CONTACT_FT = 0.45
"""How far past 59 ft the ball's centre is when ball and head pin touch (their radii together)."""
GUTTER_PX = 13.0
AXIS_PX = 26.0
GAP_PX = 4.0
TOP_PX = 22.0
FOOT_ROW_PX = 38.0
HEIGHT_PX = TOP_PX + DECK_FT * FOOT_PX + FOOT_ROW_PX

FOOT_PER_BOARD = 41.5 / 39 / 12
STRETCH = BOARD_PX / (FOOT_PX * FOOT_PER_BOARD)
"""How many times wider than true the lane is drawn."""

ARROW_BOARDS = range(5, 36, 5)
DOT_BOARDS = (3, 5, 8, 11, 14, 26, 29, 32, 35, 37)
DOTS_FT = 7.0
TARGET_FT = 15.0
ROOM_FOR_A_LABEL_BOARDS = 4.5
"""Nearer the gutter than this a label does not fit between its mark and the next lane."""
_PINS = tuple((row, seat) for row in range(4) for seat in range(row + 1))
_PIN_GAP_BOARDS = 12 / (41.5 / 39)
_ROW_FT = 12 * 0.75**0.5 / 12

Rows = tuple[tuple[float, ...], ...]


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


def pair_figure(
    game: GameCard, hand: str, rule_of_31_exit_board: float, pattern_length_ft: float
) -> str:
    """Both lanes of a game's pair, as somebody standing before them sees them."""
    traces = [
        _trace_of_lane(lane, (rule_of_31_exit_board, pattern_length_ft)) for lane in game.lanes
    ]
    said = "; ".join(
        f"lane {lane.lane}: target {board_words(lane.line.target_board, hand)}, "
        f"breakpoint {breakpoint_words(lane.line, hand)}"
        for lane in game.lanes
    )
    rule = board_words(rule_of_31_exit_board, hand)
    return lanes_figure(
        traces,
        hand,
        name=f"game-{game.game}",
        title=f"Game {game.game}, lanes {game.pair}: oil and line",
        description=f"{said}; rule of 31 at board {rule}, {pattern_length_ft:.0f} ft.",
    )


def path_figure(path: PathCard) -> str:
    """One shot on one lane."""
    if path.gutter_ft is None:
        at = f"{board_words(path.breakpoint_board, path.hand)} at {path.breakpoint_ft:.0f} ft"
        ended = f"Breakpoint {at}; {path.status}."
    else:
        ended = f"In the gutter at {path.gutter_ft:.0f} ft."
    trace = Trace(
        label=f"Lane {path.lane}",
        film_units=path.film_units,
        path_boards=path.path_boards,
        breakpoint=None
        if path.gutter_ft is not None
        else (path.breakpoint_board, path.breakpoint_ft),
    )
    return lanes_figure(
        [trace],
        path.hand,
        name="path",
        title=f"{path.ball} on lane {path.lane}: oil and path",
        description=ended,
    )


def film_figure(film: FilmCard) -> str:
    """A fresh film alone; boards count from the right edge."""
    pattern = film.pattern
    return lanes_figure(
        [Trace(label=pattern.name, film_units=film.film_units)],
        "right",
        name="film",
        title=f"{pattern.name}: fresh film",
        description=f"{pattern_words(pattern)}. Boards count from the right edge.",
    )


def lanes_figure(
    traces: list[Trace], hand: str, *, name: str, title: str, description: str
) -> str:
    """Lanes side by side on one scale. `name` makes the ids of this picture unique on its page."""
    pitch = LANE_PX + 2 * GUTTER_PX + GAP_PX
    width = AXIS_PX + len(traces) * pitch - GAP_PX
    stretch = f"Drawn {STRETCH:.0f} times as wide as it is."
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_n(width)} {_n(HEIGHT_PX)}" '
        f'role="img" aria-labelledby="{name}-title {name}-desc" '
        'font-family="system-ui, sans-serif" font-size="11">',
        f'<title id="{name}-title">{escape(title)}</title>',
        f'<desc id="{name}-desc">{escape(description)} {stretch}</desc>',
        _distances(),
    ]
    for place, trace in enumerate(traces):
        left = AXIS_PX + GUTTER_PX + place * pitch
        parts.append(f'<g transform="translate({_n(left)} {_n(TOP_PX)})">{_lane(trace, hand)}</g>')
    parts.append("</svg>")
    return "".join(parts)


def film_key(name: str) -> str:
    """The steps of film, thin to thick, with the number of units where each begins."""
    steps = (0.0, *FILM_STEPS_UNITS)
    cell = 28
    boxes = "".join(
        f'<rect x="{cell * i}" y="0" width="{cell}" height="14" fill="{film_colour(units)}"/>'
        for i, units in enumerate(steps)
    )
    numbers = "".join(
        f'<text x="{cell * i}" y="27" text-anchor="middle">{units:g}</text>'
        for i, units in enumerate(steps)
        if i
    )
    width = cell * len(steps)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-1 -1 {width + 2} 32" role="img" '
        f'aria-labelledby="{name}-title" font-family="system-ui, sans-serif" font-size="11">'
        f'<title id="{name}-title">Film in units of oil, thin to thick: a new colour begins at '
        f"{', '.join(f'{units:g}' for units in FILM_STEPS_UNITS)} units</title>"
        f'{boxes}<rect x="0" y="0" width="{width}" height="14" fill="none" stroke="currentColor" '
        f'stroke-width="0.6"/><g fill="currentColor">{numbers}</g></svg>'
    )


def _trace_of_lane(lane: LaneCard, rule: tuple[float, float]) -> Trace:
    return Trace(
        label=f"Lane {lane.lane}",
        film_units=lane.film_units,
        path_boards=lane.path_boards,
        band_boards=lane.band_boards,
        slide_board=lane.line.slide_board,
        breakpoint=(lane.line.breakpoint_board, lane.line.breakpoint_ft),
        rule_of_31=rule,
    )


def _lane(trace: Trace, hand: str) -> str:
    return "".join(
        (
            f'<text x="{_n(LANE_PX / 2)}" y="-8" text-anchor="middle" font-weight="600" '
            f'font-size="13" fill="currentColor">{escape(trace.label)}</text>',
            _bed(),
            _film(trace.film_units),
            _paint(),
            _pins(),
            _rule_mark(trace, hand),
            _band(trace.band_boards),
            _path(trace.path_boards),
            _target_mark(trace.path_boards, hand),
            _breakpoint_mark(trace, hand),
            _board_scale(hand),
            _feet(trace.slide_board, hand),
        )
    )


def _x(board: float) -> float:
    """Pixels from the lane's left edge; the last boards' outer edges are the lane's edges."""
    return (BOARDS + 0.5 - min(max(board, 0.5), BOARDS + 0.5)) * BOARD_PX


def _y(feet: float) -> float:
    return (DECK_FT - feet) * FOOT_PX


def _n(number: float) -> str:
    """A coordinate to a tenth of a pixel."""
    return f"{number:.1f}".removesuffix(".0")


def _bed() -> str:
    length = _n(DECK_FT * FOOT_PX)
    gutter = (
        f'y="0" width="{_n(GUTTER_PX)}" height="{length}" fill="currentColor" opacity="0.12"/>'
    )
    return (
        f'<rect x="{_n(-GUTTER_PX)}" {gutter}<rect x="{_n(LANE_PX)}" {gutter}'
        f'<rect x="0" y="0" width="{_n(LANE_PX)}" height="{length}" fill="{film_colour(0)}"/>'
    )


def _film(film_units: Rows) -> str:
    """Filled steps of film, thin to thick, in tenths of a pixel to keep the picture small."""
    if not film_units:
        return ""
    xs = [10 * _x(0.5), *(10 * _x(board) for board in range(1, BOARDS + 1)), 0.0]
    ys = [10 * _y(0.0), *(10 * _y(foot + 0.5) for foot in range(len(film_units)))]
    ys.append(10 * _y(len(film_units)))
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
    steps = "".join(f"l{x - x0} {y - y0}" for (x0, y0), (x, y) in itertools.pairwise(points))
    return f"M{points[0][0]} {points[0][1]}{steps}z"


def _paint() -> str:
    """Dots and arrows. The arrows' depth follows [facts] section 1: about 12 to 16 ft."""
    dots = "".join(
        f'<circle cx="{_n(_x(board))}" cy="{_n(_y(DOTS_FT))}" r="1"/>' for board in DOT_BOARDS
    )
    arrows = ""
    for board in ARROW_BOARDS:
        tip = _y(15.75 - 3.5 * abs(board - CENTRE_BOARD) / 15)
        x = _x(board)
        arrows += f"M{_n(x - 2.6)} {_n(tip + 9)}L{_n(x)} {_n(tip)}L{_n(x + 2.6)} {_n(tip + 9)}z"
    return (
        f'<g fill="{INK}" fill-opacity="0.55" stroke="{HALO}" stroke-opacity="0.7" '
        f'stroke-width="0.7">{dots}<path d="{arrows}"/></g>'
    )


def _pins() -> str:
    spots = "".join(
        f'<circle cx="{_n(_x(CENTRE_BOARD + (seat - row / 2) * _PIN_GAP_BOARDS))}" '
        f'cy="{_n(_y(HEAD_PIN_FT + row * _ROW_FT))}" r="2.7"/>'
        for row, seat in _PINS
    )
    return f'<g fill="#ffffff" stroke="{INK}" stroke-width="0.9">{spots}</g>'


def _band(band_boards: tuple[tuple[float, float], ...]) -> str:
    if not band_boards:
        return ""
    feet = range(len(band_boards))
    there = [(_x(band_boards[foot][0]), _y(foot)) for foot in feet]
    back = [(_x(band_boards[foot][1]), _y(foot)) for foot in reversed(feet)]
    points = " ".join(f"{_n(x)},{_n(y)}" for x, y in there + back)
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
    points = " ".join(f"{_n(_x(board))},{_n(_y(feet))}" for feet, board in ends)
    line = f'<polyline points="{points}" fill="none" stroke-linejoin="round" '
    return (
        f'{line}stroke="{HALO}" stroke-width="4.4"/>{line}stroke="{ACCENT}" stroke-width="2.2"/>'
        f'<circle cx="{_n(_x(path_boards[0]))}" cy="{_n(_y(0))}" r="3" fill="{ACCENT}" '
        f'stroke="{HALO}" stroke-width="1"/>'
    )


def _target_mark(path_boards: tuple[float, ...], hand: str) -> str:
    if len(path_boards) <= TARGET_FT:
        return ""
    board = path_boards[int(TARGET_FT)]
    x, y = _x(board), _y(TARGET_FT)
    return (
        f'<path d="M{_n(x - 6)} {_n(y)}h12" stroke="{HALO}" stroke-width="4"/>'
        f'<path d="M{_n(x - 5)} {_n(y)}h10" stroke="{ACCENT}" stroke-width="2"/>'
        + _label(board, y + 4, board_words(board, hand), inside=True, hand=hand)
    )


def _breakpoint_mark(trace: Trace, hand: str) -> str:
    if trace.breakpoint is None:
        return ""
    board, feet = trace.breakpoint
    near_gutter = said_board(board, hand) < ROOM_FOR_A_LABEL_BOARDS
    y = _y(feet)
    return (
        f'<circle cx="{_n(_x(board))}" cy="{_n(y)}" r="4.2" fill="{HALO}" stroke="{ACCENT}" '
        'stroke-width="2"/>'
        + _label(board, y + 1, board_words(board, hand), inside=near_gutter, hand=hand)
        + _label(board, y + 11, f"{feet:.0f} ft", inside=near_gutter, hand=hand, small=True)
    )


def _rule_mark(trace: Trace, hand: str) -> str:
    """A flag on the end of the oil, at the board of the rule of 31."""
    if trace.rule_of_31 is None:
        return ""
    board, feet = trace.rule_of_31
    x, y = _x(board), _y(feet)
    return (
        f'<path d="M0 {_n(y)}H{_n(LANE_PX)}" stroke="{INK}" stroke-width="0.8" '
        'stroke-dasharray="1.5 3"/>'
        f'<path d="M{_n(x - 4)} {_n(y - 10)}h8l-4 8z" fill="{HALO}" stroke="{INK}" '
        'stroke-width="1.1"/>' + _label(board, y - 3, "31", inside=True, hand=hand, small=True)
    )


def _label(
    board: float, y: float, text: str, *, inside: bool, hand: str, small: bool = False
) -> str:
    """Text beside a mark, toward the bowler's inside or outside, on a halo of its own."""
    leftward = inside == (hand == "right")
    x = _x(board) + (-8 if leftward else 8)
    size = 'font-size="10"' if small else 'font-size="13" font-weight="700"'
    return (
        f'<text x="{_n(x)}" y="{_n(y)}" text-anchor="{"end" if leftward else "start"}" {size} '
        f'fill="{INK}" stroke="{HALO}" stroke-width="3" stroke-linejoin="round" '
        f'paint-order="stroke">{escape(text)}</text>'
    )


def _board_scale(hand: str) -> str:
    numbers = "".join(
        f'<text x="{_n(_x(board))}" y="{_n(_y(0) + 12)}" text-anchor="middle">'
        f"{said_board(board, hand):.0f}</text>"
        for board in range(5, 36, 5)
    )
    return (
        f'<path d="M{_n(-GUTTER_PX)} {_n(_y(0))}h{_n(LANE_PX + 2 * GUTTER_PX)}" '
        'stroke="currentColor" stroke-width="1.6"/>'
        f'<g font-size="9" fill="currentColor" opacity="0.75">{numbers}</g>'
    )


def _feet(slide_board: float | None, hand: str) -> str:
    if slide_board is None:
        return ""
    x = min(max(_x(slide_board), 24.0), LANE_PX - 24.0)
    y = _y(0)
    return (
        f'<path d="M{_n(_x(slide_board))} {_n(y + 15)}l4.5 7h-9z" fill="{ACCENT}"/>'
        f'<text x="{_n(x)}" y="{_n(y + 34)}" text-anchor="middle" font-weight="700" '
        f'font-size="12" fill="currentColor">feet {board_words(slide_board, hand)}</text>'
    )


def _distances() -> str:
    ticks = "".join(
        f'<path d="M{_n(AXIS_PX - 5)} {_n(TOP_PX + _y(feet))}h4" stroke="currentColor"/>'
        f'<text x="{_n(AXIS_PX - 7)}" y="{_n(TOP_PX + _y(feet) + 3.5)}" text-anchor="end">'
        f"{feet}</text>"
        for feet in range(0, 61, 10)
    )
    return (
        f'<g font-size="10" fill="currentColor" opacity="0.75">{ticks}'
        f'<text x="{_n(AXIS_PX - 7)}" y="{_n(TOP_PX - 8)}" text-anchor="end">ft</text></g>'
    )
