"""The page: one file, no script, nothing fetched, in order for those who hear it read."""

from __future__ import annotations

import itertools
import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest

from nextpair.reports.markup import Markup, element
from nextpair.reports.sheet_html import render_sheet_html
from unit.reports.sheet_factory import a_sheet

VOID = {"meta", "link", "br", "hr", "img", "input"}
FETCHING = {"src", "srcset", "data", "poster", "action", "formaction", "background", "ping"}


class Page(HTMLParser):
    """Elements in order, with their nesting checked."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str]]] = []
        self.open: list[str] = []
        self.texts: list[tuple[str, str]] = []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, {name: value or "" for name, value in attrs}))
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.texts.append((self.open[-1] if self.open else "", data))

    def all(self, tag: str) -> list[dict[str, str]]:
        return [attributes for name, attributes in self.elements if name == tag]

    def words(self, *tags: str) -> str:
        return " ".join(text for tag, text in self.texts if not tags or tag in tags)


@pytest.fixture(scope="module", params=["right", "left"])
def page(request) -> Page:
    return Page(render_sheet_html(a_sheet(request.param)))


def test_elements_are_closed_in_order(page):
    assert page.open == []


def test_nothing_runs_and_nothing_is_fetched(page):
    tags = {tag for tag, _ in page.elements}
    assert not tags & {"script", "link", "iframe", "object", "embed", "img", "form", "base"}
    for _, attributes in page.elements:
        assert not FETCHING & set(attributes)
        assert not any(name.startswith("on") for name in attributes)
        assert attributes.get("href", "#").startswith("#")
    assert "url(" not in page.words("style")
    assert "@import" not in page.words("style")


def test_the_page_forbids_what_it_does_not_need(page):
    policies = [m["content"] for m in page.all("meta") if "http-equiv" in m]
    assert policies == [
        "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"
    ]


def test_it_has_language_title_and_the_width_of_a_phone(page):
    assert page.all("html") == [{"lang": "en"}]
    assert "Harbour Lights Scratch Open" in page.words("title")
    assert {m.get("content") for m in page.all("meta") if m.get("name") == "viewport"} == {
        "width=device-width, initial-scale=1"
    }


def test_landmarks_stand_once_each(page):
    for tag in ("header", "nav", "main", "footer", "h1"):
        assert len(page.all(tag)) == 1


def test_headings_step_down_one_at_a_time(page):
    levels = [int(tag[1]) for tag, _ in page.elements if re.fullmatch(r"h[1-6]", tag)]
    assert levels[0] == 1
    assert all(b - a <= 1 for a, b in itertools.pairwise(levels))


def test_ids_are_unique_and_every_reference_leads_to_one(page):
    ids = [attributes["id"] for _, attributes in page.elements if "id" in attributes]
    assert len(ids) == len(set(ids))
    wanted = [a["href"][1:] for a in page.all("a")]
    wanted += [
        name
        for _, attributes in page.elements
        for name in attributes.get("aria-labelledby", "").split()
    ]
    assert len(wanted) > 20
    assert set(wanted) <= set(ids)


def test_every_game_has_its_section_and_a_way_to_it(page):
    assert [a["href"] for a in page.all("a")] == [f"#game-{game}" for game in range(1, 7)]
    assert all(a["aria-label"] for a in page.all("a"))
    headings = page.words("h2")
    for game in a_sheet().games:
        assert f"Game {game.game} · lanes {game.pair}" in headings


def test_tables_name_their_rows_and_columns(page):
    assert len(page.all("table")) == 2 + 6
    assert all(th.get("scope") in {"row", "col"} for th in page.all("th"))
    assert len(page.all("caption")) == len(page.all("table"))


def test_each_game_shows_both_lanes(page):
    assert sum("viewBox" in svg or "viewbox" in svg for svg in page.all("svg")) == 6 * 3
    assert len(page.all("figure")) == len(page.all("figcaption")) == 12


def test_lanes_whose_lines_differ_are_both_told_at_a_glance_and_large():
    sheet = a_sheet(games=1)
    (game,) = sheet.games
    right = replace(game.lanes[1].line, slide_board=36.0, target_board=21.0)
    apart = replace(game, lanes=(game.lanes[0], replace(game.lanes[1], line=right)))
    page = Page(render_sheet_html(replace(sheet, games=(apart,))))
    assert page.words("span").split("2000")[1].split()[:2] == ["36", "21"]
    assert "Lane 13: feet" in page.words("dt")
    assert "Lane 14: feet" in page.words("dt")
    assert sum(dl.get("class") == "play" for dl in page.all("dl")) == 2
    twins = replace(game, lanes=(game.lanes[0], replace(game.lanes[0], lane=14)))
    same = Page(render_sheet_html(replace(sheet, games=(twins,))))
    assert sum(dl.get("class") == "play" for dl in same.all("dl")) == 1


def test_all_reasons_and_cautions_are_on_the_page(page):
    words = page.words()
    sheet = a_sheet()
    for text in (*sheet.cautions, *sheet.guessed, *sheet.games[0].why, sheet.second_opinion):
        assert text in words


def test_a_left_hander_is_told_how_boards_count():
    words = Page(render_sheet_html(a_sheet("left"))).words("strong")
    assert "boards count from the LEFT edge" in words
    assert "feet 3 right, target 2 right" in words


def test_the_page_adapts_to_the_dark_to_paper_and_to_390_pixels(page):
    style = page.words("style")
    assert "@media (prefers-color-scheme: dark)" in style
    assert "@media print" in style
    fixed = [float(width) for width in re.findall(r"(?<!-)(?:min-)?width: (\d+)px", style)]
    assert fixed == []


def test_hostile_text_stays_text():
    nasty = '</title><script>alert("1")</script>&amp;'
    sheet = replace(a_sheet(games=1), event=nasty, bowler=nasty, second_opinion=nasty)
    page = Page(render_sheet_html(sheet))
    assert page.all("script") == []
    assert nasty in page.words("h1")


def test_a_sheet_without_extras_has_no_empty_sections():
    bare = replace(a_sheet(games=1), practice=(), guessed=(), left_at_home=())
    page = Page(render_sheet_html(bare))
    ids = {attributes.get("id") for _, attributes in page.elements}
    assert not ids & {"practice", "guessed"}
    assert page.all("h3") == []


def test_markup_escapes_text_and_attributes():
    made = element("p", "1 < 2 & 'so'", Markup("<b>bold</b>"), class_="a", aria_label='say "hi"')
    assert made == (
        '<p class="a" aria-label="say &quot;hi&quot;">1 &lt; 2 &amp; \'so\'<b>bold</b></p>'
    )
