"""The belief as a picture: each unknown before the shots and after them, as hills of one area.

What is high and narrow is known. Outline, place and words tell before from after as well as colour
does. Made to be read on a phone, and without colour.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from textwrap import wrap

from nextpair.domain.belief import Estimate, Finding, Read
from nextpair.reports.belief_words import (
    change_words,
    finding_words,
    how_far_words,
    number_words,
)
from nextpair.reports.lane_plan import on_paper, px
from nextpair.reports.markup import escaped
from nextpair.reports.palette import ACCENT, INK, PAPER, ramp_colour
from nextpair.reports.wording import sentence

PAGE_PX = 360.0
EDGE_PX = 14.0
WIDE_PX = PAGE_PX - 2 * EDGE_PX
HEAD_PX = 76.0
WORDS_PX = 36.0
HILL_PX = 54.0
SCALE_PX = 34.0
ROW_PX = WORDS_PX + HILL_PX + SCALE_PX + 14.0
LINE_PX = 14.5
NOTE_LETTERS = 56
REACH_SD = 2.6
"""How far to each side of its middle a hill is drawn, in deviations."""
MARGIN_SHARE = 0.1
"""Of what the hills span, left free at each side for numbers."""
STEPS = 40
FINDINGS = 6
PALE, DARK = ramp_colour(0.22), ramp_colour(0.80)
DASHED = 'stroke-dasharray="4 2.5"'

Place = Callable[[float], float]
"""Pixels from the left, of a value."""
NOTES = (
    "Pale with a dashed edge: before the shots. Dark: after them. The bar below each holds it "
    "four times in five. The thin line is the plan.",
)


def belief_figure(read: Read) -> str:
    """What the shots said most of, most learned first, as SVG."""
    findings = _shown(read)
    texts = (*(tie.words for tie in read.ties), *NOTES)
    lines = [line for text in texts for line in wrap(text, NOTE_LETTERS)]
    notes_y = HEAD_PX + ROW_PX * len(findings) + 12
    height = notes_y + LINE_PX * len(lines) + 12
    rows = "".join(
        f'<g transform="translate({px(EDGE_PX)} {px(HEAD_PX + ROW_PX * place)})">{_row(one)}</g>'
        for place, one in enumerate(findings)
    )
    notes = "".join(
        on_paper(line, EDGE_PX, notes_y + LINE_PX * place, fill=INK)
        for place, line in enumerate(lines)
    )
    title = f"What the shots say: {read.event}"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{px(PAGE_PX)}" height="{px(height)}" '
        f'viewBox="0 0 {px(PAGE_PX)} {px(height)}" role="img" '
        'aria-labelledby="belief-title belief-desc" style="max-width:100%;height:auto" '
        'font-family="system-ui, sans-serif" font-size="11">'
        f'<title id="belief-title">{escaped(title)}</title>'
        f'<desc id="belief-desc">{escaped(_said(findings))}</desc>'
        f'<rect width="{px(PAGE_PX)}" height="{px(height)}" fill="{PAPER}"/>'
        f"{_head(read)}{rows}{notes}</svg>"
    )


def _shown(read: Read) -> tuple[Finding, ...]:
    """All that is news; where that is little, with what was learned next to nothing of."""
    others = (found for found in read.findings if not found.is_news)
    by_learned = sorted(others, key=lambda found: -found.learned_share)
    return (*read.news, *by_learned)[: max(FINDINGS, len(read.news))]


def _head(read: Read) -> str:
    return (
        on_paper("Believed before and after", EDGE_PX, 22, font_size="16", font_weight="700",
                 fill=INK)
        + on_paper(read.event, EDGE_PX, 39, font_size="12", fill=INK)
        + on_paper(how_far_words(read), EDGE_PX, 55, font_size="12", fill=INK)
    )  # fmt: skip


def _said(findings: tuple[Finding, ...]) -> str:
    """The picture in words, for those who do not see it."""
    return " ".join(
        f"{sentence(one.name)[:-1]}: {finding_words(one)}; {change_words(one)}."
        for one in findings
    )


def _row(finding: Finding) -> str:
    before, after = finding.planned, finding.found
    x = _scale(before, after)
    narrowest_sd = min(before.sd, after.sd)
    ground = WORDS_PX + HILL_PX
    return (
        on_paper(sentence(finding.name)[:-1], 0, 12, font_size="13", font_weight="600", fill=INK)
        + on_paper(finding.unit, WIDE_PX, 12, text_anchor="end", fill=INK)
        + on_paper(finding_words(finding), 0, 28, font_size="12", fill=INK)
        + f'<g transform="translate(0 {px(WORDS_PX)})" stroke="{INK}">'
        f'<path class="before" d="{_hill(before, narrowest_sd, x)}" fill="{PALE}" {DASHED}/>'
        f'<path class="after" d="{_hill(after, narrowest_sd, x)}" fill="{DARK}" '
        'fill-opacity="0.82"/></g>'
        f'<path d="M0 {px(ground)}H{px(WIDE_PX)}" stroke="{INK}"/>'
        f'<path d="M{px(x(before.mean))} {px(WORDS_PX)}v{px(HILL_PX + 5)}" stroke="{ACCENT}" '
        'stroke-width="1.4"/>'
        + _interval(finding, before, "before", ground + 12, x)
        + _interval(finding, after, "now", ground + 26, x)
    )


def _scale(before: Estimate, after: Estimate) -> Place:
    """A scale on which both hills find room."""
    ends = [one.mean + side * REACH_SD * one.sd for one in (before, after) for side in (-1, 1)]
    margin = MARGIN_SHARE * (max(ends) - min(ends))
    low, high = min(ends) - margin, max(ends) + margin
    return lambda value: WIDE_PX * (value - low) / (high - low)


def _hill(one: Estimate, narrowest_sd: float, x: Place) -> str:
    """A normal hill, closed along the ground; the narrowest of a row is as tall as the row."""
    tall = HILL_PX * narrowest_sd / one.sd
    points = []
    for step in range(STEPS + 1):
        off = REACH_SD * (2 * step / STEPS - 1)
        height = tall * math.exp(-0.5 * off * off)
        points.append(f"{px(x(one.mean + off * one.sd))} {px(HILL_PX - height)}")
    left, right = (px(x(one.mean + side * REACH_SD * one.sd)) for side in (-1, 1))
    return f"M{left} {px(HILL_PX)}L{'L'.join(points)}L{right} {px(HILL_PX)}z"


def _interval(finding: Finding, one: Estimate, name: str, y: float, x: Place) -> str:
    """A bar with its ends in numbers, named on the side that has more room."""
    left, right = x(one.low), x(one.high)
    low, high = (number_words(number, finding) for number in (one.low, one.high))
    if left + right > WIDE_PX:
        low = f"{name}  {low}"
    else:
        high = f"{high}  {name}"
    drawn = f'stroke-width="2.5" {DASHED}' if name == "before" else 'stroke-width="4"'
    return (
        f'<path class="{name}" d="M{px(left)} {px(y)}H{px(right)}" stroke="{INK}" {drawn}/>'
        + on_paper(low, left - 5, y + 4, text_anchor="end", fill=INK)
        + on_paper(high, right + 5, y + 4, fill=INK)
    )
