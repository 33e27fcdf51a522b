"""Names that are code, markup or orders somewhere, through everything that shows them.

Each is put in the place of every name of a report, also within its sentences, and the report is
read by a reader of its kind. It must hold what it holds with a plain name of the same shape: as
many elements, attributes, entries and lines, and the name as its letters.
"""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass, replace
from datetime import UTC, date, datetime
from enum import Enum
from functools import cache
from html.parser import HTMLParser
from importlib.resources import files
from typing import Any
from xml.etree import ElementTree as ET

import pytest
import typst
from markdown_it import MarkdownIt

from debriefs import a_debrief
from nextpair.domain.season import Deadline, Due
from nextpair.reports.debrief_json import render_debrief_json
from nextpair.reports.debrief_text import render_debrief_text
from nextpair.reports.ledger_text import render_ledger_text
from nextpair.reports.money_json import render_ledger_json
from nextpair.reports.packing_json import render_packing_json
from nextpair.reports.packing_text import render_packing_text
from nextpair.reports.path_text import render_path_text
from nextpair.reports.paths_figure import paths_figure
from nextpair.reports.pocket_html import render_pocket_html
from nextpair.reports.pocket_json import render_pocket_json
from nextpair.reports.pocket_text import render_pocket_text
from nextpair.reports.read_text import render_read_text
from nextpair.reports.recap_html import render_recap_html
from nextpair.reports.recap_json import render_recap_json
from nextpair.reports.recap_markdown import render_recap_markdown
from nextpair.reports.recap_picture import picture_source, render_recap_png
from nextpair.reports.refusal import on_screen
from nextpair.reports.score_text import render_score_text
from nextpair.reports.season_calendar import render_season_calendar
from nextpair.reports.sheet_html import render_sheet_html
from nextpair.reports.sheet_json import (
    render_paths_json,
    render_read_json,
    render_score_json,
    render_sheet_json,
    render_spares_json,
)
from nextpair.reports.sheet_pdf import _words, render_sheet_pdf
from nextpair.reports.sheet_text import render_bag_text, render_sheet_text
from nextpair.reports.spare_text import render_spares_text
from unit.reports.money_factory import a_season
from unit.reports.pocket_factory import a_pocket
from unit.reports.read_factory import a_read
from unit.reports.recap_factory import a_recap
from unit.reports.score_factory import a_score_sheet
from unit.reports.sheet_factory import a_path, a_sheet
from unit.reports.spare_factory import a_spare_sheet

NAMES = {
    "script": "</title></style></script><script>alert(1)</script>",
    "picture": "\"'><img src=x onerror=alert(1)>",
    "in a picture": "</text></svg><svg onload=alert(1)><!--",
    "entity": "&lt;b&gt;&amp;&#60;]]>",
    "formula": "=cmd|' /C calc'!A0",
    "file": '#read("/etc/passwd")',
    "panic": '#panic("no") $x^2$ @r <l> // c',
    "marks": "**b** __i__ `c` ~~d~~ | a | \\",
    "link": "[a](javascript:alert(1)) ![b](//x.invalid/c)",
    "heading": "# 1) - + === ---",
    "header": "Ada\r\nX-Header: yes\r\n\r\n<p>",
    "calendar": "Open\r\nEND:VEVENT\r\nBEGIN:VEVENT\nSUMMARY:x;y,z\\n",
    "terminal": "\x1b]0;owned\x07\x1b[2J\x9b31m\x7f",
    "turned": "\u202egpj.exe\u2066\u200f\u2028\u2029\x85",
    "format": "%s%n{0.__class__}${HOME}{{7*7}}",
}
SHOWN = re.compile(
    "Harbour Lights Scratch Open|Harbour Lights Open|Copperfield Lanes|Ada Quill|Kestrel|"
    "Saltmarsh|Low Lantern|Paper Moon|Paper Crown|Long Tide 43|Tide Table 41|Slate Weir|Bo Farr"
)
"""Names that the reports under test have."""
PLAIN = "Plain Thimble"
MADE_AT = datetime(2026, 11, 28, 17, 5, 9, tzinfo=UTC)
UNSAFE = {"Cc", "Cf", "Cs", "Zl", "Zp"}
"""Unicode 15, table 4-4: what breaks a line, turns it around, or is half of a character."""

named = pytest.mark.parametrize("name", NAMES.values(), ids=NAMES)


def renamed(thing: Any, name: str, old: re.Pattern[str] | str = SHOWN) -> Any:
    """A report whose every name is this one."""
    if isinstance(thing, Enum) or thing is None:
        return thing
    if isinstance(thing, str):
        return re.sub(old, lambda _: name, thing)
    if isinstance(thing, Mapping):
        return {key: renamed(value, name, old) for key, value in thing.items()}
    if isinstance(thing, list | tuple):
        return type(thing)(renamed(part, name, old) for part in thing)
    if is_dataclass(thing) and not isinstance(thing, type):
        told = {one.name: getattr(thing, one.name) for one in fields(thing) if one.init}
        return replace(thing, **{key: renamed(value, name, old) for key, value in told.items()})
    return thing


def words(name: str) -> str:
    """A name on one line, as pages that fold blanks show it: XML 1.0, section 2.2, has no control
    characters but the blanks."""
    return " ".join(re.sub("[\x00-\x08\x0b\x0c\x0e-\x1f]", "\ufffd", name).split())


def alike(name: str) -> str:
    """A plain name of the same shape: as long, with blanks where it has some."""
    return re.sub(r"\S", "n", name)


@cache
def reports() -> dict[str, Any]:
    """One of each kind."""
    return {
        "sheet": a_sheet(games=2),
        "path": a_path(),
        "pocket": a_pocket(),
        "recap": a_recap(),
        "read": a_read(),
        "spares": a_spare_sheet(),
        "scores": a_score_sheet(),
        "debrief": a_debrief(),
        "ledger": a_season(),
    }


PAGES: dict[str, tuple[str, Callable[[Any], str]]] = {
    "sheet": ("sheet", render_sheet_html),
    "recap": ("recap", render_recap_html),
    "pocket": ("pocket", lambda pocket: render_pocket_html(pocket, "let a = 1;")),
}


class Reader(HTMLParser):
    """What a page consists of, and the words on it."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.parts: list[str] = []
        self.words: list[str] = []
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.parts.append(f"<{tag} {' '.join(key for key, _ in attrs)}>")
        self.words += [value or "" for key, value in attrs if key in ("aria-label", "content")]

    def handle_endtag(self, tag: str) -> None:
        self.parts.append(f"</{tag}>")

    def handle_comment(self, data: str) -> None:
        self.parts.append(f"<!--{data}-->")

    def handle_decl(self, decl: str) -> None:
        self.parts.append(f"<!{decl}>")

    def handle_pi(self, data: str) -> None:
        self.parts.append(f"<?{data}>")

    def handle_data(self, data: str) -> None:
        self.words.append(data)


@named
@pytest.mark.parametrize("page", PAGES)
def test_a_page_has_no_element_and_no_attribute_more(page, name):
    kind, render = PAGES[page]
    shown = render(renamed(reports()[kind], name))
    found = Reader(shown)
    assert found.parts == Reader(render(renamed(reports()[kind], alike(name)))).parts
    if page in ("sheet", "recap"):
        assert words(name) in words(" ".join(found.words))
    drawings = re.findall(r"<svg.*?</svg>", shown, re.DOTALL)
    for drawing in drawings:
        ET.fromstring(drawing)
    assert drawings or page == "pocket"


@named
def test_a_picture_is_xml_with_no_element_more_and_the_name_as_its_text(name):
    found = ET.fromstring(paths_figure([renamed(reports()["path"], name)]))
    plain = ET.fromstring(paths_figure([renamed(reports()["path"], alike(name))]))
    assert parts_of(found) == parts_of(plain)
    assert words(name) in words(" ".join(found.itertext()))


def parts_of(root: ET.Element) -> list[tuple[str, list[str]]]:
    return [(one.tag, sorted(one.attrib)) for one in root.iter()]


PRINTED = {"sheet": _words, "recap": picture_source}
ELEMENTS = "selector(heading)" + "".join(
    f".or({name})"
    for name in ("table", "strong", "emph", "list", "enum", "raw", "link", "ref", "image",
                 "math.equation", "footnote", "par")
)  # fmt: skip
"""Of the typesetter: what its language makes of signs, and what holds the words."""


@pytest.mark.parametrize(
    "name", ["file", "panic", "marks", "in a picture", "entity", "heading", "terminal", "turned"]
)
@pytest.mark.parametrize("layout", PRINTED)
def test_the_typesetter_sets_a_name_and_reads_nothing_in_it(layout, name):
    source = (files("nextpair.reports") / f"{layout}.typ").read_bytes()
    found, plain = (
        json.loads(
            typst.query(
                source,
                ELEMENTS,
                sys_inputs={layout: json.dumps(PRINTED[layout](renamed(reports()[layout], one)))},
                ignore_system_fonts=True,
            )
        )
        for one in (NAMES[name], alike(NAMES[name]))
    )
    assert [one["func"] for one in found] == [one["func"] for one in plain]
    assert words(NAMES[name]) in words(" ".join(texts_in(found)))


def texts_in(content: Any) -> list[str]:
    """Every piece of text of a part of a document, in order."""
    if isinstance(content, list):
        return [text for part in content for text in texts_in(part)]
    if not isinstance(content, dict):
        return []
    own = [content["text"]] if isinstance(content.get("text"), str) else []
    return own + [text for part in content.values() for text in texts_in(part)]


@pytest.mark.parametrize("name", ["file", "in a picture", "terminal"])
def test_a_print_has_as_many_pages_and_a_picture_its_size(name):
    hostile, plain = NAMES[name], alike(NAMES[name])
    pages = [
        re.findall(rb"/Type\s*/Pages\s*/Count (\d+)", render_sheet_pdf(renamed(sheet, one)))
        for sheet in [reports()["sheet"]]
        for one in (hostile, plain)
    ]
    assert pages[0] == pages[1]
    # Width and height are octets 16 to 23: PNG (W3C), section 11.2.2.
    assert render_recap_png(renamed(reports()["recap"], hostile))[16:24] == bytes(
        [0, 0, 4, 176, 0, 0, 5, 220]
    )


@named
def test_markdown_has_no_block_and_no_span_more_and_the_name_as_its_text(name):
    found, plain = (
        MarkdownIt("commonmark").parse(render_recap_markdown(renamed(reports()["recap"], one)))
        for one in (name, alike(name))
    )
    assert spans_of(found) == spans_of(plain)
    shown = "".join(span.content for token in found for span in token.children or ())
    assert " ".join(name.replace("\0", "\ufffd").split()) in shown


def spans_of(tokens: Any) -> list[str]:
    """Kinds of blocks and spans; pieces of text beside each other are one."""
    kinds = [span.type for token in tokens for span in (token, *(token.children or ()))]
    return [kind for kind in kinds if kind != "text"]


@named
def test_a_calendar_has_no_entry_and_no_line_more(name):
    due = Deadline(
        Due.PACKING, date(2026, 12, 31), 33, name, f"key of {name}", f"Pack for {name}."
    )
    raw = render_season_calendar([due], MADE_AT).encode()
    # RFC 5545, 3.1: lines end with CRLF, and are folded where a blank follows one.
    lines = raw.decode().replace("\r\n ", "").split("\r\n")
    keys = [line.partition(":")[0] for line in lines]
    assert keys == ["BEGIN", "VERSION", "PRODID", "CALSCALE", "METHOD", "BEGIN", "UID", "DTSTAMP",
                    "DTSTART;VALUE=DATE", "DTEND;VALUE=DATE", "SUMMARY", "CATEGORIES", "TRANSP",
                    "END", "END", ""]  # fmt: skip
    assert not re.search(r"[\x00-\x08\x0a-\x1f\x7f]", "".join(lines))
    # 3.3.11: a value of text is read by taking its four escapes back.
    (summary,) = (line.partition(":")[2] for line in lines if line.startswith("SUMMARY:"))
    told = re.sub(r"\\([\\;,nN])", lambda sign: {"n": "\n", "N": "\n"}.get(*sign[1] * 2), summary)
    kept = re.sub(r"[\x00-\x08\x0b-\x1f\x7f]", "", name)
    assert told == f"Pack for {kept}."


SCREENS: dict[str, tuple[str, Callable[[Any], str]]] = {
    "sheet": ("sheet", render_sheet_text),
    "bag": ("sheet", render_bag_text),
    "path": ("path", render_path_text),
    "pocket": ("pocket", lambda pocket: render_pocket_text(pocket, 1000, 500)),
    "packing": ("pocket", lambda pocket: render_packing_text(pocket.packing)),
    "read": ("read", render_read_text),
    "spares": ("spares", lambda spares: render_spares_text(spares, single=False)),
    "scores": ("scores", render_score_text),
    "debrief": ("debrief", render_debrief_text),
    "ledger": ("ledger", render_ledger_text),
}


@named
@pytest.mark.parametrize("screen", SCREENS)
def test_a_screen_gives_no_orders(screen, name):
    """Of a name as files and logs take it: on one line."""
    kind, render = SCREENS[screen]
    shown = on_screen(render(renamed(reports()[kind], " ".join(name.split()))))
    assert not {unicodedata.category(letter) for letter in shown.replace("\n", "")} & UNSAFE


DOCUMENTS: dict[str, tuple[str, Callable[[Any], str]]] = {
    "sheet": ("sheet", render_sheet_json),
    "path": ("path", lambda path: render_paths_json([path])),
    "pocket": ("pocket", render_pocket_json),
    "packing": ("pocket", lambda pocket: render_packing_json(pocket.packing)),
    "recap": ("recap", render_recap_json),
    "read": ("read", render_read_json),
    "spares": ("spares", render_spares_json),
    "scores": ("scores", render_score_json),
    "debrief": ("debrief", lambda debrief: render_debrief_json(debrief, ())),
    "ledger": ("ledger", render_ledger_json),
}


@named
@pytest.mark.parametrize("document", DOCUMENTS)
def test_json_says_what_it_says_of_a_plain_name(document, name):
    kind, render = DOCUMENTS[document]
    found = json.loads(render(renamed(reports()[kind], name)))
    assert found == renamed(json.loads(render(renamed(reports()[kind], PLAIN))), name, PLAIN)
