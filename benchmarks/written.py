"""Figures as they are kept, and the machine they were measured on in a line's end."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any


def write_figures(figures: Mapping[str, Any], target: Path) -> None:
    """As JSON, in a folder that is made."""
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_text(json.dumps(figures, indent=2) + "\n", "utf-8")


def load_words(figures: Mapping[str, Any]) -> str:
    """How busy the machine was as the measuring began and ended: of a minute before each."""
    before, after = (figures[f"machine.load_average{when}"][0] for when in ("", "_after"))
    return f"load average {before} to {after}"
