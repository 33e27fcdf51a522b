"""Draw the throughput of batches for the guide, by the figures of `make batch-bench`.

python tools/batch_picture.py
"""

from __future__ import annotations

import json
from html import escape
from pathlib import Path
from typing import Any

from nextpair.reports.palette import ACCENT, INK, PAPER

ROOT = Path(__file__).resolve().parents[1]
FIGURES = ROOT / "build" / "batch-figures.json"
PICTURE = ROOT / "docs" / "img" / "batch.svg"
WIDTH, LEFT, ROW, BAR = 640, 130, 34, 18
LONGEST = WIDTH - LEFT - 215


def main() -> None:
    """Write the picture."""
    PICTURE.write_text(batch_figure(json.loads(FIGURES.read_text("utf-8"))) + "\n", "utf-8")


def batch_figure(figures: dict[str, Any]) -> str:
    """A bar for each way of working, with its sheets an hour and what it costs beside them."""
    ways = figures["ways"]
    most = max(way["sheets_an_hour"] for way in ways.values())
    rows = [_row(place, name, way, most) for place, (name, way) in enumerate(ways.items())]
    said = "; ".join(f"{name}: {way['sheets_an_hour']:.0f} an hour" for name, way in ways.items())
    height = ROW * len(ways) + 44
    load = figures["machine.load_average"][0]
    where = f"{figures['machine.cores']} cores, load average {load:g} as it began"
    return "".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height}" role="img" '
            'aria-labelledby="batch-title batch-desc" font-family="system-ui, sans-serif" '
            f'font-size="13" fill="{INK}">',
            '<title id="batch-title">Sheets an hour</title>',
            f'<desc id="batch-desc">Small events: {escape(said)}; {escape(where)}.</desc>',
            f'<rect width="{WIDTH}" height="{height}" fill="{PAPER}"/>',
            '<text x="8" y="20" font-weight="600">Sheets of a small event an hour</text>',
            *rows,
            f'<text x="8" y="{height - 8}" font-size="11">{escape(where)}</text></svg>',
        ]
    )


def _row(place: int, name: str, way: dict[str, float], most: float) -> str:
    top = 32 + ROW * place
    middle = top + BAR - 4
    length = LONGEST * way["sheets_an_hour"] / most
    beside = f"{100 * way['overhead']:.1f} % beside the sheets"
    return (
        f'<text x="8" y="{middle}">{escape(name)}</text>'
        f'<rect x="{LEFT}" y="{top}" width="{length:.1f}" height="{BAR}" fill="{ACCENT}"/>'
        f'<text x="{LEFT + length + 6:.1f}" y="{middle}">{way["sheets_an_hour"]:.0f}, '
        f"{beside}</text>"
    )


if __name__ == "__main__":
    main()
