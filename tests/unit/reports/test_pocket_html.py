"""The pocket as one page: all of it readable, and what scripts are given is the pocket itself."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest

from nextpair.reports.pocket_html import render_pocket_html
from nextpair.reports.pocket_json import pocket_document
from nextpair.reports.site_html import render_site_index
from unit.reports.pocket_factory import a_pocket

SCRIPT = 'console.log("</script><!--");'
VOID = {"meta", "input", "br", "img", "link"}


class Page(HTMLParser):
    """Text and scripts of a page whose elements are all closed."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.text: list[str] = []
        self.scripts: list[tuple[dict, str]] = []
        self.attributes: list[dict] = []
        self.feed(page)
        assert self.open == []

    def handle_starttag(self, tag, attrs):
        self.attributes.append(dict(attrs))
        if tag == "script":
            self.scripts.append((dict(attrs), ""))
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        if self.open[-1:] == ["script"]:
            attrs, so_far = self.scripts.pop()
            self.scripts.append((attrs, so_far + data))
        else:
            self.text.append(data)

    @property
    def words(self) -> str:
        return " ".join(" ".join(self.text).split())


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("script", [None, SCRIPT])
def test_everything_can_be_read_with_nothing_to_run(hand, script):
    pocket = a_pocket(hand)
    words = Page(render_pocket_html(pocket, script)).words
    assert all(card.leave in words for card in pocket.spares.spares)
    assert all(item.item in words and item.why in words for item in pocket.packing.items)
    assert all(leave in words and like in words for leave, like in pocket.alike)
    assert "Game 2" in words


def test_a_page_without_its_script_runs_nothing_and_says_so():
    page = render_pocket_html(a_pocket(), None)
    assert "<script" not in page
    assert "keeps no entries" in page


def test_the_script_is_the_only_thing_that_may_run():
    page = render_pocket_html(a_pocket(), SCRIPT)
    ours = Page(page).scripts[-1][1]
    digest = base64.b64encode(hashlib.sha256(ours.encode()).digest()).decode()
    policy = re.search(r'Content-Security-Policy" content="([^"]+)"', page)
    assert policy is not None
    assert f"script-src 'sha256-{digest}'" in policy[1]
    assert "unsafe-inline'; script" in policy[1]
    assert "default-src 'none'" in policy[1]


def test_the_script_finds_the_pocket_in_the_page():
    pocket = a_pocket()
    spoilt = replace(pocket, sheet=replace(pocket.sheet, event="</script><b>Open"))
    scripts = Page(render_pocket_html(spoilt, SCRIPT)).scripts
    attributes, held = scripts[0]
    assert attributes == {"type": "application/json", "id": "pocket"}
    assert json.loads(held) == json.loads(json.dumps(pocket_document(spoilt)))
    assert len(scripts) == 2


def test_what_is_true_only_without_scripts_is_marked():
    page = Page(render_pocket_html(a_pocket(), SCRIPT))
    assert sum("data-without-script" in each for each in page.attributes) == 1
    assert any(each.get("id") == "log" and "hidden" in each for each in page.attributes)
    assert "keeps no entries" in page.words


def test_a_site_explains_itself_and_leads_to_the_page():
    page = Page(render_site_index())
    assert any(each.get("href") == "lanes/" for each in page.attributes)
    assert "home screen" in page.words
