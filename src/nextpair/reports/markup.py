"""Elements of a page. Whatever is not markup already is text, and is escaped."""

from __future__ import annotations

import re
from collections.abc import Sequence
from html import escape

_NO_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""What no XML may hold, however it is written: a picture with one of them is none. Source: XML
1.0, fifth edition, section 2.2."""
_UNREADABLE = "\ufffd"


class Markup(str):
    """Text that is markup already."""

    __slots__ = ()


def escaped(text: str, quote: bool = True) -> str:
    """Text for a page or a picture, with a sign of its own in place of what neither may hold."""
    return escape(_NO_XML.sub(_UNREADABLE, text), quote)


def element(name: str, *children: str, **attributes: str) -> Markup:
    """An element; `class_` and `for_`-like names lose their underscore, others get hyphens."""
    said = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{escaped(value)}"'
        for key, value in attributes.items()
    )
    return Markup(f"<{name}{said}>{joined(*children)}</{name}>")


def joined(*children: str) -> Markup:
    """Children one after another, text escaped."""
    return Markup(
        "".join(
            child if isinstance(child, Markup) else escaped(child, quote=False)
            for child in children
        )
    )


def listed(items: tuple[str, ...]) -> Markup:
    """A plain list."""
    return element("ul", *(element("li", item) for item in items))


def table(
    head: tuple[str, ...], rows: Sequence[tuple[str, ...]], caption: str, name: str
) -> Markup:
    """A table whose first column names its rows."""
    top = element("tr", *(element("th", cell, scope="col") for cell in head))
    body = (
        element(
            "tr",
            element("th", row[0], scope="row"),
            *(element("td", cell) for cell in row[1:]),
        )
        for row in rows
    )
    return element(
        "table",
        element("caption", caption),
        element("thead", top),
        element("tbody", *body),
        class_=name,
    )
