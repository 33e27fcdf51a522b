"""Draw for the guide what `make batch-bench` measured: docs/img/batch.json to docs/img/batch.svg.

python tools/batch_picture.py [build/batch-bench.json]

With a file its figures are kept first, as docs/img/batch.json.
"""

from __future__ import annotations

import json
import sys
from html import escape
from pathlib import Path
from typing import Any

from nextpair.reports.lane_plan import px
from nextpair.reports.palette import INK, PAPER, ramp_colour

IMG = Path(__file__).resolve().parents[1] / "docs" / "img"
FIGURES, PICTURE = IMG / "batch.json", IMG / "batch.svg"
WIDE_PX, EDGE_PX, HEAD_PX, ROW_PX, FOOT_PX = 360.0, 14.0, 52.0, 58.0, 62.0
BAR_PX = 14.0
SCALE_STEP = 500
BUSY_LOAD = 0.5
"""Of a machine that had other work as the measuring began."""
BAR, RANGE = ramp_colour(0.45), INK


def batch_figure(figures: dict[str, Any]) -> str:
    """Sheets an hour by each way, with every turn, and what an item took on a core, as SVG."""
    ways = figures["ways"]
    most = max(max(told["sheets_an_hour_of_each_turn"]) for told in ways.values())
    full = SCALE_STEP * -(-most // SCALE_STEP)
    height = HEAD_PX + ROW_PX * len(ways) + FOOT_PX
    rows = "".join(
        f'<g transform="translate({px(EDGE_PX)} {px(HEAD_PX + ROW_PX * place)})">'
        f"{_row(name, told, full)}</g>"
        for place, (name, told) in enumerate(ways.items())
    )
    said = "; ".join(f"{name}: {_hourly(told)}, {_cost(told)}" for name, told in ways.items())
    top_px = HEAD_PX + ROW_PX * len(ways)
    foot = "".join(
        f'<text x="{px(EDGE_PX)}" y="{px(top_px + 14 * line)}" font-size="10.5">'
        f"{escape(text)}</text>"
        for line, text in enumerate(_foot(figures), start=1)
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {px(WIDE_PX)} {px(height)}" '
        f'role="img" aria-labelledby="batch-title batch-desc" fill="{INK}" '
        'font-family="system-ui, sans-serif" font-size="12">'
        '<title id="batch-title">Sheets an hour of a small event, by who computes</title>'
        f'<desc id="batch-desc">{escape(said)}. {escape(" ".join(_foot(figures)))}</desc>'
        f'<rect width="100%" height="100%" fill="{PAPER}"/>'
        f'<text x="{px(EDGE_PX)}" y="22" font-size="14" font-weight="600">'
        "Sheets an hour of a small event</text>"
        f'<text x="{px(EDGE_PX)}" y="39" font-size="10.5">'
        "Bar: the middle of its turns. Rings: each turn.</text>"
        f"{rows}{foot}</svg>"
    )


def _row(name: str, told: dict[str, Any], full: float) -> str:
    wide = WIDE_PX - 2 * EDGE_PX
    rings = "".join(
        f'<circle cx="{px(wide * one / full)}" cy="{px(20 + BAR_PX / 2)}" r="3.2" fill="{PAPER}" '
        f'stroke="{RANGE}" stroke-width="1.2"/>'
        for one in told["sheets_an_hour_of_each_turn"]
    )
    return (
        f'<text y="14"><tspan font-weight="600">{escape(name)}</tspan>'
        f"<tspan>: {_hourly(told)}</tspan></text>"
        f'<rect y="20" width="{px(wide * told["sheets_an_hour"] / full)}" '
        f'height="{px(BAR_PX)}" fill="{BAR}"/>{rings}'
        f'<text y="47" font-size="10.5">{_cost(told)}</text>'
    )


def _hourly(told: dict[str, Any]) -> str:
    return f"{told['sheets_an_hour']:.0f} an hour"


def _cost(told: dict[str, Any]) -> str:
    beside = 100 * told["overhead_beside_the_sheets"]
    words = f", {beside:.1f} % more beside it" if beside else ""
    return f"{told['sheet_cpu_s']:.2f} core-seconds a sheet{words}"


def _foot(figures: dict[str, Any]) -> tuple[str, ...]:
    before, after = (figures[f"machine.load_average{when}"][0] for when in ("", "_after"))
    load = f"(load {before:.1f} to {after:.1f})"
    shared = (
        f"shared with others {load}: times on the wall say",
        "little of two processes here; core-seconds do.",
    )
    return (
        f"{figures['runs']} turns each of {figures['items']} items, every process warm; "
        f"{figures['machine.cores']} cores,",
        *(shared if before >= BUSY_LOAD else (f"with nothing else to do {load}.",)),
    )


def main(measured: Path | None) -> None:
    """Keep the figures, if there are new ones, and draw."""
    if measured is not None:
        FIGURES.write_text(measured.read_text("utf-8"), "utf-8")
    PICTURE.write_text(batch_figure(json.loads(FIGURES.read_text("utf-8"))) + "\n", "utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else None)
