"""What a sheet costs: seconds and memory, and how its cost grows with the event."""

from __future__ import annotations

import resource
import sys
import time
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from importlib.resources import as_file, files
from itertools import cycle, islice
from multiprocessing import get_context

from nextpair import load_event, plan
from nextpair.domain.ball import Ball, Role
from nextpair.domain.event import Entrant, Event, Pair

BOWLERS_A_PAIR = 4
SEED = 7
PEAK_UNITS_A_GB = 1e9 if sys.platform == "darwin" else 1e6
"""Of what the system counts a process's memory in."""


@dataclass(frozen=True, slots=True)
class Size:
    """How large an event is."""

    games: int
    balls: int
    pairs: int


FULL = Size(games=8, balls=18, pairs=12)
LITTLE = Size(games=1, balls=6, pairs=2)


def event_of(size: Size) -> Event:
    """The bundled event with as many games, balls, and pairs of four people."""
    with as_file(files("nextpair") / "demo") as folder:
        event = load_event(folder / "event.toml")
    return replace(
        event,
        games=size.games,
        locker=_locker(event.locker, size.balls),
        squad=_squad(event, size.pairs),
    )


def _locker(bundled: tuple[Ball, ...], balls: int) -> tuple[Ball, ...]:
    """The spare balls and as many strike balls as make up the number, some of them in twos."""
    spares = tuple(ball for ball in bundled if ball.role is Role.SPARE)
    strikes = [ball for ball in bundled if ball.role is not Role.SPARE]
    taken = islice(cycle(strikes), balls - len(spares))
    named = (
        replace(ball, name=f"{ball.name} {number // len(strikes) + 1}")
        for number, ball in enumerate(taken)
    )
    return (*named, *spares)


def _squad(event: Event, pairs: int) -> tuple[Entrant, ...]:
    """The event's bowler and the others in turn, four on every pair from the first lane on."""
    own = next(entrant for entrant in event.squad if entrant.name == event.bowler_name)
    others = cycle(entrant for entrant in event.squad if entrant is not own)
    named = (
        replace(entrant, name=f"{entrant.name} {number}") for number, entrant in enumerate(others)
    )
    everybody = (own, *islice(named, BOWLERS_A_PAIR * pairs - 1))
    return tuple(
        replace(entrant, pair=Pair(2 * (number // BOWLERS_A_PAIR) + 1))
        for number, entrant in enumerate(everybody)
    )


def sheet_costs(size: Size) -> dict[str, float]:
    """CPU-seconds and peak memory of an event's sheet, in a process of its own where a sheet was
    made before; how often its cost is that of half the balls, and twice the games' that of it."""
    # A new process, not a copy of this one: its peak is that of a sheet alone.
    with ProcessPoolExecutor(1, get_context("spawn")) as pool:
        return pool.submit(_costs, size).result()


def _costs(size: Size) -> dict[str, float]:
    _plan_s(LITTLE)
    half_s = _plan_s(replace(size, balls=size.balls // 2))
    full_s = _plan_s(size)
    peak_gb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / PEAK_UNITS_A_GB
    return {
        "sheet.cpu_s": full_s,
        "sheet.peak_gb": peak_gb,
        "sheet.ratio_of_twice_the_games": _plan_s(replace(size, games=2 * size.games)) / full_s,
        "sheet.ratio_of_twice_the_balls": full_s / half_s,
    }


def _plan_s(size: Size) -> float:
    """Seconds of all cores."""
    event = event_of(size)
    start_s = time.process_time()
    plan(event, seed=SEED)
    return time.process_time() - start_s
