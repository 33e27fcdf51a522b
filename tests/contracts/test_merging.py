"""A log is a set: however it comes in, it is the same and has the same stand."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from uuid import UUID, uuid5

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from contracts.things import account, shot
from nextpair.application.journal import standing
from nextpair.domain.jotting import Answer, Jotting, JottingKind

EVENT = UUID(int=39)


@dataclass(frozen=True)
class Told:
    """What was written down, and what of it stands by the way it was made."""

    jottings: list[Jotting]
    stands: dict[UUID, Jotting]


@st.composite
def days(draw) -> Told:
    """Things written down at the lanes, each corrected or taken back a few times."""
    jottings: list[Jotting] = []
    stands: dict[UUID, Jotting] = {}
    for thing in range(draw(st.integers(0, 4))):
        kinds = draw(st.lists(st.sampled_from(["shot", "void"]), max_size=3))
        before: Jotting | None = None
        for version, kind in enumerate(["shot", *kinds]):
            before = shot(
                EVENT,
                device_seq=len(jottings) + 1,
                id=uuid5(EVENT, f"{thing} {version}"),
                device=draw(st.sampled_from(["phone", "tablet"])),
                kind=JottingKind(kind),
                payload={"board": draw(st.floats(1, 39)), "note": draw(st.text(max_size=3))},
                supersedes=before.id if before else None,
            )
            jottings.append(before)
        if before is not None and before.kind is JottingKind.SHOT:
            stands[uuid5(EVENT, f"{thing} 0")] = before
    return Told(jottings, stands)


@st.composite
def deliveries(draw, jottings: list[Jotting]) -> list[list[Jotting]]:
    """The same jottings in any order and batches, some of them again."""
    if not jottings:
        return [[]]
    again = draw(st.lists(st.sampled_from(jottings), max_size=6))
    order = draw(st.permutations([*jottings, *again]))
    cuts = sorted(draw(st.lists(st.integers(0, len(order)), max_size=5)))
    bounds = [0, *cuts, len(order)]
    return [order[start:end] for start, end in pairwise(bounds)]


def held(store, data, told: Told) -> None:
    me = account(store)
    answers = []
    for batch in data.draw(deliveries(told.jottings)):
        answers += [receipt.answer for receipt in store.append(me, batch)]
    log = store.log(me, EVENT)
    assert answers.count(Answer.STORED) == len(told.jottings)
    assert Answer.CONFLICT not in answers
    assert {kept.jotting.id: kept.jotting for kept in log} == {
        jotting.id: jotting for jotting in told.jottings
    }
    assert [kept.seq for kept in log] == list(range(1, len(log) + 1))
    assert dict(standing(log)) == told.stands


@given(st.data(), days())
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_order_batching_and_repetition_gives_the_same_log(memory, data, told):
    held(memory, data, told)


@given(st.data(), days())
@settings(max_examples=15, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_database_merges_the_same_way(database, data, told):
    held(database, data, told)


@given(st.data(), days(), st.integers(0, 30))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_two_copies_of_a_log_end_as_the_same_set(memory, data, told, cut):
    mine, theirs = account(memory), account(memory)
    here, there = told.jottings[:cut], told.jottings[max(cut - 3, 0) :]
    for owner, own in ((mine, here), (theirs, there)):
        for batch in data.draw(deliveries(own)):
            memory.append(owner, batch)
    for source, goal in ((mine, theirs), (theirs, mine), (mine, theirs)):
        memory.append(goal, [kept.jotting for kept in memory.log(source, EVENT)])
    logs = [memory.log(owner, EVENT) for owner in (mine, theirs)]
    assert {one.jotting.digest for one in logs[0]} == {one.jotting.digest for one in logs[1]}
    assert dict(standing(logs[0])) == dict(standing(logs[1])) == told.stands


@pytest.mark.parametrize("order", [(0, 1, 2), (2, 1, 0), (1, 2, 0)])
def test_of_two_corrections_of_one_shot_the_one_that_came_in_last_stands(memory, order):
    first = shot(EVENT)
    left = shot(EVENT, 2, supersedes=first.id, payload={"board": 17})
    right = shot(EVENT, 1, supersedes=first.id, payload={"board": 18}, device="tablet")
    sent = [(first, left, right)[place] for place in order]
    me = account(memory)
    memory.append(me, sent)
    last = next(jotting for jotting in reversed(sent) if jotting is not first)
    assert standing(memory.log(me, EVENT)) == ((first.id, last),)
