"""The map of strikes over offset and entry angle, as SVG: filled steps with numbered lines, the
published zone, and where the simulated racks end. Pins lie up, so left is left.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import hypot

from nextpair.domain.bowler import Hand
from nextpair.domain.carry import CarryMap, ImpactCard
from nextpair.domain.entry import offset_boards_of
from nextpair.domain.lane import CENTRE_BOARD
from nextpair.reports.contours import Outline, Point, outlines, simplified
from nextpair.reports.lane_plan import on_paper, px
from nextpair.reports.palette import HALO, INK, STRIKE_STEPS, strike_colour
from nextpair.reports.wording import said_board

LINES = (0.3, 0.5, 0.7, 0.9)
"""Strike chances that have a line with its number."""
PALE_LINES_FROM = 0.6
"""From here the map is so dark that lines are drawn pale."""
LOWEST_OFFSET, HIGHEST_OFFSET = -1.0, 7.0
HIGHEST_DEG = 9.5
WIDTH_PX, HEIGHT_PX = 314.0, 323.0
NUMBERED_AT_DEG = 2.5
"""Lines have their numbers near this angle, below the published zone."""
NUMBER_GAP_PX = 22.0
NUMBER_EDGE_PX = 12.0
SPECK_PX = 12.0
"""An outline less wide and tall than this has no line: it shows by its colour alone."""
SMALL_OUTLINE_PX = 24.0
"""An outline less wide or tall than this has no number of its own."""
NAME_BOARDS = 2.55
"""Room for the name of the published zone."""
SCALE_PX = 64.0
"""Room for the scales below the map."""


@dataclass(frozen=True, slots=True)
class _Plot:
    """Where impacts lie on paper; the origin is the map's upper left corner."""

    hand: str

    def x(self, offset_boards: float) -> float:
        share = (offset_boards - LOWEST_OFFSET) / (HIGHEST_OFFSET - LOWEST_OFFSET)
        return WIDTH_PX * (share if self.hand == Hand.RIGHT else 1.0 - share)

    def y(self, angle_deg: float) -> float:
        return HEIGHT_PX * (1.0 - angle_deg / HIGHEST_DEG)

    def place(self, impact: ImpactCard) -> Point:
        return self.x(impact.offset_board), self.y(impact.entry_angle_deg)


def strike_map(carry: CarryMap, name: str) -> str:
    """The map with its scales. `name` makes the ids of this picture unique on its page."""
    plot = _Plot(carry.hand)
    frame = f'width="{px(WIDTH_PX)}" height="{px(HEIGHT_PX)}"'
    hatch = (
        f'<pattern id="{name}-beyond" width="7" height="7" patternUnits="userSpaceOnUse" '
        f'patternTransform="rotate(45)"><path d="M0 0V7" stroke="{INK}" '
        'stroke-opacity="0.45"/></pattern>'
    )
    return "".join(
        (
            f'{hatch}<rect {frame} fill="url(#{name}-beyond)"/>',
            _steps(carry, plot),
            _head_pin(plot),
            _lines(carry, plot),
            _zone(carry, plot),
            _best(carry, plot),
            _impact(carry, plot),
            f'<rect {frame} fill="none" stroke="{INK}"/>',
            _scales(plot),
        )
    )


def reaches_beyond(carry: CarryMap) -> bool:
    """Whether the map shows impacts that were not simulated."""
    return (
        carry.offset_boards[0] > LOWEST_OFFSET
        or carry.offset_boards[-1] < HIGHEST_OFFSET
        or carry.entry_angles_deg[0] > 0.0
        or carry.entry_angles_deg[-1] < HIGHEST_DEG
    )


def on_map(impact: ImpactCard) -> bool:
    """Whether an impact has a place on the map."""
    return (
        LOWEST_OFFSET <= impact.offset_board <= HIGHEST_OFFSET
        and 0.0 <= impact.entry_angle_deg <= HIGHEST_DEG
    )


def head_pin_px(carry: CarryMap) -> float:
    """How far from the map's left edge the head pin's centre lies."""
    return _Plot(carry.hand).x(0.0)


def line_colour(chance: float) -> str:
    """Colour of the line that joins impacts which strike so often: clear of both its sides."""
    return HALO if chance > PALE_LINES_FROM else INK


def best_mark(x: float, y: float) -> str:
    """The mark of the best impact."""
    return (
        f'<path d="M{px(x)} {px(y - 6)}l6 6l-6 6l-6 -6z" fill="{INK}" stroke="{HALO}" '
        'stroke-width="1.8"/>'
    )


def impact_mark(x: float, y: float) -> str:
    """The mark of the impact asked for."""
    return (
        f'<circle cx="{px(x)}" cy="{px(y)}" r="5.5" fill="{HALO}" stroke="{INK}" '
        f'stroke-width="2"/><circle cx="{px(x)}" cy="{px(y)}" r="1.8" fill="{INK}"/>'
    )


def _shown(carry: CarryMap) -> slice:
    """The columns of the map that are drawn."""
    inside = [LOWEST_OFFSET <= offset <= HIGHEST_OFFSET for offset in carry.offset_boards]
    return slice(inside.index(True), len(inside) - inside[::-1].index(True))


def _ends(carry: CarryMap, plot: _Plot) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of what is drawn."""
    offsets = carry.offset_boards[_shown(carry)]
    left, right = sorted(plot.x(offsets[end]) for end in (0, -1))
    top, bottom = sorted(plot.y(carry.entry_angles_deg[end]) for end in (0, -1))
    return left, top, right, bottom


def _outlines(carry: CarryMap, plot: _Plot, chance: float) -> list[Outline]:
    shown = _shown(carry)
    rows = [row[shown] for row in carry.strike_probability]
    xs = [plot.x(offset) for offset in carry.offset_boards[shown]]
    ys = [plot.y(angle) for angle in carry.entry_angles_deg]
    loops = (simplified(loop, 0.2) for loop in outlines(rows, xs, ys, chance))
    return [loop for loop in loops if len(loop) > 2]


def _drawn(loop: Outline) -> str:
    return "M" + "L".join(f"{px(x)} {px(y)}" for x, y in loop) + "z"


def _steps(carry: CarryMap, plot: _Plot) -> str:
    """What was simulated, in steps of strike chance."""
    left, top, right, bottom = _ends(carry, plot)
    shapes = [
        f'<rect x="{px(left)}" y="{px(top)}" width="{px(right - left)}" '
        f'height="{px(bottom - top)}" fill="{strike_colour(0.0)}"/>'
    ]
    for chance in STRIKE_STEPS:
        drawn = "".join(_drawn(loop) for loop in _outlines(carry, plot, chance))
        if drawn:
            shapes.append(f'<path fill="{strike_colour(chance)}" d="{drawn}"/>')
    return f'<g fill-rule="evenodd">{"".join(shapes)}</g>'


def _lines(carry: CarryMap, plot: _Plot) -> str:
    """Lines of equal chance, each with its number where there is room."""
    ends = _ends(carry, plot)
    lines, numbers = "", ""
    taken: list[Point] = []
    for chance in reversed(LINES):
        for loop in _outlines(carry, plot, chance):
            if max(_size(loop)) < SPECK_PX:
                continue
            lines += (
                f'<path d="{_inner_line(loop, ends)}" fill="none" stroke="{line_colour(chance)}" '
                f'stroke-width="{0.8 + 1.2 * chance:.2f}"/>'
            )
            place = _number_place(loop, ends, taken, plot.y(NUMBERED_AT_DEG))
            if place is not None:
                taken.append(place)
                numbers += _haloed(
                    f"{100 * chance:.0f}", place[0], place[1] + 3.8, "middle", bold=True
                )
    return f'<g class="lines">{lines}</g><g class="numbers">{numbers}</g>'


def _inner_line(loop: Outline, ends: tuple[float, float, float, float]) -> str:
    """An outline without the parts that run along the edge of the map."""
    steps = [f"M{px(loop[0][0])} {px(loop[0][1])}"]
    for (x0, y0), (x1, y1) in pairwise([*loop, loop[0]]):
        along_edge = (x0 == x1 and x0 in ends[::2]) or (y0 == y1 and y0 in ends[1::2])
        steps.append(f"{'M' if along_edge else 'L'}{px(x1)} {px(y1)}")
    return "".join(steps)


def _number_place(
    loop: Outline,
    ends: tuple[float, float, float, float],
    taken: list[Point],
    level_px: float,
) -> Point | None:
    """A place on an outline clear of the numbers that stand already and of the map's edge: the
    one nearest to a height."""
    if min(_size(loop)) < SMALL_OUTLINE_PX:
        return None
    left, top, right, bottom = ends
    free = [
        (x, y)
        for x, y in _points_along(loop)
        if left + NUMBER_EDGE_PX < x < right - NUMBER_EDGE_PX
        and top + NUMBER_EDGE_PX < y < bottom - NUMBER_EDGE_PX
        and all(hypot(x - other[0], y - other[1]) > NUMBER_GAP_PX for other in taken)
    ]
    return min(free, key=lambda point: abs(point[1] - level_px), default=None)


def _size(loop: Outline) -> Point:
    """How wide and how tall an outline is."""
    xs, ys = zip(*loop, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def _points_along(loop: Outline) -> Outline:
    """Points every few pixels along an outline."""
    points = []
    for (x0, y0), (x1, y1) in pairwise([*loop, loop[0]]):
        steps = max(round(hypot(x1 - x0, y1 - y0) / 4.0), 1)
        points += [
            (x0 + (x1 - x0) * step / steps, y0 + (y1 - y0) * step / steps) for step in range(steps)
        ]
    return points


def _head_pin(plot: _Plot) -> str:
    x = plot.x(0.0)
    return (
        f'<path d="M{px(x)} 0V{px(HEIGHT_PX)}" stroke="{INK}" stroke-width="0.8" '
        'stroke-dasharray="1.5 3"/>'
    )


def _zone(carry: CarryMap, plot: _Plot) -> str:
    """The published zone and its name; its boards are level with the head pin."""
    zone = carry.published_zone
    sign = Hand(carry.hand).sign
    levels = sorted(sign * (CENTRE_BOARD - board) for board in zone.head_pin_board)
    flat, steep = zone.entry_angle_deg
    angles = [flat + (steep - flat) * step / 8 for step in range(9)]
    sides = [[(offset_boards_of(level, deg), deg) for deg in angles] for level in levels]
    points = [(plot.x(offset), plot.y(deg)) for offset, deg in sides[0] + sides[1][::-1]]
    drawn = _drawn(points)
    boards = sorted(said_board(board, carry.hand) for board in zone.head_pin_board)
    words = (
        "published best:",
        f"boards {boards[0]:g} to {boards[1]:g},",
        f"{flat:g} to {steep:g} degrees",
    )
    end = "end" if carry.hand == Hand.RIGHT else "start"
    text_x = plot.x(HIGHEST_OFFSET - 0.2)
    text_y = plot.y(0.5 * (flat + steep))
    named = "".join(
        _haloed(word, text_x, text_y - 8 + 12.5 * line, end) for line, word in enumerate(words)
    )
    leader_end_px = plot.x(HIGHEST_OFFSET - NAME_BOARDS)
    leader = f"M{px(plot.x(sides[1][4][0]))} {px(text_y)}H{px(leader_end_px)}"
    return (
        f'<path d="{leader}" stroke="{HALO}" stroke-width="3"/>'
        f'<path d="{leader}" stroke="{INK}" stroke-width="1"/>'
        f'<path d="{drawn}" fill="none" stroke="{HALO}" stroke-width="4"/>'
        f'<path class="zone" d="{drawn}" fill="none" stroke="{INK}" stroke-width="1.8" '
        f'stroke-dasharray="5 2.5"/>{named}'
    )


def _best(carry: CarryMap, plot: _Plot) -> str:
    return best_mark(*plot.place(carry.best)) if on_map(carry.best) else ""


def _impact(carry: CarryMap, plot: _Plot) -> str:
    if carry.impact is None or not on_map(carry.impact):
        return ""
    return impact_mark(*plot.place(carry.impact))


def _haloed(text: str, x: float, y: float, anchor: str, *, bold: bool = False) -> str:
    return on_paper(
        text,
        x,
        y,
        text_anchor=anchor,
        font_size="11",
        font_weight="700" if bold else "400",
        fill=INK,
        stroke=HALO,
        stroke_width="3.2",
        stroke_linejoin="round",
        paint_order="stroke",
    )


def _scales(plot: _Plot) -> str:
    """Angles at the left, offsets and boards below."""
    angles = "".join(
        on_paper(f"{angle}°", -5, plot.y(angle) + 4, text_anchor="end")
        for angle in range(int(HIGHEST_DEG) + 1)
    )
    ticks, offsets, boards = "", "", ""
    for offset in range(int(LOWEST_OFFSET), int(HIGHEST_OFFSET) + 1):
        x = plot.x(offset)
        ticks += f"M{px(x)} {px(HEIGHT_PX)}v4"
        offsets += on_paper(f"{abs(offset)}", x, HEIGHT_PX + 16, text_anchor="middle")
        boards += on_paper(f"{CENTRE_BOARD - offset}", x, HEIGHT_PX + 46, text_anchor="middle")
    captions = on_paper(
        "boards from the head pin's centre at first contact",
        0.5 * WIDTH_PX,
        HEIGHT_PX + 30,
        text_anchor="middle",
    ) + on_paper(
        "board of the ball's centre there", 0.5 * WIDTH_PX, HEIGHT_PX + 60, text_anchor="middle"
    )
    return (
        f'<g fill="{INK}" font-size="11">{angles}{offsets}{boards}{captions}'
        f'<path d="{ticks}" stroke="{INK}"/></g>'
    )
