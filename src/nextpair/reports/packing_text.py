"""The packing list for a terminal: what was missing first, then group by group, with weights."""

from __future__ import annotations

from nextpair.domain.packing import CaseWeight, PackingList, PackItem
from nextpair.reports.ink import Ink

LABEL_COLUMNS = 30


def render_packing_text(packing: PackingList, columns: int = 80, *, colour: bool = False) -> str:
    """The list as text, at most `columns` wide."""
    page = Ink(columns, colour, LABEL_COLUMNS)
    lines = [
        page.strong(f"Packing list: {packing.event}"),
        f"About {packing.hours:.1f} hours with every stage; common practice",
    ]
    for title, items in packing.sections:
        lines += page.section(title.upper())
        lines += [line for item in items for line in _item(item, page)]
    if packing.cases:
        lines += page.section("WEIGHTS")
        for number, case in enumerate(packing.cases, start=1):
            lines += page.indented("  - ", 4, case_words(number, case))
    if packing.reorders:
        lines += page.section("BUY MORE")
        for reorder in packing.reorders:
            lines += page.labelled(reorder.item, reorder.words)
    lines += page.section("TAKE CARE")
    lines += [line for word in packing.cautions for line in page.indented("  - ", 4, word)]
    return "\n".join(lines) + "\n"


def case_words(number: int, case: CaseWeight) -> str:
    """What one case holds and weighs: 'Case 1: Kestrel, Saltmarsh. 40 lb of 50 lb.'"""
    over = f", {case.over_lb:g} lb too much" if case.is_over else ""
    weight = f"{case.weight_lb:g} lb of {case.limit_lb:g} lb{over}"
    return f"Case {number}: {', '.join(case.balls)}. {weight}."


def _item(item: PackItem, page: Ink) -> list[str]:
    told = f"[ ] {item.many} {item.item}" if item.many > 1 else f"[ ] {item.item}"
    why = f"Private. {item.why}" if item.private else item.why
    if len(told) > LABEL_COLUMNS - 4:
        return [*page.indented("  ", 2, told), *page.labelled("", why)]
    return page.labelled(told, why)
