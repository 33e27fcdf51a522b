"""A recap as a picture that a phone shows whole: 1200 by 1500 pixels, always on one leaf.

Typst lays it out from words that are ready; nothing of the recap is read as its markup. Built-in
fonts only, so the same recap gives the same picture.
"""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any

import typst

from nextpair.domain.recap import Recap
from nextpair.reports.palette import INK
from nextpair.reports.recap_figures import score_figure, strip_figure, use_figure
from nextpair.reports.recap_words import (
    FIELD_KEY,
    ball_name,
    change_words,
    edge_words,
    figures_told,
    money_told,
    pattern_told,
    strip_key,
    surface_words,
    use_words,
    where_words,
)
from nextpair.reports.sheet_pdf import for_paper
from nextpair.reports.wording import sentence

PIXELS_PER_INCH = 144
"""Of a leaf of 600 by 750 points."""
MOST_BALLS, MOST_LEARNED = 6, 4
LONGEST_TEXT = 160


def render_recap_png(recap: Recap) -> bytes:
    """The recap as a PNG."""
    compiled = typst.compile(
        (files("nextpair.reports") / "recap.typ").read_bytes(),
        format="png",
        ppi=PIXELS_PER_INCH,
        ignore_system_fonts=True,
        sys_inputs={"recap": json.dumps(picture_source(recap))},
    )
    return bytes(compiled)


def picture_source(recap: Recap) -> dict[str, Any]:
    """Everything that the picture says, as strings."""
    return {
        "event": _cut(recap.event),
        "where": _cut(where_words(recap)),
        "bowler": _cut(recap.bowler),
        "figures": [list(told) for told in figures_told(recap)],
        "scores": for_paper(score_figure(recap), INK),
        "key": FIELD_KEY if any(game.field_pins is not None for game in recap.games) else "",
        "films": [
            [for_paper(strip_figure(one, recap), INK), _cut(pattern_told(one))]
            for one in recap.patterns
        ],
        "film_key": strip_key(recap),
        "surface": sentence(surface_words(recap)),
        "changed": " ".join((*change_words(recap), edge_words(recap))).strip(),
        "bag": [
            [
                _cut(ball_name(ball)),
                _cut(sentence(use_words(ball, recap.games))),
                for_paper(use_figure(ball, recap), INK),
            ]
            for ball in recap.bag[:MOST_BALLS]
        ],
        "more_balls": _more(len(recap.bag) - MOST_BALLS, "ball"),
        "learned": [_cut(sentence(words)) for words in recap.learned[:MOST_LEARNED]],
        "money": "" if recap.money is None else money_told(recap.money),
    }


def _cut(text: str) -> str:
    return text if len(text) <= LONGEST_TEXT else f"{text[: LONGEST_TEXT - 1].rstrip()}…"


def _more(many: int, noun: str) -> str:
    return "" if many <= 0 else f"and {many} more {noun}{'s' * (many > 1)}"
