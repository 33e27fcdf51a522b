"""Folders of events that are planned in a second or two, for batches of them."""

from __future__ import annotations

import re
from pathlib import Path

from event_folder import DEMO

LOCKER = ("Slate Weir", "Plain Thimble")
FILES = ("bowler.toml", "event.toml", "house.toml", "pattern.toml")


def little_event(folder: Path, name: str = "Little Open", lanes: str = "13-14") -> Path:
    """One game of the bundled bowler with two balls, alone with a pair's others; its file."""
    folder.mkdir(parents=True)
    for file in FILES:
        (folder / file).write_text((DEMO / file).read_text("utf-8"), "utf-8")
    for file, kept in (("locker.csv", LOCKER), ("squad.csv", (lanes,))):
        head, *rows = (DEMO / file).read_text("utf-8").splitlines()
        rows = [row for row in rows if row.split(",")[0] in kept]
        (folder / file).write_text("\n".join([head, *rows]) + "\n", "utf-8")
    event = folder / "event.toml"
    text = event.read_text("utf-8").partition("[[stage]]")[0]
    for key, value in (("name", f'"{name}"'), ("games", "1"), ("ball_limit", "2")):
        text = re.sub(rf"^{key} = .*$", f"{key} = {value}", text, flags=re.MULTILINE)
    text = re.sub(r"^practice_minutes = .*$", "practice_minutes = 1", text, flags=re.MULTILINE)
    event.write_text(text, "utf-8")
    return event
