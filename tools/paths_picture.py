"""Draw three balls of the demo on one line for the readme.

python tools/paths_picture.py
"""

from __future__ import annotations

from pathlib import Path

from nextpair.application.settings import resolve_settings
from nextpair.bootstrap import Program
from nextpair.reports.paths_figure import paths_figure

PICTURE = Path(__file__).resolve().parents[1] / "docs" / "img" / "paths.svg"
BALLS = ("Slate Weir", "Dunlin Flock", "Candle Stub")
LAYDOWN_BOARD, ANGLE_DEG = 24.0, 2.6


def main() -> None:
    """Roll them and write the picture."""
    program = Program(resolve_settings({}, {}))
    with program.demo_event() as path:
        event = program.load_event(path)
    shots = [program.roll_one(event, ball, LAYDOWN_BOARD, ANGLE_DEG) for ball in BALLS]
    PICTURE.parent.mkdir(exist_ok=True)
    PICTURE.write_text(paths_figure(shots) + "\n", "utf-8")


if __name__ == "__main__":
    main()
