"""The pocket as one page in one file: readable with nothing to run, and where scripts run, with a
log. The script finds the pocket in the page, and takes away what is true only without it.
"""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterator, Sequence

from nextpair.domain.packing import PackingList, PackItem
from nextpair.domain.pocket import Pocket
from nextpair.domain.spare import SpareCard
from nextpair.reports.markup import Markup, element, joined, listed, table
from nextpair.reports.packing_text import case_words
from nextpair.reports.pocket_json import render_pocket_json
from nextpair.reports.sheet_html import LEADS_NOWHERE, section, sheet_page
from nextpair.reports.wording import ball_words, board_words, percent
from nextpair.scoring.leaves import PINS, parse_leave, pin_count, standing_pins

NO_SCRIPT = (
    "This copy was made without its script. It can be read; it keeps no entries. Write shots on "
    "paper."
)
NOT_RUNNING = (
    "This page keeps no entries as it is open now: no script runs, as on an iPhone that opens a "
    "file, or nothing may be stored. Write shots on paper, or open the phone's page and load the "
    "pocket file there."
)
LINKS = (("Spares", "#spares"), ("Pack", "#packing"))
COMMONEST = 20
"""Leaves of several pins that are told before all the others."""
SPARE_HEAD = ("Leave", "Ball", "Feet", "Target", "Made")
SPARE_CAPTION = "Feet at the slide, target at the arrows; flat: thrown with less axis rotation"


def render_pocket_html(pocket: Pocket, script: str | None) -> str:
    """The page; `script` is what logs where scripts run, None where it was never built."""
    hand = pocket.sheet.hand
    more = (_spares(pocket, hand), _packing(pocket.packing))
    if script is None:
        return sheet_page(
            pocket.sheet, first=(element("p", NO_SCRIPT, class_="fallback"),), more=more
        )
    ours = script.replace("</script", "<\\/script").replace("<!--", "<\\!--")
    digest = base64.b64encode(hashlib.sha256(ours.encode()).digest()).decode()
    safety = (
        f"default-src 'none'; style-src 'unsafe-inline'; script-src 'sha256-{digest}'; "
        f"img-src data: blob:; {LEADS_NOWHERE}"
    )
    told = element("p", NOT_RUNNING, class_="fallback", data_without_script="")
    return sheet_page(
        pocket.sheet,
        safety=safety,
        first=(told, Markup('<div id="log" hidden></div>')),
        more=more,
        links=LINKS,
        last=(_data(pocket), Markup(f"<script>{ours}</script>")),
    )


def _data(pocket: Pocket) -> Markup:
    """The pocket itself, for the script."""
    document = render_pocket_json(pocket).replace("<", "\\u003c")
    return Markup(f'<script type="application/json" id="pocket">{document}</script>')


def _spares(pocket: Pocket, hand: str) -> Markup:
    cards = pocket.spares.spares
    singles = [card for card in cards if card.kind == "single pin"]
    others = sorted(
        (card for card in cards if card.kind != "single pin"),
        key=lambda card: -card.left_probability,
    )
    return section(
        "spares",
        "Spares",
        _table(singles, hand, "Single pins. " + SPARE_CAPTION),
        _table(others[:COMMONEST], hand, "Left most often."),
        *filter(None, (_in_front(pocket, others, pin) for pin in range(1, PINS + 1))),
    )


def _in_front(pocket: Pocket, others: Sequence[SpareCard], pin: int) -> Markup:
    """Every leave of several pins with some pin in front, few pins first."""
    same = sorted(
        (card for card in others if _front(card.leave) == pin),
        key=lambda card: pin_count(parse_leave(card.leave)),
    )
    rolled = (_table(same, pocket.sheet.hand, "Those that were rolled at."),) if same else ()
    alike = tuple(_alike(pocket, pin))
    if not (rolled or alike):
        return Markup()
    return element("details", element("summary", f"The {pin} pin in front"), *rolled, *alike)


def _front(leave: str) -> int:
    return standing_pins(parse_leave(leave))[0]


def _alike(pocket: Pocket, pin: int) -> Iterator[Markup]:
    """Leaves that nobody rolled at, by the one whose line is thrown."""
    like: dict[str, list[str]] = {}
    for leave, known in pocket.alike:
        if _front(leave) == pin:
            like.setdefault(known, []).append(leave)
    if like:
        yield element("p", "Nobody rolled at these. Throw the line of the one most like them:")
        yield listed(tuple(f"{known}: {', '.join(same)}" for known, same in like.items()))


def _table(cards: Sequence[SpareCard], hand: str, caption: str) -> Markup:
    rows = [
        (
            card.leave,
            joined(
                ball_words(card.best.ball, card.best.surface_grit),
                *((element("span", " flat", class_="soft"),) if card.best.flat else ()),
            ),
            board_words(card.best.line.slide_board, hand),
            board_words(card.best.line.target_board, hand),
            percent(card.best.probability),
        )
        for card in cards
    ]
    return table(SPARE_HEAD, rows, caption, "spares")


def _packing(packing: PackingList) -> Markup:
    groups = (
        joined(element("h3", title.capitalize()), element("ul", *(_item(item) for item in same)))
        for title, same in packing.sections
    )
    cases = tuple(case_words(number, case) for number, case in enumerate(packing.cases, start=1))
    return section(
        "packing",
        "Packing list",
        element("p", "Common practice.", class_="soft"),
        *groups,
        *((element("h3", "Weights"), listed(cases)) if cases else ()),
        element("h3", "Take care"),
        listed(packing.cautions),
    )


def _item(item: PackItem) -> Markup:
    many = f"{item.many} × " if item.many > 1 else ""
    why = element("span", f" {item.why}", class_="soft")
    return element("li", element("strong", f"{many}{item.item}."), why)
