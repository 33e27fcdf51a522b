"""Put a part of the demo's sheet and a picture of one pair into the readme.

python tools/readme.py
"""

from __future__ import annotations

import re
from pathlib import Path

from nextpair.application.settings import resolve_settings
from nextpair.bootstrap import Program
from nextpair.reports.figures import pair_figure
from nextpair.reports.sheet_text import render_sheet_text

ROOT = Path(__file__).resolve().parents[1]
README = ROOT / "README.md"
PICTURE = ROOT / "docs" / "img" / "lane.svg"
SEED = 7
GAME = 5
"""The game whose card and picture are shown: its pair was worn by others."""
COLUMNS = 88


def main() -> None:
    """Plan the demo and write both."""
    program = Program(resolve_settings({}, {}))
    with program.demo_event() as path:
        sheet = program.plan(program.load_event(path), seed=SEED)
    game = sheet.games[GAME - 1]
    PICTURE.parent.mkdir(exist_ok=True)
    picture = pair_figure(game, sheet)
    PICTURE.write_text(picture.replace("currentColor", "#14233b") + "\n", "utf-8")
    text = render_sheet_text(sheet, COLUMNS)
    head = text[: text.index("\nBAG")]
    card = re.search(rf"^GAME {GAME} .*?(?=^GAME |^GUESSED|\Z)", text, re.DOTALL | re.MULTILINE)
    if card is None:
        raise SystemExit(f"the sheet has no game {GAME}")
    excerpt = f"```text\n{head.rstrip()}\n\n[...]\n\n{card.group().rstrip()}\n```"
    readme = between(README.read_text("utf-8"), "SHEET EXCERPT", excerpt)
    README.write_text(readme, "utf-8")


def between(text: str, mark: str, content: str) -> str:
    """A text with what stands between two comments replaced."""
    start, end = rf"<!-- {mark}[^>]*-->", rf"<!-- END OF {mark} -->"
    return re.sub(
        f"({start}\n).*?({end})",
        lambda found: f"{found.group(1)}{content}\n{found.group(2)}",
        text,
        flags=re.DOTALL,
    )


if __name__ == "__main__":
    main()
