"""Work for a process that computes, quick enough for a test: found by its name in that process."""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path

from nextpair.application.jobs import Order, Results
from nextpair.application.ports import Progress
from nextpair.application.settings import Settings
from nextpair.bootstrap import Program
from nextpair.domain.errors import InvalidValueError
from nextpair.web.hands import Hands

STEP_S = 0.05
LONG_STEPS = 2000


def steady(_program: Program, order: Order, progress: Progress) -> Results:
    """So many steps as the seed says, and then its process's number and niceness."""
    for step in range(order.seed):
        progress("stepping", step, order.seed)
        time.sleep(STEP_S)
    return {order.kind: {"process": os.getpid(), "niceness": os.nice(0)}}


def refusing(_program: Program, order: Order, _progress: Progress) -> Results:
    """An order that cannot be."""
    raise InvalidValueError("seed", order.seed, "another one")


def broken(_program: Program, _order: Order, _progress: Progress) -> Results:
    """A fault of ours, with words that are nobody else's business."""
    raise RuntimeError("left knee")


def hold(folder: Path, order: Order) -> None:
    """Have a long order under way, and write down which process works at it."""
    hands = Hands(Settings(threads=1), steady)

    def told(_label: str, _done: int, _total: int, /) -> None:
        (folder / "process").write_text(str(hands.process_id))

    hands.work(order, told)


def is_alive(process: int) -> bool:
    """Whether a process is there, and no mere remains of one."""
    try:
        state = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[0]
    except OSError:
        return False
    return state != "Z"


needs_proc = sys.platform == "linux"
