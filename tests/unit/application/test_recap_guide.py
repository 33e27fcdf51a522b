"""The example of docs/guide/recap.md is what the program says of its bundled event."""

from __future__ import annotations

from nextpair.application.recap import recap_of
from nextpair.reports.recap_markdown import render_recap_markdown
from nextpair.reports.recap_words import picture_words
from source_tree import DOCS
from unit.application.test_recap import EVENT, SCORES, SHOTS
from unit.reports.test_recap import size_of

GUIDE = (DOCS / "guide" / "recap.md").read_text("utf-8")
RECAP = recap_of(EVENT, SCORES, SHOTS)


def test_the_example_is_the_programs_own():
    assert f"```markdown\n{render_recap_markdown(RECAP).rstrip()}\n```" in GUIDE


def test_the_picture_is_there_with_its_words():
    assert f"![{picture_words(RECAP)}](../img/recap.png)" in GUIDE
    assert size_of((DOCS / "img" / "recap.png").read_bytes()) == (1200, 1500)
