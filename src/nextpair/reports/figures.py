"""Pictures of lanes as SVG: a pair with its lines, one film, the key to the colours.

Every picture has a title and a description in words, and needs no colour to be read.
"""

from __future__ import annotations

from nextpair.application.film import FilmCard
from nextpair.domain.bowler import Hand
from nextpair.domain.sheet import GameCard, LaneCard, Sheet
from nextpair.domain.units import FOOT_M
from nextpair.physics.film import rule_of_31_exit_board
from nextpair.reports.lane_drawing import (
    AXIS_PX,
    GAP_PX,
    GUTTER_PX,
    HEIGHT_PX,
    LANE_PX,
    STRETCH,
    TOP_PX,
    Trace,
    distance_scale,
    lane_drawing,
)
from nextpair.reports.lane_plan import px
from nextpair.reports.markup import escaped
from nextpair.reports.palette import FILM_STEPS_UNITS, film_colour
from nextpair.reports.wording import board_words, breakpoint_words, pattern_words


def pair_figure(game: GameCard, sheet: Sheet) -> str:
    """Both lanes of a game's pair, as somebody standing before them sees them."""
    hand, rules = sheet.hand, _rules_of_31(sheet)
    traces = [_trace_of_lane(lane, rule) for lane, rule in zip(game.lanes, rules, strict=True)]
    said = "; ".join(
        f"lane {lane.lane}: target {board_words(lane.line.target_board, hand)}, "
        f"breakpoint {breakpoint_words(lane.line, hand)}"
        for lane in game.lanes
    )
    ruled = " and ".join(
        dict.fromkeys(f"board {board_words(board, hand)}, {ft:.0f} ft" for board, ft in rules)
    )
    return lanes_figure(
        traces,
        hand,
        name=f"game-{game.game}",
        title=f"Game {game.game}, lanes {game.pair}: oil and line",
        description=f"{said}; rule of 31 at {ruled}.",
    )


def _rules_of_31(sheet: Sheet) -> tuple[tuple[float, float], tuple[float, float]]:
    """Exit board by the rule of 31 and length in feet of the left and the right lanes' oil."""
    left = (sheet.rule_of_31_exit_board, sheet.pattern.length_ft)
    if sheet.right_pattern is None:
        return left, left
    length_ft = sheet.right_pattern.length_ft
    return left, (rule_of_31_exit_board(length_ft * FOOT_M, Hand(sheet.hand)), length_ft)


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
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {px(width)} {px(HEIGHT_PX)}" '
        f'role="img" aria-labelledby="{name}-title {name}-desc" '
        'font-family="system-ui, sans-serif" font-size="11">',
        f'<title id="{name}-title">{escaped(title)}</title>',
        f'<desc id="{name}-desc">{escaped(description)} {stretch}</desc>',
        distance_scale(),
    ]
    for place, trace in enumerate(traces):
        left = AXIS_PX + GUTTER_PX + place * pitch
        parts.append(
            f'<g transform="translate({px(left)} {px(TOP_PX)})">{lane_drawing(trace, hand)}</g>'
        )
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
