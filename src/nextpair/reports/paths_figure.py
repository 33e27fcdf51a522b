"""The picture of one line with one ball or several: how they meet the pins, where they go on the
lane and its oil, and a table of both. Made to be read on a phone as well as on paper.
"""

from __future__ import annotations

from collections.abc import Sequence

from nextpair.domain.ball import Tool
from nextpair.domain.shot import PathCard
from nextpair.reports.ball_marks import badge, colour
from nextpair.reports.entry_drawing import HEIGHT_PX as ENTRY_PX
from nextpair.reports.entry_drawing import WIDTH_PX as ENTRY_WIDTH_PX
from nextpair.reports.entry_drawing import entry_drawing
from nextpair.reports.figures import film_key
from nextpair.reports.ink import fitted
from nextpair.reports.lane_plan import on_paper, px
from nextpair.reports.markup import escaped
from nextpair.reports.palette import INK, PAPER
from nextpair.reports.paths_drawing import PLAN, flag, mark, outward, paths_drawing, phase_lines
from nextpair.reports.wording import (
    ball_words,
    board_words,
    percent,
    sides,
    surface_words,
)

WIDTH_PX = 390.0
EDGE_PX = 12.0
HEAD_PX = 46.0
LANE_GAP_PX = 14.0
SCALE_PX = 42.0
KEY_PX = 76.0
ROW_PX = 22.0
FILM_KEY_PX = 74.0
BADGE_SIDE_PX, FEET_SIDE_PX = 62.0, 45.0
NAME_LETTERS = 20
SHORT_NAME_LETTERS = 13


def paths_figure(paths: Sequence[PathCard]) -> str:
    """One to four shots on the same line, as one SVG."""
    first = paths[0]
    lane_y = HEAD_PX + ENTRY_PX + LANE_GAP_PX
    key_y = lane_y + PLAN.length_px + SCALE_PX
    table_y = key_y + KEY_PX
    film_y = table_y + ROW_PX * (len(paths) + 1) + 8
    height = film_y + FILM_KEY_PX
    far = FEET_SIDE_PX if outward(first.hand) > 0 else BADGE_SIDE_PX
    lane_x = far + PLAN.gutter_px
    balls = ", ".join(ball_words(path.ball, path.surface_grit, path.surface_by) for path in paths)
    return "".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{px(WIDTH_PX)}" '
            f'height="{px(height)}" viewBox="0 0 {px(WIDTH_PX)} {px(height)}" role="img" '
            f'aria-labelledby="paths-title paths-desc" color="{INK}" '
            'style="max-width:100%;height:auto" font-family="system-ui, sans-serif" '
            'font-size="11">',
            f'<title id="paths-title">{escaped(balls)} on lane {first.lane}: oil and paths'
            "</title>",
            f'<desc id="paths-desc">{escaped(_said(paths))}</desc>',
            f'<rect width="{px(WIDTH_PX)}" height="{px(height)}" fill="{PAPER}"/>',
            _head(first),
            _moved(EDGE_PX, HEAD_PX, entry_drawing(paths)),
            _moved(EDGE_PX + ENTRY_WIDTH_PX + 12, HEAD_PX, _entries(paths)),
            _moved(lane_x, lane_y, paths_drawing(paths)),
            _moved(EDGE_PX, key_y, _key()),
            _moved(EDGE_PX, table_y, _table(paths)),
            _moved(EDGE_PX, film_y, _film_key()),
            "</svg>",
        )
    )


def _moved(x: float, y: float, drawn: str) -> str:
    return f'<g transform="translate({px(x)} {px(y)})">{drawn}</g>'


def _said(paths: Sequence[PathCard]) -> str:
    """The picture in words, for those who do not see it."""
    told = []
    for path in paths:
        bend = (
            "no breakpoint"
            if path.breakpoint_board is None
            else f"breakpoint {board_words(path.breakpoint_board, path.hand)} "
            f"at {path.breakpoint_ft:.0f} ft"
        )
        entry = (
            path.status
            if path.entry is None
            else f"enters at {path.entry.entry_angle_deg:.1f} degrees, "
            f"{path.entry.offset_board:.1f} boards off the head pin"
        )
        told.append(
            f"{ball_words(path.ball, path.surface_grit, path.surface_by)}: {bend}, {entry}"
        )
    scale = f"The lane is drawn {PLAN.stretch:.0f} times as wide as it is, the pins to scale."
    return f"{'; '.join(told)}. {scale}"


def _head(path: PathCard) -> str:
    inside, own = sides(path.hand)
    angle = path.launch_angle_deg
    line = (
        f"laid down on {board_words(path.laydown_board, path.hand)}, {abs(angle):.1f}° to the "
        f"{own if angle >= 0 else inside}, {path.speed_mph:.1f} mph; "
    )
    return on_paper(
        f"Lane {path.lane}, {path.pattern_length_ft:g} ft of oil",
        EDGE_PX,
        20,
        font_size="16",
        font_weight="700",
        fill=INK,
    ) + on_paper(line + f"{path.hand}-handed", EDGE_PX, 36, font_size="11.5", fill=INK)


def _entries(paths: Sequence[PathCard]) -> str:
    """Beside the pins: each ball by name, with how it meets them."""
    pitch = ENTRY_PX / max(len(paths), 3)
    row_px = min(13.5, 0.31 * pitch)
    drawn = ""
    for ball, path in enumerate(paths):
        y = ball * pitch + 11
        name = fitted(path.ball, NAME_LETTERS).rstrip()
        drawn += badge(ball, 8, y) + on_paper(
            name, 21, y + 1, font_size="12", font_weight="700", fill=INK
        )
        for row, text in enumerate(_entry_words(path), start=1):
            drawn += on_paper(text, 21, y + 1 + row_px * row, fill=INK)
    return drawn


def _entry_words(path: PathCard) -> tuple[str, ...]:
    if path.entry is None:
        gone = "" if path.gutter_ft is None else f"gutter at {path.gutter_ft:.0f} ft; "
        return (f"{gone}no pins",)
    inside, own = sides(path.hand)
    offset = path.entry.offset_board
    return (
        f"{path.entry.entry_angle_deg:.1f}°, {abs(offset):.1f} boards "
        f"{own if offset >= 0 else inside}",
        f"{path.entry.speed_mph:.1f} mph, strike {percent(path.strike_probability)}",
    )


def _key() -> str:
    """What lines and marks mean."""
    lines = "".join(
        f'<path d="M{px(122 * place)} 0h34" fill="none" stroke="{colour(0)}" '
        f'stroke-width="2.6" {style}/>' + on_paper(phase, 122 * place + 42, 4)
        for place, (phase, style) in enumerate(phase_lines(2.6).items())
    )
    marks = (
        (mark("hooks", 10, 22, colour(0)), "begins to hook"),
        (mark("rolls", 10, 22, colour(0)), "begins to roll"),
        (mark("leaves the oil", 10, 22, colour(0)), "leaves the oil"),
    )
    told = "".join(
        _moved(122 * place, 0, drawn + on_paper(words, 24, 26))
        for place, (drawn, words) in enumerate(marks)
    )
    more = (
        badge(0, 10, 45, 7)
        + on_paper("breakpoint: board, feet", 24, 49)
        + _moved(183, 0, flag(10, 51) + on_paper("exit by the rule of 31", 24, 49))
    )
    return f'<g fill="{INK}">{lines}{told}{more}</g>'


def _table(paths: Sequence[PathCard]) -> str:
    columns = (0.0, 104.0, 170.0, 215.0, 252.0, 336.0)
    heads = ("", "surface", "hooks", "exit", "breakpoint", "rolls")
    rows = [
        "".join(
            on_paper(text, x, 11, font_weight="600")
            for x, text in zip(columns, heads, strict=True)
        )
    ]
    for ball, path in enumerate(paths):
        name = fitted(path.ball, SHORT_NAME_LETTERS).rstrip()
        cells = "".join(
            on_paper(text, x, 4) for x, text in zip(columns[1:], _cells(path), strict=True)
        )
        rows.append(
            _moved(
                0, ROW_PX * (ball + 1) + 6, badge(ball, 8, 0, 7) + on_paper(name, 20, 4) + cells
            )
        )
    return f'<g fill="{INK}">{"".join(rows)}</g>'


def _cells(path: PathCard) -> tuple[str, ...]:
    def feet(distance_ft: float | None) -> str:
        return "-" if distance_ft is None else f"{distance_ft:.0f} ft"

    def board(place: float | None) -> str:
        return "-" if place is None else board_words(place, path.hand)

    bend = board(path.breakpoint_board)
    if path.breakpoint_ft is not None:
        bend = f"{bend} at {path.breakpoint_ft:.0f} ft"
    return (
        surface_words(path.surface_grit) + " hand" * (path.surface_by == Tool.HAND),
        feet(path.skid_end_ft),
        board(path.exit_board),
        bend,
        feet(path.hook_end_ft),
    )


def _film_key() -> str:
    return (
        on_paper("oil, in units", 0, 10, font_weight="600", fill=INK)
        + '<svg y="16" width="366" height="36" viewBox="0 0 366 36">'
        f"{film_key('paths-film')}</svg>"
        + on_paper(
            f"The lane is drawn {PLAN.stretch:.0f} times as wide as it is; the pins are to scale.",
            0,
            64,
            font_size="10.5",
            fill=INK,
        )
    )
