"""Sound files and documents that damage starts from: the bundled event, made small, and what the
contract has beside it."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

from event_folder import DEMO
from fuzz.damage import plain
from nextpair.application.bundle import EventBundle
from nextpair.files import FilePapers
from source_tree import ROOT

PAPERS = FilePapers()
OWN = "Ada Quill"
MUST_HAVE = ("Candle Stub,",)
"""The ball of the log's first shots."""
SQUAD_ROWS, BALL_ROWS, SHOT_ROWS = 5, 4, 12
EVENT_ID = "0197a6de-0000-7000-8000-00000000000e"


def demo(name: str, rows: int | None = None) -> str:
    """A file of the bundled event; of a table so many rows, the bowler's own among them."""
    text = (DEMO / name).read_text("utf-8")
    if rows is None:
        return text
    header, *lines = text.splitlines()
    own = [line for line in lines if line.startswith(MUST_HAVE) or OWN in line]
    own = own if name == "locker.csv" else own[:1]
    kept = own + [line for line in lines if line not in own][: rows - len(own)]
    return "\n".join([header, *kept]) + "\n"


BOARDS = ",".join(["distance_ft", *(str(board) for board in range(1, 40))])
FILM = "\n".join([BOARDS, *(f"{feet}" + ",12.5" * 39 for feet in (0, 20, 41))]) + "\n"
HEIGHTS = "\n".join([BOARDS, *(f"{feet}" + ",0.01" * 39 for feet in (0, 60))]) + "\n"
FILES = {
    "event.toml": demo("event.toml"),
    "house.toml": demo("house.toml").rstrip()
    + '\n[[lane]]\nnumber = 2\nheights = "heights.csv"\n',
    "pattern.toml": demo("pattern.toml"),
    "bowler.toml": demo("bowler.toml"),
    "locker.csv": demo("locker.csv", BALL_ROWS),
    "squad.csv": demo("squad.csv", SQUAD_ROWS),
    "heights.csv": HEIGHTS,
}
MEASURED = 'name = "Read off"\nlength_ft = 43\n[film]\ncsv = "film.csv"\n'
SHOTS = demo("shots.csv", SHOT_ROWS)
SCORES = demo("scores.csv", 8)
WIDE = "name,1,2,3,handicap,total\nAda Quill,201,188,190,8,603\nBo Farr,199,,,0,199\n"
SHEET = (
    "name,game,1,2,3,4,5,6,7,8,9,10,score,total_1\n"
    "Ada Quill,1,X,7/,9-,X,-8,8/,-6,X,X,X81,167,20\nBo Farr,1,9/,X,,,,,,,,,,20\n"
)
BALLS = (
    "name,game,frame,delivery,pins,standing_after,foul,total\n"
    "Ada Quill,1,1,1,,7-10,,\nAda Quill,1,1,2,1,,,9\nAda Quill,1,2,1,10,,,\n"
    "Bo Farr,1,1,1,0,,yes,\n"
)
SNAPSHOT: dict[str, Any] = json.loads((ROOT / "tests/log_codes_snapshot.json").read_text("utf-8"))
SHARED_HOUSE = """\
[house]
name = "Copperfield Lanes"
lanes = 24
notes = ["right gutter caps low on 7-8"]
[[house.lane]]
number = 13
tilt_in = 0.015
[[visit]]
id = "3f2a6c1e-0b7d-4d15-9a44-52c8e1d7b903"
date = 2026-05-02
event = "Spring Tide Open"
pattern = "Long Tide 43"
length_ft = 43.0
games = 6
pins = 1200
notes = "dries quickly"
friction = 1.02
[visit.lanes]
7 = "hooks early"
[visit.learned]
dry_log = [0.0, 0.07, 0.03, 0.04]
lane_7_dry_log = [0.0, 0.02, 0.01, 0.018]
[visit.lane_friction]
7 = 1.03
"""
GOAL = {"name": "Cash twice", "measure": "cashes", "target": 2,
        "first_day": "2026-01-01", "last_day": "2026-12-31"}  # fmt: skip
KIT = {
    "name": "Away",
    "items": [{"item": "Folding stool", "many": 2, "why": "Long blocks.", "group": "table"}],
    "stock": [{"item": "Tape", "have": 40, "use": 6, "per": "event", "reorder_below": 12}],
    "case_limit_lb": 50,
}


@cache
def bundle() -> EventBundle:
    """The documents of the small event."""
    return PAPERS.bundle(FILES)


@cache
def records() -> dict[str, list[Any]]:
    """Sound documents of each kind of record."""
    told = bundle()
    ball = {**told.locker[0], "bowler": EVENT_ID, "retired": False, "surface_history": [
        {"date": "2026-01-02", "surface_grit": 2000, "surface_by": "hand"}]}  # fmt: skip
    ids = dict.fromkeys(("house", "pattern", "bowler", "squad"), EVENT_ID)
    return plain(
        {
            "house": [told.house, {"name": "Small", "lanes": 2}],
            "pattern": [told.left_pattern],
            "bowler": [told.bowler],
            "ball": [ball],
            "squad": [{"name": "A", "rows": list(told.squad)}],
            "event": [{**told.event, **ids}],
            "goal": [GOAL],
            "kit": [KIT],
        }
    )


@cache
def jottings() -> list[Any]:
    """Jottings of every kind, as phones send them."""
    head, *_ = shots = SNAPSHOT["jottings"]
    payloads = {
        "void": {},
        "score": {"name": "Bo Farr", "game": 1, "score": 201, "handicap": 8},
        "tick": {"item": "Tape", "done": True},
        "note": {"about": "lane 13", "text": "dries on the left"},
        "visit": {"date": "2026-05-02", "games": 6, "pins": 1200, "lanes": {"7": "hooks early"}},
        "lesson": {"key": "surface", "accepted": True},
    }
    others = [
        head | {"id": f"01a14a02-7e0b-79d9-86af-{number:012x}", "kind": kind, "payload": payload,
                "supersedes": head["id"] if kind == "void" else None}
        for number, (kind, payload) in enumerate(payloads.items())
    ]  # fmt: skip
    return plain([*shots[:4], *others])
