"""Read the demo's shots for the guide: a picture of the belief, and what the read says.

python tools/belief_picture.py
"""

from __future__ import annotations

from pathlib import Path

from readme import between

from nextpair.application.settings import resolve_settings
from nextpair.bootstrap import Program
from nextpair.reports.belief_figure import belief_figure
from nextpair.reports.read_text import render_read_text

DOCS = Path(__file__).resolve().parents[1] / "docs"
GUIDE = DOCS / "guide" / "reading.md"
PICTURE = DOCS / "img" / "belief.svg"
SEED = 7
COLUMNS = 88


def main() -> None:
    """Write both."""
    program = Program(resolve_settings({}, {}))
    with program.demo_event() as path:
        event = program.load_event(path)
        shots = program.load_shots(path.with_name("shots.csv"), event)
    read = program.read(event, shots, SEED)
    PICTURE.write_text(belief_figure(read) + "\n", "utf-8")
    text = f"```text\n{render_read_text(read, COLUMNS).rstrip()}\n```"
    GUIDE.write_text(between(GUIDE.read_text("utf-8"), "WHAT THE SHOTS SAY", text), "utf-8")


if __name__ == "__main__":
    main()
