"""Tell the demo's event for the guide: the text of its recap, and the picture.

python tools/recap_picture.py
"""

from __future__ import annotations

from pathlib import Path

from readme import between

from nextpair.application.settings import resolve_settings
from nextpair.bootstrap import Program
from nextpair.reports.recap_markdown import render_recap_markdown
from nextpair.reports.recap_picture import render_recap_png
from nextpair.reports.recap_words import picture_words

DOCS = Path(__file__).resolve().parents[1] / "docs"
GUIDE = DOCS / "guide" / "recap.md"
PICTURE = DOCS / "img" / "recap.png"


def main() -> None:
    """Write both."""
    program = Program(resolve_settings({}, {}))
    with program.demo_event() as path:
        event = program.load_event(path)
        scores = program.load_scores(path.with_name("scores.csv"))
        shots = program.load_shots(path.with_name("shots.csv"), event)
    recap = program.recap(event, scores, shots)
    PICTURE.write_bytes(render_recap_png(recap))
    text = f"```markdown\n{render_recap_markdown(recap).rstrip()}\n```"
    picture = f"![{picture_words(recap)}](../img/{PICTURE.name})"
    guide = between(GUIDE.read_text("utf-8"), "THE RECAP", text)
    GUIDE.write_text(between(guide, "THE PICTURE", picture), "utf-8")


if __name__ == "__main__":
    main()
