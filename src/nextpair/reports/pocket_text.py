"""The pocket in a few lines for a terminal: what is in it, how large it is, what to pack."""

from __future__ import annotations

from nextpair.domain.pocket import Pocket
from nextpair.reports.ink import Ink
from nextpair.reports.wording import counted, date_words


def render_pocket_text(
    pocket: Pocket,
    size_bytes: int,
    packed_bytes: int,
    columns: int = 80,
    *,
    colour: bool = False,
) -> str:
    """What a pocket holds; `packed_bytes` is what it weighs compressed."""
    page = Ink(columns, colour, label_columns=15)
    sheet = pocket.sheet
    lines = [
        page.strong(f"For the phone: {sheet.event}"),
        f"{sheet.bowler}, {date_words(sheet.date)}, {sheet.house}",
        "",
    ]
    lines += page.labelled("Games", f"{len(sheet.games)}, with practice")
    rolled, others = len(pocket.spares.spares), len(pocket.alike)
    lines += page.labelled(
        "Spares", f"{rolled} leaves, and for {others} others the line at one that is like them"
    )
    lines += page.labelled("Size", f"{size_bytes / 1000:.0f} kB, {packed_bytes / 1000:.0f} packed")
    lines += page.section("PACK (common practice)")
    for title, items in pocket.packing.sections:
        told = ", ".join(counted_item(item.many, item.item) for item in items)
        lines += page.labelled(title.capitalize(), told)
    lines += page.section("TAKE CARE")
    lines += [line for word in sheet.cautions for line in page.indented("  - ", 4, word)]
    lines += ["", f"{counted(len(sheet.guessed), 'value')} guessed; model {sheet.model_version}"]
    return "\n".join(lines) + "\n"


def counted_item(many: int, item: str) -> str:
    """A thing with its number, where there is more than one: '2 Laces'."""
    return item if many == 1 else f"{many} {item}"
