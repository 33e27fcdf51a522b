"""The carry table as pictures: the map of strikes over offset and entry angle, what impacts leave,
or one below the other. Made to be read on a phone, and without colour.
"""

from __future__ import annotations

from textwrap import wrap

from nextpair.domain.carry import CarryMap, ImpactCard
from nextpair.reports.lane_plan import on_paper, px
from nextpair.reports.markup import escaped
from nextpair.reports.palette import INK, PAPER, STRIKE_STEPS, strike_colour
from nextpair.reports.rack_drawing import ladder_drawing, ladder_height_px
from nextpair.reports.strike_map import (
    HEIGHT_PX,
    SCALE_PX,
    WIDTH_PX,
    best_mark,
    head_pin_px,
    impact_mark,
    on_map,
    reaches_beyond,
    strike_map,
)
from nextpair.reports.wording import impact_words, percent, said_board, sides, strings_words

PAGE_PX = 360.0
EDGE_PX = 10.0
MAP_X_PX = 34.0
HEAD_PX = 64.0
KEY_PX = 46.0
LINE_PX = 14.5
NOTE_LETTERS = 54

Part = tuple[str, float]
"""What is drawn, and how tall it is."""


def carry_figure(carry: CarryMap) -> str:
    """Map and ladder in one picture."""
    return _figure(
        carry, "carry", f"Carry of {_ball_words(carry)}", (_map(carry, "carry"), _ladder(carry))
    )


def strike_map_figure(carry: CarryMap) -> str:
    """The map alone."""
    name = "strikes"
    title = f"Strikes by offset and entry angle: {_ball_words(carry)}"
    return _figure(carry, name, title, (_map(carry, name),))


def ladder_figure(carry: CarryMap) -> str:
    """The ladder alone."""
    title = f"What impacts leave: {_ball_words(carry)}"
    return _figure(carry, "leaves", title, (_ladder(carry),))


def _figure(carry: CarryMap, name: str, title: str, parts: tuple[Part, ...]) -> str:
    drawn, height = "", 0.0
    for part, tall in parts:
        drawn += _moved(0.0, height, part)
        height += tall
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{px(PAGE_PX)}" height="{px(height)}" '
        f'viewBox="0 0 {px(PAGE_PX)} {px(height)}" role="img" '
        f'aria-labelledby="{name}-title {name}-desc" style="max-width:100%;height:auto" '
        'font-family="system-ui, sans-serif" font-size="11">'
        f'<title id="{name}-title">{escaped(title)}</title>'
        f'<desc id="{name}-desc">{escaped(_said(carry))}</desc>'
        f'<rect width="{px(PAGE_PX)}" height="{px(height)}" fill="{PAPER}"/>{drawn}</svg>'
    )


def _map(carry: CarryMap, name: str) -> Part:
    _, own = sides(carry.hand)
    pocket_x, anchor = (WIDTH_PX, "end") if own == "right" else (0.0, "start")
    key_y = HEAD_PX + HEIGHT_PX + SCALE_PX + 14
    notes, notes_px = _map_notes(carry)
    drawn = (
        _head("Strikes by offset and entry angle", carry)
        + on_paper("head pin", MAP_X_PX + head_pin_px(carry), 58, text_anchor="middle", fill=INK)
        + on_paper("pocket side", MAP_X_PX + pocket_x, 58, text_anchor=anchor, fill=INK)
        + _moved(MAP_X_PX, HEAD_PX, strike_map(carry, name))
        + _moved(MAP_X_PX, key_y, _key())
        + _moved(EDGE_PX, key_y + KEY_PX, notes)
    )
    return drawn, key_y + KEY_PX + notes_px


def _ladder(carry: CarryMap) -> Part:
    top = 48.0
    notes_y = top + ladder_height_px(carry) + 14
    notes = (
        "Dark dot: the pin stands. Faint ring: it fell. Below each rack, how often it is left. "
        "The circle is the ball at first contact, to scale, the arrow its way in.",
        "X: strikes; beside it, the mean pins of the first ball. Boards are those of the ball's "
        "centre level with the head pin.",
    )
    told, told_px = _notes(notes)
    drawn = (
        _head("What impacts leave", carry)
        + _moved(EDGE_PX, top, ladder_drawing(carry))
        + _moved(EDGE_PX, notes_y, told)
    )
    return drawn, notes_y + told_px


def _moved(x: float, y: float, drawn: str) -> str:
    return f'<g transform="translate({px(x)} {px(y)})">{drawn}</g>'


def _ball_words(carry: CarryMap) -> str:
    return (
        f"{carry.ball_lb:g} lb at {carry.speed_mph:g} mph, {carry.hand}-handed"
        f"{strings_words(carry.pinfall)}"
    )


def _head(title: str, carry: CarryMap) -> str:
    return on_paper(title, EDGE_PX, 20, font_size="16", font_weight="700", fill=INK) + on_paper(
        _ball_words(carry), EDGE_PX, 37, font_size="12", fill=INK
    )


def _said(carry: CarryMap) -> str:
    """The pictures in words, for those who do not see them."""
    rungs = "; ".join(
        f"{rung.name}, board {said_board(rung.head_pin_board, carry.hand):g}: "
        + ", ".join(
            f"{percent(impact.strike_probability)} at {impact.entry_angle_deg:g} degrees"
            for impact in rung.impacts
        )
        for rung in carry.ladder
    )
    return f"{_best_words(carry)} Strikes by impact: {rungs}."


def _best_words(carry: CarryMap) -> str:
    best = carry.best
    return (
        f"Best on average over half a board either side: {_place_words(best, carry.hand)}; "
        f"strikes {percent(best.strike_probability)}."
    )


def _place_words(impact: ImpactCard, hand: str) -> str:
    level = said_board(impact.head_pin_board, hand)
    return f"{impact_words(impact, hand)} (board {level:.1f} level with it)"


def _map_notes(carry: CarryMap) -> Part:
    best, best_px = _notes((_best_words(carry),), indent_px=18.0)
    drawn = best_mark(6, 8) + best
    height = best_px
    if carry.impact is not None:
        marked = on_map(carry.impact)
        words = (
            f"Your impact{'' if marked else ', off the map'}: "
            f"{_place_words(carry.impact, carry.hand)}; strikes "
            f"{percent(carry.impact.strike_probability)}."
        )
        told, told_px = _notes((words,), indent_px=18.0)
        drawn += _moved(0.0, height, impact_mark(6, 8) * marked + told)
        height += told_px
    beyond = "Hatched: beyond the simulated racks." * reaches_beyond(carry)
    told, told_px = _notes((f"The dashed line marks published tests. {beyond}".rstrip(),))
    return drawn + _moved(0.0, height, told), height + told_px


def _notes(texts: tuple[str, ...], indent_px: float = 0.0) -> Part:
    """Paragraphs, wrapped to the page."""
    letters = NOTE_LETTERS - round(indent_px / 6)
    lines = [line for text in texts for line in wrap(text, letters)]
    drawn = "".join(
        on_paper(line, indent_px, 12 + LINE_PX * place, fill=INK)
        for place, line in enumerate(lines)
    )
    return drawn, 6 + LINE_PX * len(lines)


def _key() -> str:
    """The steps of strike chance, and the number where each begins."""
    cell = WIDTH_PX / (len(STRIKE_STEPS) + 1)
    boxes = "".join(
        f'<rect x="{px(cell * place)}" y="14" width="{px(cell)}" height="12" '
        f'fill="{strike_colour(chance)}"/>'
        for place, chance in enumerate((0.0, *STRIKE_STEPS))
    )
    numbers = "".join(
        on_paper(f"{100 * chance:.0f}", cell * (place + 1), 38, text_anchor="middle")
        for place, chance in enumerate(STRIKE_STEPS)
    )
    frame = (
        f'<rect y="14" width="{px(WIDTH_PX)}" height="12" fill="none" stroke="{INK}" '
        'stroke-width="0.6"/>'
    )
    return f'<g fill="{INK}">{boxes}{frame}{on_paper("strikes in percent", 0, 9)}{numbers}</g>'
