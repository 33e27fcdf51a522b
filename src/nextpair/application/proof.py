"""The planner put to the proof: events and worlds drawn, bowled on every core, and summed up."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from multiprocessing import active_children, get_context
from typing import TYPE_CHECKING

import numpy as np
from scipy.stats import t as student

from nextpair.application.model_version import model_version
from nextpair.application.offspring import serve_parent
from nextpair.application.ports import Progress, unwatched
from nextpair.domain.errors import require_within
from nextpair.domain.pattern import Pattern
from nextpair.domain.proof import ContenderCard, PairKindCard, Proof, ProofFigure

if TYPE_CHECKING:
    from nextpair.planning.proof import GameRecord

WORLDS_AN_EVENT = 2
"""Worlds in which an event is bowled: making its plans costs as much as bowling a few."""
MOST_WORLDS = 100_000
CONFIDENCE = 0.95
Measure = Callable[["GameRecord"], float]


def prove(
    patterns: Sequence[Pattern],
    worlds: int,
    seed: int,
    processes: int = 1,
    progress: Progress = unwatched,
) -> Proof:
    """Bowl drawn events in `worlds` worlds. The same arguments give the same proof, however many
    processes share the work.

    Raises InvalidValueError for fewer worlds than one.
    """
    require_within("worlds", worlds, 1, MOST_WORLDS, "worlds")
    events = -(-worlds // WORLDS_AN_EVENT)
    jobs = [
        range(event * WORLDS_AN_EVENT, min((event + 1) * WORLDS_AN_EVENT, worlds))
        for event in range(events)
    ]
    records: list[GameRecord] = []
    for done, found in enumerate(_bowled(patterns, jobs, seed, processes), start=1):
        records += found
        progress("bowling simulated events", done, events)
    return summed_up(records, seed, events, worlds)


def _bowled(
    patterns: Sequence[Pattern], jobs: Sequence[range], seed: int, processes: int
) -> Iterator[list[GameRecord]]:
    """Every event's records, in the order of the events."""
    bowl = partial(_bowl, tuple(patterns), seed)
    if min(processes, len(jobs)) <= 1:
        yield from map(bowl, range(len(jobs)), jobs)
        return
    before = set(active_children())
    with ProcessPoolExecutor(
        min(processes, len(jobs)), mp_context=get_context("spawn"), initializer=_begin
    ) as pool:
        try:
            bowled = [pool.submit(bowl, number, worlds) for number, worlds in enumerate(jobs)]
            for one in bowled:
                yield one.result()
        except BaseException:
            # Also Ctrl+C: nobody waits until the events under way are bowled.
            for process in set(active_children()) - before:
                process.kill()
            raise


def _begin() -> None:
    """Each process computes on one core; read by the compiler when it is loaded."""
    os.environ["NUMBA_NUM_THREADS"] = "1"
    serve_parent()


def _bowl(
    patterns: tuple[Pattern, ...], seed: int, number: int, worlds: range
) -> list[GameRecord]:
    """One event in some worlds."""
    from nextpair.application.reader import reader_of
    from nextpair.carry.table import load_table
    from nextpair.domain.typical import BALL_MASS_KG
    from nextpair.planning.proof import prove_event
    from nextpair.planning.scenarios import drawn_event

    event = drawn_event(patterns, number, seed)
    table = load_table(BALL_MASS_KG, event.house.pinfall)
    return prove_event(event, number, table, worlds, seed, reader_of)


def summed_up(records: Sequence[GameRecord], seed: int, events: int, worlds: int) -> Proof:
    """Figures of some games, events independent of each other."""
    from nextpair.planning.proof import PairKind

    of_kind = [("all", list(records))] + [
        (kind.value, [record for record in records if record.kind is kind]) for kind in PairKind
    ]
    return Proof(
        model_version=model_version(),
        seed=seed,
        events=events,
        worlds=worlds,
        games=len(records),
        figures=_figures(records),
        kinds=tuple(_kind_card(name, some) for name, some in of_kind if some),
    )


Row = tuple[str, "Sequence[GameRecord]", Measure, dict[str, object]]
"""A figure's name, its games, what is measured of each, and what it is held against."""


def _figures(records: Sequence[GameRecord]) -> tuple[ProofFigure, ...]:
    """What the plan is held against; bounds as they were set before anything was measured."""
    rows = (
        *_regret_rows(records),
        *_reading_rows(records),
        *_gain_rows(records),
        *_other_rows(records),
    )
    return tuple(
        _figure(name, some, measure, **told) for name, some, measure, told in rows if some
    )


def _regret_rows(records: Sequence[GameRecord]) -> list[Row]:
    from nextpair.planning.contenders import Contender

    first = [record for record in records if record.game == 1]
    return [
        (
            "regret of the planner in the first game, no shots yet",
            first,
            _unmoved_lead(Contender.KNOWS, Contender.PLANNER),
            {"must": 6.0, "aim": 3.0, "less_is_better": True},
        ),
        (
            "regret of the planner in the first game, as bowled",
            first,
            _lead(Contender.KNOWS, Contender.PLANNER),
            {"less_is_better": True},
        ),
        (
            "regret after ten logged shots on a pair",
            [record for record in first if record.after_ten is not None],
            lambda record: record.score[Contender.KNOWS] - (record.after_ten or 0.0),
            {"must": 3.0, "aim": 1.5, "less_is_better": True},
        ),
    ]


def _reading_rows(records: Sequence[GameRecord]) -> list[Row]:
    from nextpair.planning.contenders import Contender

    return [
        (
            "gain of reading over the planner's moves by result",
            records,
            _lead(Contender.READER, Contender.PLANNER),
            {"must": 2.0, "aim": 5.0},
        ),
        (
            "what one shot in ten seen five boards wrong costs who reads",
            records,
            _lead(Contender.READER, Contender.MISLED),
            {"must": 1.0, "aim": 0.4, "less_is_better": True},
        ),
    ]


def _gain_rows(records: Sequence[GameRecord]) -> list[Row]:
    from nextpair.planning.contenders import Contender
    from nextpair.planning.proof import PairKind

    other = [record for record in records if record.kind is PairKind.OTHER and record.game > 1]
    over, planner = "gain of the planner over: ", Contender.PLANNER
    return [
        (
            over + Contender.TEXTBOOK.value,
            records,
            _lead(planner, Contender.TEXTBOOK),
            {"must": 5.0, "aim": 12.0},
        ),
        (over + Contender.FAVOURITE.value, records, _lead(planner, Contender.FAVOURITE), {}),
        (
            f"{over}{Contender.HERE.value}; other-hand traffic only",
            other,
            _lead(planner, Contender.HERE),
            {"must": 4.0, "aim": 10.0},
        ),
        (
            "the same on the planned lines, before any shot",
            other,
            _unmoved_lead(planner, Contender.HERE),
            {},
        ),
        (over + Contender.FRESH.value, records, _lead(planner, Contender.FRESH), {}),
    ]


def _other_rows(records: Sequence[GameRecord]) -> list[Row]:
    return [
        (
            "bag: loss against bringing the whole locker",
            records,
            lambda record: record.bag_loss_pins,
            {"must": 2.0, "aim": 0.7, "less_is_better": True},
        ),
        (
            "games that score within the sheet's 80 % interval",
            records,
            lambda record: 100.0 * record.interval_chance,
            {"unit": "percent", "nominal": 80.0, "must": 8.0, "aim": 3.0},
        ),
    ]


def _kind_card(kind: str, records: Sequence[GameRecord]) -> PairKindCard:
    from nextpair.planning.contenders import Contender

    reading = (Contender.READER, Contender.MISLED)
    others = [c for c in Contender if c not in (Contender.PLANNER, Contender.KNOWS, *reading)]
    return PairKindCard(
        kind=kind,
        games=len(records),
        contenders=tuple(
            ContenderCard(
                name=contender.value,
                score=float(np.mean([record.score[contender] for record in records])),
                regret=_figure(
                    "regret", records, _lead(Contender.KNOWS, contender), less_is_better=True
                ),
            )
            for contender in Contender
        ),
        gains=tuple(
            _figure(f"over: {other.value}", records, _lead(Contender.PLANNER, other))
            for other in others
        ),
    )


def _lead(ahead: object, behind: object) -> Measure:
    """Pins by which one contender scores more than another."""

    def lead(record: GameRecord) -> float:
        return record.score[ahead] - record.score[behind]  # type: ignore[index]

    return lead


def _unmoved_lead(ahead: object, behind: object) -> Measure:
    """The same before any shot: what the planned lines alone are worth."""

    def lead(record: GameRecord) -> float:
        return record.unmoved[ahead] - record.unmoved[behind]  # type: ignore[index]

    return lead


def _figure(
    name: str, records: Sequence[GameRecord], measure: Measure, **told: object
) -> ProofFigure:
    """Mean over games; its interval from the means of events, which are independent."""
    value = np.array([measure(record) for record in records])
    event = np.array([record.event for record in records])
    mean = float(value.mean())
    numbers = np.unique(event)
    half = None
    if len(numbers) > 1:
        # Games of one event share a plan and a pattern: the error is that of sums over events.
        sums = np.array([(value[event == number] - mean).sum() for number in numbers])
        spread = np.sqrt(len(numbers) / (len(numbers) - 1) * (sums**2).sum()) / len(value)
        half = float(student.ppf(0.5 + CONFIDENCE / 2, len(numbers) - 1) * spread)
    return ProofFigure(
        name=name,
        value=mean,
        low=None if half is None else mean - half,
        high=None if half is None else mean + half,
        games=len(value),
        **told,  # type: ignore[arg-type]
    )
