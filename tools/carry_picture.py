"""Draw the carry table for the guide, and print it there.

python tools/carry_picture.py
"""

from __future__ import annotations

from pathlib import Path

from readme import between

from nextpair.application.settings import resolve_settings
from nextpair.bootstrap import Program
from nextpair.domain.bowler import Hand
from nextpair.reports.carry_figure import ladder_figure, strike_map_figure
from nextpair.reports.carry_text import render_carry_text

DOCS = Path(__file__).resolve().parents[1] / "docs"
GUIDE = DOCS / "guide" / "carry.md"
MAP = DOCS / "img" / "carry-strikes.svg"
LADDER = DOCS / "img" / "carry-leaves.svg"
BALL_LB, SPEED_MPH = 15.0, 17.0
COLUMNS = 88


def main() -> None:
    """Write both pictures and the table."""
    carry = Program(resolve_settings({}, {})).map_carry(BALL_LB, SPEED_MPH, Hand.RIGHT)
    MAP.parent.mkdir(exist_ok=True)
    MAP.write_text(strike_map_figure(carry) + "\n", "utf-8")
    LADDER.write_text(ladder_figure(carry) + "\n", "utf-8")
    table = f"```text\n{render_carry_text(carry, COLUMNS).rstrip()}\n```"
    GUIDE.write_text(between(GUIDE.read_text("utf-8"), "CARRY TABLE", table), "utf-8")


if __name__ == "__main__":
    main()
