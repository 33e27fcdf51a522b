"""Film across the boards at a few distances, both lanes of a pair in one picture, as SVG."""

from __future__ import annotations

from nextpair.domain.lane import BOARDS
from nextpair.domain.sheet import GameCard
from nextpair.reports.markup import escaped
from nextpair.reports.palette import ACCENT, film_colour
from nextpair.reports.wording import said_board

BOARD_PX = 7.6
PANEL_PX = 62.0
PITCH_PX = 84.0
AXIS_PX = 30.0
TOP_PX = 8.0
SMALLEST_TOP_UNITS = 10.0


def profile_figure(game: GameCard, hand: str) -> str:
    """Units of oil on each board at each reported distance, farthest at the top."""
    distances = sorted(game.lanes[0].film_units_at, key=int, reverse=True)
    tops = [unit for lane in game.lanes for row in lane.film_units_at.values() for unit in row]
    top_units = max(SMALLEST_TOP_UNITS, *tops)
    width = AXIS_PX + BOARDS * BOARD_PX + 4
    height = TOP_PX + PITCH_PX * len(distances)
    name = f"game-{game.game}-film"
    lanes = " and ".join(str(lane.lane) for lane in game.lanes)
    said = "; ".join(_said(game, feet, hand) for feet in distances)
    panels = "".join(
        f'<g transform="translate({AXIS_PX:g} {TOP_PX + place * PITCH_PX:g})">'
        f"{_panel(game, feet, top_units, hand)}</g>"
        for place, feet in enumerate(distances)
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {height:g}" role="img" '
        f'aria-labelledby="{name}-title {name}-desc" font-family="system-ui, sans-serif" '
        f'font-size="10"><title id="{name}-title">Film across lanes {escaped(lanes)}</title>'
        f'<desc id="{name}-desc">Thickest film: {escaped(said)}.</desc>{panels}</svg>'
    )


def _said(game: GameCard, feet: str, hand: str) -> str:
    thickest = []
    for lane in game.lanes:
        row = lane.film_units_at[feet]
        board = max(range(BOARDS), key=row.__getitem__) + 1
        thickest.append(
            f"lane {lane.lane} {row[board - 1]:.0f} units on board {said_board(board, hand):.0f}"
        )
    return f"at {feet} ft " + ", ".join(thickest)


def _panel(game: GameCard, feet: str, top_units: float, hand: str) -> str:
    first, *others = game.lanes
    outline = _steps(first.film_units_at[feet], top_units)
    right = BOARDS * BOARD_PX
    lines = "".join(
        f'<path d="M{_steps(lane.film_units_at[feet], top_units)}" fill="none" '
        f'stroke="{ACCENT}" stroke-width="1.5" stroke-dasharray="4 2"/>'
        for lane in others
    )
    numbers = "".join(
        f'<text x="{(BOARDS - board + 0.5) * BOARD_PX:g}" y="{PANEL_PX + 11:g}" '
        f'text-anchor="middle">{said_board(board, hand):.0f}</text>'
        for board in range(5, 36, 5)
    )
    return (
        f'<path d="M0 {PANEL_PX:g}L{outline}L{right:g} {PANEL_PX:g}z" fill="{film_colour(8)}" '
        f'stroke="{film_colour(27)}" stroke-width="0.8"/>{lines}'
        f'<path d="M0 0V{PANEL_PX:g}H{right:g}" fill="none" stroke="currentColor"/>'
        f'<g fill="currentColor">{numbers}<text x="-4" y="{PANEL_PX:g}" text-anchor="end">0</text>'
        f'<text x="-4" y="9" text-anchor="end">{top_units:.0f}</text>'
        f'<text x="{right - 4:g}" y="10" text-anchor="end" font-weight="600" font-size="12">'
        f"{escaped(feet)} ft</text></g>"
    )


def _steps(units: tuple[float, ...], top_units: float) -> str:
    """One step a board, the left board first, without the leading M."""
    points = []
    for place, value in enumerate(reversed(units)):
        y = PANEL_PX * (1 - value / top_units)
        points.append(f"{place * BOARD_PX:g} {y:.1f}H{(place + 1) * BOARD_PX:g}")
    return "L".join(points)
