"""Roll the racks behind the shipped tables: `python -m nextpair.carry.racks`, `make racks`.

Every hit has a number and draws its rack from that number, so a run may be stopped, gone on with,
split between machines and joined again: what is done lies in one small file a block. The joined
rolls are kept in the checkout; the tables that ship are made from them alone.
"""

from __future__ import annotations

import argparse
import ast
import hashlib
import os
import sys
import time
from collections.abc import Callable, Iterator
from importlib.metadata import version
from importlib.resources import files
from multiprocessing import get_context
from pathlib import Path
from typing import Any, TypeGuard

import numpy as np

from nextpair.carry.contacts import Contacts
from nextpair.carry.hits import (
    LAST_OFFSET_BOARDS,
    Leaves,
    leaves_that_occur,
    other_leaves,
    rack_hits,
    spare_hits,
)
from nextpair.carry.rack import Hit, Rack, spotted_setting
from nextpair.carry.rolls import Rolls, joined, load_rolls, save_rolls

SEED = 20_261_127
RACKS = 64_000
SPARES = 48_000
"""At the leaves that racks left; the rounds after that have their own numbers."""
SECOND_RACKS = 3_000
"""Racks that also tell what a ball at all ten pins leaves, after a first one that missed them."""
BLOCK = 64
"""Rolls of one file."""
KINDS = ("racks", "spares")
MODEL = ("deck.py", "pin.py", "contacts.py", "scene.py", "rack.py")
"""Modules that decide what a hit leaves."""
KEPT = Path("rolls")
"""Where the rolls behind the shipped tables are kept, in the checkout."""
WORK = Path("build/rolls")
DATA = Path(str(files("nextpair.carry"))) / "data"

Hits = Callable[[int, int], Rolls]
Rounds = list[Leaves]
Block = tuple[str, Rounds, int, int]
"""Kind, leaves by rounds, first hit and number of hits."""
_rack: Rack | None = None


def rolled(hits: Rolls, first: int, kind: str) -> Rolls:
    """The same hits with what they left, rolled one after the other on this core.

    A ball beyond the lane's edge lies in the gutter and leaves all that stood.
    """
    global _rack
    _rack = _rack or Rack()
    columns = (
        hits.offset_boards,
        hits.angle_deg,
        hits.speed_mps,
        hits.ball_kg,
        hits.roll_share,
        hits.side_rotation_radps,
    )
    standing = hits.spotted.copy()
    exit_x_m = np.full(len(hits.spotted), np.nan)
    on_the_lane = np.abs(hits.offset_boards) < LAST_OFFSET_BOARDS
    for place, row in enumerate(zip(*columns, strict=True)):
        if on_the_lane[place]:
            rng = np.random.default_rng([SEED, KINDS.index(kind), first + place])
            outcome = _rack.roll(Hit(*row), spotted_setting(rng), int(hits.spotted[place]))
            standing[place], exit_x_m[place] = outcome
    return hits._replace(standing=standing, exit_x_m=exit_x_m)


def hits_of(kind: str, rounds: Rounds) -> Hits:
    """The design of one kind of run."""
    if kind == "racks":
        return rack_hits
    return lambda first, count: spare_hits(rounds, first, count)


def roll_all(
    kind: str, count: int, folder: Path, rounds: Rounds, *, cores: int, until: float
) -> None:
    """Roll what is missing of the first `count` hits, on all cores, a file a block.

    until : time of the clock at which no further block is waited for [s].
    """
    (folder / kind).mkdir(parents=True, exist_ok=True)
    blocks = [(kind, rounds, first, min(BLOCK, count - first)) for first in range(0, count, BLOCK)]
    missing = [block for block in blocks if not _is_whole(folder, block)]
    with get_context("spawn").Pool(cores) as pool:
        for first, rolls in _told(kind, pool.imap_unordered(_rolled_block, missing), missing):
            save_rolls(_place(folder, kind, first), rolls, {"first": first})
            if time.time() > until:
                break


def joined_blocks(kind: str, folder: Path) -> tuple[list[tuple[int, int]], Rolls]:
    """All blocks that are done: first number and count of each, and their rolls."""
    parts = [load_rolls(place)[0] for place in sorted((folder / kind).glob("*.npz"))]
    firsts = [int(place.stem) for place in sorted((folder / kind).glob("*.npz"))]
    counts = [len(part.standing) for part in parts]
    return list(zip(firsts, counts, strict=True)), joined(parts)


def _is_whole(folder: Path, block: Block) -> bool:
    """Whether a block is done; one that ended an earlier, shorter run may lack rolls."""
    kind, _, first, count = block
    place = _place(folder, kind, first)
    return place.exists() and len(load_rolls(place)[0].standing) >= count


def _place(folder: Path, kind: str, first: int) -> Path:
    return folder / kind / f"{first:07d}.npz"


def _rolled_block(block: Block) -> tuple[int, Rolls]:
    kind, rounds, first, count = block
    return first, rolled(hits_of(kind, rounds)(first, count), first, kind)


def _told(
    kind: str, done: Iterator[tuple[int, Rolls]], missing: list[Block]
) -> Iterator[tuple[int, Rolls]]:
    """Passes blocks on and tells how far the run is, every tenth of a minute at most."""
    start = told = time.time()
    count = 0
    for number, (first, rolls) in enumerate(done, 1):
        yield first, rolls
        count += len(rolls.standing)
        now = time.time()
        if now - told > 6 or number == len(missing):
            rate = count / (now - start)
            left_min = (len(missing) - number) * BLOCK / rate / 60
            print(
                f"{kind}: {count} rolled, {rate:.1f} a second, {left_min:.0f} min left",
                file=sys.stderr,
                flush=True,
            )
            told = now


def settings_of(kind: str, blocks: list[tuple[int, int]], rounds: Rounds) -> dict[str, Any]:
    """What made a file of rolls."""
    return {
        "kind": kind,
        "rolls": sum(count for _, count in blocks),
        "numbers": _ranges(blocks),
        "leaves": rounds,
        "seed": SEED,
        "model_hash": model_hash(),
        "engine": f"mujoco {version('mujoco-core')}",
        "contacts": Contacts()._asdict(),
    }


def _ranges(blocks: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Blocks as few ranges of numbers, each from its first to before its last."""
    ranges: list[tuple[int, int]] = []
    for first, count in blocks:
        if ranges and ranges[-1][1] == first:
            ranges[-1] = (ranges[-1][0], first + count)
        else:
            ranges.append((first, first + count))
    return ranges


def hits_in(rounds: Rounds) -> int:
    """Balls that the leaves of all rounds ask for."""
    return sum(hits for leaves in rounds for _, hits in leaves)


def spare_rounds(kept: Path) -> Rounds:
    """Leaves to shoot at: those of the kept spares; without those, what the kept racks left, and
    then others that somebody may ask for."""
    spares = kept / "spares.npz"
    if spares.exists():
        rounds = load_rolls(spares)[1]["leaves"]
        return [[(mask, hits) for mask, hits in leaves] for leaves in rounds]
    occurring = leaves_that_occur(load_rolls(kept / "racks.npz")[0].standing, SPARES)
    return [occurring, other_leaves(occurring)]


def model_hash() -> str:
    """Names the model that made rolls: changes with any sign of it but docstrings and space."""
    digest = hashlib.sha256()
    for module in MODEL:
        text = (files("nextpair.carry") / module).read_text("utf-8")
        lines = text.splitlines()
        for node in ast.walk(ast.parse(text)):
            if _is_docstring(node):
                for line in range(node.lineno - 1, node.end_lineno or node.lineno):
                    lines[line] = ""
        digest.update("".join("".join(lines).split()).encode())
    return digest.hexdigest()[:16]


def _is_docstring(node: ast.AST) -> TypeGuard[ast.Expr]:
    return (
        isinstance(node, ast.Expr)
        and isinstance(node.value, ast.Constant)
        and isinstance(node.value.value, str)
    )


def write_tables(kept: Path, data: Path = DATA) -> None:
    """Make the tables that ship from the rolls that are kept.

    Imports the smoothers here: to roll takes no compiler, so a bare machine can.
    """
    from nextpair.carry.nodes import write_table
    from nextpair.carry.smoother import fitted
    from nextpair.carry.spares import write_spares

    racks, settings = load_rolls(kept / "racks.npz")
    fit = fitted(racks)
    write_table(data / "carry.npz", fit.smoothed, {**settings, **fit.settings()})
    for trial in fit.trials:
        print(trial, file=sys.stderr)
    spares, settings = load_rolls(kept / "spares.npz")
    del settings["leaves"], settings["numbers"]
    full = racks.taken(np.arange(len(racks.standing)) < SECOND_RACKS)
    write_spares(data / "spares.npz", joined([spares, full]), settings)


def compared(kind: str, blocks: list[tuple[int, int]], rolls: Rolls, kept: Path) -> str:
    """How many of these rolls left the same pins as the kept ones of their numbers."""
    told, settings = load_rolls(kept / f"{kind}.npz")
    known = {
        number: int(standing)
        for number, standing in zip(_numbers(settings["numbers"]), told.standing, strict=True)
    }
    numbers = _numbers(_ranges(blocks))
    again = [
        known[n] == int(s) for n, s in zip(numbers, rolls.standing, strict=True) if n in known
    ]
    return f"{kind}: {sum(again)} of {len(again)} left what the kept rolls left"


def _numbers(ranges: list[tuple[int, int]]) -> list[int]:
    return [number for first, end in ranges for number in range(first, end)]


def main(arguments: list[str] | None = None) -> None:
    """Roll, join, keep, make the tables. See `make racks` in the Makefile."""
    parser = argparse.ArgumentParser(prog="python -m nextpair.carry.racks", description=__doc__)
    parser.add_argument("--racks", type=int, default=RACKS, help="full racks in all")
    parser.add_argument("--spares", type=int, help="balls at leaves in all; left out, all rounds")
    parser.add_argument("--work", type=Path, default=WORK, help="where blocks lie while rolling")
    parser.add_argument("--kept", type=Path, default=KEPT, help="where the joined rolls lie")
    parser.add_argument("--cores", type=int, default=os.cpu_count(), help="processes")
    parser.add_argument("--minutes", type=float, default=1e6, help="stop rolling after so long")
    parser.add_argument("--keep", action="store_true", help="join and keep what is rolled")
    parser.add_argument("--tables", action="store_true", help="make the tables from what is kept")
    options = parser.parse_args(arguments)
    until = time.time() + 60 * options.minutes
    folder = options.work / model_hash()
    for kind, asked in zip(KINDS, (options.racks, options.spares), strict=True):
        if asked == 0:
            continue
        rounds = spare_rounds(options.kept) if kind == "spares" else []
        count = hits_in(rounds) if asked is None else asked
        roll_all(kind, count, folder, rounds, cores=options.cores, until=until)
        blocks, rolls = joined_blocks(kind, folder)
        if options.keep:
            options.kept.mkdir(parents=True, exist_ok=True)
            save_rolls(options.kept / f"{kind}.npz", rolls, settings_of(kind, blocks, rounds))
        elif (options.kept / f"{kind}.npz").exists():
            print(compared(kind, blocks, rolls, options.kept))
    if options.tables:
        write_tables(options.kept)


if __name__ == "__main__":
    main()
