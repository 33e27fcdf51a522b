"""Real processes with little to do: one that dies, and a run that is killed whole."""

from __future__ import annotations

import os
from multiprocessing import get_context

import pytest

from batch_events import little_event
from batch_runs import done_in, offspring, sheets, until, until_gone
from batch_workers import dying, job, plan_slowly
from nextpair.application.batch import State
from nextpair.crew.processes import ProcessCrew

EVENTS = 5


def test_a_process_that_dies_takes_its_own_item_with_it_and_no_other():
    crew = ProcessCrew(2, dying)
    try:
        crew.give(0, job("dies"))
        crew.give(1, job("lives"))
        assert crew.room() == 0
        ended = dict(crew.take() for _ in range(2))
        assert (ended[0].state, ended[1].files) == (State.LOST, {"sheet.json": b"lives"})
        crew.give(2, job("lives"))
        assert crew.take()[1].state is State.DONE
    finally:
        crew.close()


@pytest.mark.skipif(os.name == "nt", reason="signals of POSIX")
def test_a_run_that_is_killed_leaves_no_process_and_goes_on_where_it_was(tmp_path):
    paths = [little_event(tmp_path / "in" / f"e{n}", f"Open {n}") for n in range(EVENTS)]
    out = tmp_path / "out"
    killed = get_context("spawn").Process(target=plan_slowly, args=(paths, out))
    killed.start()
    until(lambda: done_in(out))
    children = offspring(killed.pid)
    killed.kill()
    killed.join()
    until_gone(children)
    before = done_in(out)
    assert before < EVENTS
    batch = plan_slowly(paths, out)
    assert batch.count(State.DONE, made=False) == before
    assert batch.count(State.DONE, made=True) == EVENTS - before
    assert sheets(out) == {f"e{n}/sheet.json": f"Open {n}".encode() for n in range(EVENTS)}
