"""Pictures of a recap as SVG: scores against the field, the pattern from end to end, a ball's use.

Every picture says in words what it shows, and needs no colour to be read. What a page draws in
colours of its own has a class; elsewhere the attributes hold.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from nextpair.domain.lane import ARROWS_M
from nextpair.domain.recap import Recap, RecapBall, RecapGame, RecapPattern
from nextpair.domain.units import FOOT_M
from nextpair.reports.lane_plan import LanePlan, lane_bed, on_paper, px
from nextpair.reports.markup import escaped
from nextpair.reports.palette import ACCENT, HALO, INK, PAPER
from nextpair.reports.recap_words import MARK_BOARDS, marked_games, pattern_told, use_words

WIDTH_PX, CHART_PX = 640.0, 250.0
LEFT_PX, RIGHT_PX, TOP_PX, FOOT_PX = 42.0, 6.0, 12.0, 44.0
STEP_PINS = 25
LEAST_SPAN_PINS = 75
LANE = LanePlan(board_px=3.2, foot_px=10.0, gutter_px=6.0)
SCALE_PX = 22.0
STRIP_PX = LANE.width_px + 2 * LANE.gutter_px + SCALE_PX
CELL_PX = 26.0
ROOMY_PX = 62.0
"""Between games, to name each with its pair."""
SMALL = {"font_size": "15", "fill": "currentColor", "fill_opacity": "0.75"}


@dataclass(frozen=True, slots=True)
class Chart:
    """The scale of a picture of scores."""

    low_pins: int
    high_pins: int

    @classmethod
    def of(cls, games: Sequence[RecapGame]) -> Chart:
        """Whole steps around everything that is shown."""
        told = [float(game.score) for game in games]
        told += [game.field_pins for game in games if game.field_pins is not None]
        low = math.floor((min(told) - 12) / STEP_PINS) * STEP_PINS
        high = math.ceil((max(told) + 12) / STEP_PINS) * STEP_PINS
        return cls(low, max(high, low + LEAST_SPAN_PINS))

    def y(self, pins: float) -> float:
        """Pixels down from the top."""
        share = (self.high_pins - pins) / (self.high_pins - self.low_pins)
        return TOP_PX + share * (CHART_PX - TOP_PX - FOOT_PX)


def svg(width: float, height: float, said: str, *parts: str) -> str:
    """A picture, with what it shows in words."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {px(width)} {px(height)}" '
        f'role="img" aria-label="{escaped(said)}" font-family="system-ui, sans-serif">'
        f"{''.join(parts)}</svg>"
    )


def score_figure(recap: Recap) -> str:
    """Each game's score, and what the field averaged in it."""
    chart = Chart.of(recap.games)
    pitch = (WIDTH_PX - LEFT_PX - RIGHT_PX) / len(recap.games)
    places = [(LEFT_PX + pitch * (place + 0.5), game) for place, game in enumerate(recap.games)]
    steps = range(chart.low_pins, chart.high_pins + 1, STEP_PINS)
    said = "; ".join(f"game {game.game} {_beside_field(game)}" for game in recap.games)
    return svg(
        WIDTH_PX,
        CHART_PX,
        f"Scores: {said}",
        *(_rule(pins, chart.y(pins)) for pins in steps),
        _field(
            [(x, chart.y(one.field_pins)) for x, one in places if one.field_pins is not None],
            min(15.0, 0.3 * pitch),
        ),
        _own([(x, chart.y(game.score)) for x, game in places]),
        *(_labels(game, x, chart, pitch) for x, game in places),
    )


def _beside_field(game: RecapGame) -> str:
    field = "" if game.field_pins is None else f", field {game.field_pins:.0f}"
    return f"{game.score}{field}"


def _rule(pins: int, y: float) -> str:
    return (
        f'<path d="M{px(LEFT_PX)} {px(y)}H{px(WIDTH_PX - RIGHT_PX)}" stroke="currentColor" '
        'stroke-opacity="0.16"/>'
        + on_paper(str(pins), LEFT_PX - 8, y + 5, text_anchor="end", **SMALL)
    )


def _field(places: Sequence[tuple[float, float]], half_px: float) -> str:
    """Bars where the field's means are, joined by dashes."""
    if not places:
        return ""
    points = " ".join(f"{px(x)},{px(y)}" for x, y in places)
    bars = "".join(f"M{px(x - half_px)} {px(y)}h{px(2 * half_px)}" for x, y in places)
    return (
        f'<polyline points="{points}" fill="none" stroke="currentColor" stroke-opacity="0.5" '
        'stroke-width="1.4" stroke-dasharray="3 5"/>'
        f'<path d="{bars}" stroke="currentColor" stroke-opacity="0.7" stroke-width="3.6"/>'
    )


def _own(places: Sequence[tuple[float, float]]) -> str:
    points = " ".join(f"{px(x)},{px(y)}" for x, y in places)
    dots = "".join(f'<circle cx="{px(x)}" cy="{px(y)}" r="7"/>' for x, y in places)
    return (
        f'<polyline class="own" points="{points}" fill="none" stroke="{ACCENT}" '
        f'stroke-width="3.4" stroke-linejoin="round"/><g class="dots" fill="{ACCENT}" '
        f'stroke="{HALO}" stroke-width="2">{dots}</g>'
    )


def _labels(game: RecapGame, x: float, chart: Chart, pitch_px: float) -> str:
    """The game and its pair below; its score and the field's on the sides away from each other.
    Where games stand close, everything is smaller and the pair is left out."""
    bottom = CHART_PX - FOOT_PX
    middle = {"text_anchor": "middle", "fill": "currentColor"}
    roomy = pitch_px >= ROOMY_PX
    name = f"Game {game.game}" if roomy else str(game.game)
    told = on_paper(name, x, bottom + 20, font_size="16", **middle)
    if roomy:
        told += on_paper(game.pair, x, bottom + 38, **(SMALL | middle))
    over = game.field_pins is None or game.score >= game.field_pins
    own_y = chart.y(game.score) + (-13 if over else 26)
    look = {"font_size": px(min(22, 0.5 * pitch_px)), "font_weight": "700", **middle}
    halo = {"class": "halo", "stroke": PAPER, "stroke_width": "5", "paint_order": "stroke"}
    told += on_paper(str(game.score), x, own_y, **(look | halo))
    if game.field_pins is not None:
        field_y = chart.y(game.field_pins) + (18 if over else -8)
        size = {"font_size": px(min(15, 0.42 * pitch_px))}
        told += on_paper(f"{game.field_pins:.0f}", x, field_y, **(SMALL | middle | size))
    return told


def strip_figure(told: RecapPattern, recap: Recap) -> str:
    """The fresh film of a lane that lies on its side: foul line left, pins right, and where the
    first and the last game were played over the arrows."""
    top, left = LANE.gutter_px, 4.0
    length_ft = told.pattern.length_ft
    end, bottom = left + length_ft * LANE.foot_px, top + LANE.width_px
    ticks = "".join(
        on_paper(
            f"{feet} ft" if feet else "foul line", left + feet * LANE.foot_px,
            bottom + LANE.gutter_px + 16, text_anchor="middle" if feet else "start", **SMALL,
        )
        for feet in range(0, 61, 20)
    )  # fmt: skip
    return svg(
        LANE.length_px + 2 * left,
        STRIP_PX,
        f"Fresh film of {pattern_told(told)}, foul line left, pins right",
        f'<g transform="translate({px(left + LANE.length_px)} {px(top)}) rotate(90)">'
        f"{lane_bed(LANE, told.film_units)}</g>",
        f'<path d="M{px(end)} {px(top)}V{px(bottom)}" stroke="{INK}" stroke-width="1.4" '
        'stroke-dasharray="3 3"/>',
        on_paper(f"oil ends at {length_ft:.0f} ft", end + 7, top + 16, font_size="14", fill=INK),
        *(_mark(game, left, top) for game in marked_games(recap)),
        ticks,
    )


def _mark(game: RecapGame, left: float, top: float) -> str:
    x = left + ARROWS_M / FOOT_M * LANE.foot_px
    y = top + LANE.x(game.target_board or 0.0)
    radius = px(MARK_BOARDS * LANE.board_px / 2)
    return (
        f'<circle cx="{px(x)}" cy="{px(y)}" r="{radius}" fill="{ACCENT}" stroke="{HALO}" '
        'stroke-width="1.5"/>'
        + on_paper(
            str(game.game), x, y + 4.5, text_anchor="middle", font_size="13", font_weight="700",
            fill=HALO,
        )
    )  # fmt: skip


def use_figure(ball: RecapBall, recap: Recap) -> str:
    """A disc a game, the larger the more the ball was thrown in it; a ring where it was not."""
    most = max((max(one.thrown, default=0) for one in recap.bag), default=0) or 1
    middle = CELL_PX / 2
    discs = []
    for place, many in enumerate(ball.thrown):
        x = px(CELL_PX * place + middle)
        size = px((middle - 3) * max(math.sqrt(many / most), 0.35))
        discs.append(
            f'<circle class="dots" cx="{x}" cy="{px(middle)}" r="{size}" fill="{ACCENT}"/>'
            if many
            else f'<circle cx="{x}" cy="{px(middle)}" r="2.6" fill="none" '
            'stroke="currentColor" stroke-opacity="0.5"/>'
        )
    width = CELL_PX * max(len(ball.thrown), 1)
    return svg(width, CELL_PX, f"{ball.ball}: {use_words(ball, recap.games)}", *discs)
