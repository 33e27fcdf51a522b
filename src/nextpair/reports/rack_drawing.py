"""Small racks of ten seen from above, as SVG: what stands after a ball, and where the ball came
in. Standing pins are dark dots, fallen ones faint rings, drawn larger than they are; places and
the ball are to scale.
"""

from __future__ import annotations

import math

from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.bowler import Hand
from nextpair.domain.carry import CarryMap, ImpactCard, Rung
from nextpair.domain.entry import boards_before_contact
from nextpair.domain.lane import BOARD_M, pin_position_m
from nextpair.domain.units import INCH_M
from nextpair.reports.lane_plan import on_paper, px
from nextpair.reports.palette import INK
from nextpair.reports.wording import said_board
from nextpair.scoring.leaves import PINS, parse_leave, standing_pins

INCH_PX = 0.86
METRE_PX = INCH_PX / INCH_M
STANDING_PX, FALLEN_PX = 3.2, 1.8
RACK_WIDTH_PX = 46.0
HEAD_PIN_Y_PX = 31.0
"""The head pin below the upper edge of its rack's drawing."""
RACK_HEIGHT_PX = 52.0
WAY_PX = 14.0
"""How much of the ball's way to its first contact is drawn."""

NAME_PX = 62.0
RACKS_A_CELL = 2
CELL_PX = RACKS_A_CELL * RACK_WIDTH_PX
WIDTH_PX = NAME_PX + 3 * CELL_PX
HEAD_PX = 20.0
ROW_PX = 88.0
LEAST_DRAWN = 0.005


def ladder_height_px(carry: CarryMap) -> float:
    """Height of the ladder's drawing."""
    return HEAD_PX + ROW_PX * len(carry.ladder)


def ladder_drawing(carry: CarryMap) -> str:
    """A row an impact, a column an angle: strikes, mean pins and the likeliest leaves."""
    heads = "".join(
        on_paper(
            f"{impact.entry_angle_deg:g} degrees",
            _cell_x(column),
            12,
            font_weight="700",
            font_size="12",
        )
        for column, impact in enumerate(carry.ladder[0].impacts)
    )
    rows = "".join(
        f'<g class="rung" transform="translate(0 {px(HEAD_PX + ROW_PX * place)})">'
        f"{_rung(rung, carry.hand)}</g>"
        for place, rung in enumerate(carry.ladder)
    )
    board = on_paper("board", 0, 12, font_size="12")
    return f'<g fill="{INK}">{board}{heads}{rows}</g>'


def rack_drawing(impact: ImpactCard, pins: str, hand: str) -> str:
    """One rack with a leave such as '1-2-10' standing, and the ball at its first contact."""
    standing = standing_pins(parse_leave(pins))
    fallen = [pin for pin in range(1, PINS + 1) if pin not in standing]
    return (
        f'<g fill="none" stroke="{INK}" stroke-opacity="0.45">'
        f"{''.join(_pin(pin, FALLEN_PX) for pin in fallen)}</g>"
        f"{''.join(_pin(pin, STANDING_PX) for pin in standing)}{_ball(impact, hand)}"
    )


def contact_px(impact: ImpactCard, hand: str) -> tuple[float, float]:
    """The ball's centre at first contact, or level with the head pin where it passes it."""
    board_px = BOARD_M * METRE_PX
    right = Hand(hand).sign * impact.offset_board
    before = boards_before_contact(impact.offset_board)
    return 0.5 * RACK_WIDTH_PX + right * board_px, HEAD_PIN_Y_PX + before * board_px


def _cell_x(column: int) -> float:
    return NAME_PX + CELL_PX * column


def _rung(rung: Rung, hand: str) -> str:
    name = "".join(
        on_paper(word, 0, 15 + 13 * line, font_weight="700", font_size="12")
        for line, word in enumerate(_two_lines(rung.name))
    )
    board = on_paper(f"{said_board(rung.head_pin_board, hand):.3g}", 0, 44)
    cells = "".join(
        f'<g transform="translate({px(_cell_x(column))} 0)">{_cell(impact, hand)}</g>'
        for column, impact in enumerate(rung.impacts)
    )
    rules = f"M0 1H{px(WIDTH_PX)}" + "".join(
        f"M{px(_cell_x(column) - 3)} 1v{px(ROW_PX)}" for column in range(len(rung.impacts))
    )
    rule = f'<path d="{rules}" stroke="{INK}" stroke-opacity="0.25"/>'
    return rule + name + board + cells


def _two_lines(name: str) -> tuple[str, ...]:
    first, _, rest = name.partition(" ")
    return (first, rest) if rest else (first,)


def _cell(impact: ImpactCard, hand: str) -> str:
    strike = on_paper(f"X {_percent(impact.strike_probability)}", 2, 15, font_weight="700")
    pins = on_paper(f"{impact.mean_pins:.1f}", CELL_PX - 8, 15, text_anchor="end")
    racks = "".join(
        f'<g class="rack" transform="translate({px(RACK_WIDTH_PX * place)} 19)">'
        f"<title>{pins} {_percent(chance)}</title>{rack_drawing(impact, pins, hand)}"
        + on_paper(
            _percent(chance), 0.5 * RACK_WIDTH_PX, RACK_HEIGHT_PX + 10, text_anchor="middle"
        )
        + "</g>"
        for place, (pins, chance) in enumerate(impact.leaves[:RACKS_A_CELL])
        if chance >= LEAST_DRAWN
    )
    return strike + pins + racks


def _percent(chance: float) -> str:
    """Whole percent in as few letters as will do."""
    return "<1 %" if 0.0 < chance < 0.005 else f"{100 * chance:.0f} %"


def _pin(pin: int, radius_px: float) -> str:
    x_m, beyond_m = pin_position_m(pin)
    x = 0.5 * RACK_WIDTH_PX + x_m * METRE_PX
    y = HEAD_PIN_Y_PX - beyond_m * METRE_PX
    return f'<circle cx="{px(x)}" cy="{px(y)}" r="{px(radius_px)}"/>'


def _ball(impact: ImpactCard, hand: str) -> str:
    """The ball where it first touches the head pin, and the last of its way as an arrow."""
    x, y = contact_px(impact, hand)
    slope = Hand(hand).sign * math.tan(math.radians(impact.entry_angle_deg))
    radius = BALL_RADIUS_M * METRE_PX
    start_y = y + WAY_PX
    tip_y = y - 1.5
    left, right = x + slope * 4.5 - 2.6, x + slope * 4.5 + 2.6
    return (
        f'<circle cx="{px(x)}" cy="{px(y)}" r="{px(radius)}" fill="none" stroke="{INK}" '
        'stroke-width="0.8"/>'
        f'<path d="M{px(x + slope * WAY_PX)} {px(start_y)}L{px(x)} {px(y)}" stroke="{INK}" '
        f'stroke-width="1.3"/><path d="M{px(left)} {px(tip_y + 5)}L{px(x)} {px(tip_y)}'
        f'L{px(right)} {px(tip_y + 5)}z"/>'
    )
