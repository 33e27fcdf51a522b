"""What it costs to say where one stands: one core's seconds with 500 entries and 8 games left."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from benchmarks.clocks import by_turns
from benchmarks.rates import threads
from event_folder import DEMO
from nextpair.application.standings import standing_of
from nextpair.domain.event import Event
from nextpair.domain.field_score import FieldScore
from nextpair.files import load_event

ENTRIES, CUT_TO = 500, 125
GAMES_BOWLED, GAMES_LEFT = 4, 8
SQUADS, PAIRS = 10, 24
SEED = 7


def standing_costs(runs: int) -> dict[str, float]:
    """CPU-seconds of one thread, the median of the runs."""
    event = large_event()
    scores = large_field(event)
    with threads(1):
        took_s = by_turns({"standing": lambda: standing_of(event, scores, SEED)}, runs)
    return {"standing.cpu_s": float(np.median(took_s["standing"]))}


def large_event() -> Event:
    """The bundled event, with many entries and games."""
    event = load_event(DEMO / "event.toml")
    money = replace(event.money, entries=ENTRIES, cut_to=CUT_TO)
    return replace(
        event,
        games=GAMES_BOWLED + GAMES_LEFT,
        money=money,
        format=replace(event.format, stages=()),
    )


def large_field(event: Event) -> tuple[FieldScore, ...]:
    """Everybody's first games, on pairs that are told, with averages."""
    rng = np.random.default_rng(SEED)
    names = [event.bowler_name, *(f"Entrant {number}" for number in range(1, ENTRIES))]
    levels = rng.normal(195, 14, ENTRIES)
    return tuple(
        FieldScore(
            name=name,
            game=game,
            score=int(np.clip(round(rng.normal(level, 27)), 0, 300)),
            squad=f"{number % SQUADS + 1}",
            pair=f"{2 * ((number + game) % PAIRS) + 1}-{2 * ((number + game) % PAIRS) + 2}",
            average=round(level + 10),
        )
        for number, (name, level) in enumerate(zip(names, levels, strict=True))
        for game in range(1, GAMES_BOWLED + 1)
    )
