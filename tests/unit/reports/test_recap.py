"""A recap in every form: the same facts, safe text, one leaf, nothing from elsewhere."""

from __future__ import annotations

import json
import re
import struct
from dataclasses import replace
from html.parser import HTMLParser
from xml.etree import ElementTree

import pytest
from markdown_it import MarkdownIt

from nextpair.reports.recap_figures import score_figure, strip_figure, use_figure
from nextpair.reports.recap_html import render_recap_html
from nextpair.reports.recap_json import recap_document, render_recap_json
from nextpair.reports.recap_markdown import render_recap_markdown
from nextpair.reports.recap_picture import picture_source, render_recap_png
from nextpair.reports.recap_words import (
    change_words,
    in_short,
    ordinal,
    picture_words,
    use_words,
)
from source_tree import DOCS
from unit.reports.recap_factory import BAG, GAMES, LEARNED, MONEY, a_recap

HOSTILE = "# <b>Two*stars*</b> _and_ [a](http://x.example) `b` & 1. #\n- +"


class Page(HTMLParser):
    """What a page says, and what it would load or run."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.addresses: list[str] = []
        self.words: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        told = dict(attrs)
        self.addresses += [told[name] for name in ("href", "src", "data") if told.get(name)]

    def handle_data(self, data):
        self.words.append(data)


def as_text(markdown: str) -> tuple[list[str], str]:
    """Kinds of blocks and spans of a text, by a reader of [commonmark], and its plain words."""
    tokens = MarkdownIt("commonmark").parse(markdown)
    spans = [span for token in tokens for span in token.children or ()]
    kinds = [token.type for token in (*tokens, *spans)]
    return kinds, " ".join(span.content for span in spans if span.type == "text")


def test_markdown_has_a_heading_a_part_and_lists_and_nothing_else():
    kinds, words = as_text(render_recap_markdown(a_recap(money=MONEY)))
    assert set(kinds) == {
        "heading_open", "heading_close", "paragraph_open", "paragraph_close", "inline",
        "bullet_list_open", "bullet_list_close", "list_item_open", "list_item_close",
        "text", "strong_open", "strong_close",
    }  # fmt: skip
    assert kinds.count("heading_open") == 6
    for said in ("Harbour Lights Open", "Copperfield Lanes", "642", "4th of 56", "-89.50 EUR"):
        assert said in words


@pytest.mark.parametrize("field", ["event", "bowler", "house"])
def test_a_name_is_never_read_as_markup(field):
    recap = a_recap(**{field: HOSTILE})
    kinds, words = as_text(render_recap_markdown(recap))
    plain_kinds, _ = as_text(render_recap_markdown(a_recap()))
    assert kinds.count("heading_open") == plain_kinds.count("heading_open")
    assert not {"link_open", "em_open", "code_inline", "html_inline", "html_block"} & set(kinds)
    assert " ".join(HOSTILE.split()) in " ".join(words.split())
    page = Page(render_recap_html(recap))
    assert page.addresses == []
    assert "b" not in page.tags
    assert HOSTILE in "".join(page.words)


@pytest.mark.parametrize("begun", ["1. a", "2) b", "- c", "+ d", "= e", "10. f"])
def test_a_lesson_that_begins_like_a_list_is_a_sentence(begun):
    kinds, words = as_text(render_recap_markdown(a_recap(learned=(begun,))))
    assert begun in words
    assert not {"ordered_list_open", "hr"} & set(kinds)
    assert kinds.count("bullet_list_open") == 4


def test_the_page_runs_nothing_and_loads_nothing():
    text = render_recap_html(a_recap(money=MONEY))
    page = Page(text)
    assert page.addresses == []
    assert not {"script", "link", "iframe", "img", "form", "object"} & set(page.tags)
    assert "default-src 'none'" in text
    assert re.findall(r"url\(|@import|\son\w+=", text) == []
    assert {"prefers-color-scheme: dark", "@media print"} <= set(
        re.findall(r"prefers-color-scheme: dark|@media print", text)
    )
    assert page.tags.count("svg") == 2 + len(BAG)


def test_every_form_says_the_same_facts():
    recap = a_recap(money=MONEY)
    words = " ".join(as_text(render_recap_markdown(recap))[1].split())
    html = " ".join("".join(Page(render_recap_html(recap)).words).split())
    picture = json.dumps(picture_source(recap), ensure_ascii=False)
    for said in (
        "Kestrel, solid at 2000", "Paper Moon, plastic, polished", "Saltmarsh, pearl at 1000 by",
        "Games 1 and 2: 10 strikes of 23 first balls", "Spares: 9 of 11 made",
        "Stayed in the bag: adds to a dry lane",
        "Over board 12.5 at the arrows in game 1, over board 18 in game 3: 5.5 boards farther",
        "The ball changed to Saltmarsh in game 3", "average rose from 181 in game 1 to 188",
        "Tide Table 41", "Take Kestrel to 3000 on a fresh 41 ft pattern.", "won 240.00 EUR",
    ):  # fmt: skip
        assert said in words, said
        assert said in html, said
        assert said in picture, said
        assert said in picture_words(recap), said


def test_money_is_told_nowhere_unless_asked():
    for text in (
        render_recap_markdown(a_recap()),
        render_recap_html(a_recap()),
        json.dumps(picture_source(a_recap())),
        render_recap_json(a_recap()),
    ):
        assert "EUR" not in text


def test_one_line_is_fit_for_a_description():
    said = in_short(a_recap())
    assert said == (
        "Ada Quill bowled 642 in 3 games at the Harbour Lights Open, Copperfield Lanes, "
        "13 June 2026: average 214.0, high game 259, 4th of 56, on 41 ft of oil."
    )
    assert "4th of 56 so far" in in_short(a_recap(games_of_event=6))


def test_left_handers_boards_count_from_the_left_and_it_is_said():
    games = tuple(replace(game, target_board=40 - (game.target_board or 0)) for game in GAMES)
    recap = a_recap(hand="left", games=games)
    assert "over board 18 in game 3: 5.5 boards farther right." in " ".join(change_words(recap))
    for text in (render_recap_markdown(recap), render_recap_html(recap), picture_words(recap)):
        assert "count from the left edge" in text
    assert "left edge" not in render_recap_html(a_recap())


def test_a_ball_that_stayed_put_is_no_move():
    games = tuple(replace(game, target_board=12.6, ball="Kestrel") for game in GAMES)
    told = list(change_words(a_recap(games=games)))
    assert told[0] == "Over board 12.5 at the arrows in game 1, and still there in game 3."
    assert not any("ball changed" in words for words in told)


@pytest.mark.parametrize(
    ("number", "said"),
    [(1, "1st"), (2, "2nd"), (3, "3rd"), (4, "4th"), (11, "11th"), (12, "12th"), (13, "13th"),
     (21, "21st"), (42, "42nd"), (111, "111th"), (103, "103rd")],
)  # fmt: skip
def test_places_are_said_as_english_says_them(number, said):
    assert ordinal(number) == said


def test_games_in_which_a_ball_was_thrown_are_named():
    games = tuple(replace(GAMES[0], game=number) for number in range(1, 6))
    for thrown, said in (
        ((1, 1, 1, 0, 0), "Games 1 to 3"),
        ((1, 0, 1, 0, 1), "Games 1, 3 and 5"),
        ((0, 0, 0, 0, 9), "Game 5"),
    ):
        assert use_words(replace(BAG[0], thrown=thrown), games).startswith(f"{said}: ")


@pytest.mark.parametrize("games", [GAMES[:1], GAMES, GAMES * 8])
def test_pictures_are_sound_and_say_what_they_show(games):
    recap = a_recap(games=games, bag=(replace(BAG[0], thrown=(3,) * len(games)),))
    for figure in (
        score_figure(recap),
        strip_figure(recap.patterns[0], recap),
        use_figure(recap.bag[0], recap),
    ):
        root = ElementTree.fromstring(figure)
        assert root.get("role") == "img"
        assert root.get("aria-label")
        assert "nan" not in figure


def test_scores_are_drawn_to_scale():
    """Higher scores lie higher, and equal steps of pins are equal steps on paper."""
    games = tuple(
        replace(GAMES[0], game=number, score=score, field_pins=None)
        for number, score in enumerate((150, 200, 250), start=1)
    )
    root = ElementTree.fromstring(score_figure(a_recap(games=games)))
    line = root.find(".//{*}polyline[@class='own']")
    low, middle, high = (float(pair.split(",")[1]) for pair in line.get("points").split())
    assert low > middle > high
    assert low - middle == pytest.approx(middle - high, abs=0.2)


def size_of(png: bytes) -> tuple[int, int]:
    """Width and height of a PNG, by its first chunk. Source: [png-specification] 5.2, 11.2.2."""
    assert png[:8] == b"\x89PNG\r\n\x1a\n"
    width, height = struct.unpack(">II", png[16:24])
    return width, height


@pytest.mark.parametrize("times", [1, 6], ids=["as it is", "much too long"])
def test_the_picture_is_one_leaf_however_much_there_is_to_say(times):
    recap = a_recap(
        games=GAMES * times,
        games_of_event=3 * times,
        bag=tuple(replace(ball, thrown=ball.thrown * times) for ball in BAG) * times,
        learned=tuple(f"{words} {number}" for number in range(times) for words in LEARNED),
        patterns=a_recap().patterns * min(times, 2),
        money=MONEY,
    )
    assert size_of(render_recap_png(recap)) == (1200, 1500)


def test_the_picture_names_every_ball_or_says_how_many_more():
    source = picture_source(a_recap(bag=BAG * 3))
    assert source["more_balls"] == "and 6 more balls"
    assert picture_source(a_recap())["more_balls"] == ""


def test_the_same_recap_is_the_same_picture():
    assert render_recap_png(a_recap()) == render_recap_png(a_recap())


def every_key(document):
    if isinstance(document, dict):
        return set(document).union(*map(every_key, document.values()))
    if isinstance(document, list):
        return set().union(*map(every_key, document))
    return set()


def test_every_field_of_the_document_is_in_the_guide():
    told = json.loads(render_recap_json(a_recap(money=MONEY)))
    guide = set(re.findall(r"`(\w+)`", (DOCS / "guide" / "json.md").read_text("utf-8")))
    assert every_key(told) - guide == set()
    assert told["money"] == {
        "currency": "EUR", "cost": "329.50", "won": "240.00", "result": "-89.50",
    }  # fmt: skip
    assert recap_document(a_recap())["money"] is None
    assert (told["total_pins"], told["average_pins"]) == (642, 214.0)
