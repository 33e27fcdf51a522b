"""Results that took a while, and the jobs that made them."""

from __future__ import annotations

from dataclasses import fields, replace
from uuid import uuid4

import pytest

from contracts.things import account, job, result
from nextpair.application.store import ComputedNote, NotKeptError


def test_the_newest_result_of_a_kind_is_the_one_in_use(store):
    me, event = account(store), uuid4()
    sheet = result(event, 5, games=[{"ball": "Ember"}])
    for made in (result(event, 1), sheet, result(event, 3), result(event, 9, kind="read")):
        store.keep_computed(me, made)
    assert store.computed(me, event, "sheet") == sheet
    assert store.computed_by_id(me, sheet.id) == sheet
    assert store.computed(me, event, "spares") is None
    assert store.computed(me, uuid4(), "sheet") is None


def test_notes_tell_of_the_newest_result_of_each_kind(store):
    me, event = account(store), uuid4()
    sheet, read = result(event, 5, games=[1]), result(event, 9, kind="read")
    for made in (result(event, 1), sheet, result(event, 3), read, result(uuid4(), 20)):
        store.keep_computed(me, made)
    notes = store.computed_notes(me, event)
    assert [note.id for note in notes] == [read.id, sheet.id]
    assert all(not hasattr(note, "document") for note in notes)
    assert all(
        getattr(notes[1], field.name) == getattr(sheet, field.name)
        for field in fields(ComputedNote)
    )
    assert store.computed_notes(me, uuid4()) == ()


def test_every_field_of_a_result_is_kept(store):
    me = account(store)
    made = replace(result(uuid4(), inputs_share=0.5), log_seq=12, seed=2**32 - 1)
    store.keep_computed(me, made)
    assert store.computed_by_id(me, made.id) == made


def test_older_results_make_room(store):
    me, event, other = account(store), uuid4(), uuid4()
    made = [result(event, minutes) for minutes in range(10)]
    kept_too = [result(event, 0, kind="read"), result(other, 0)]
    for one in [*kept_too, *made]:
        store.keep_computed(me, one)
    for one in [*kept_too, *made[-2:]]:
        assert store.computed_by_id(me, one.id) == one
    with pytest.raises(NotKeptError):
        store.computed_by_id(me, made[0].id)


def test_a_result_kept_twice_is_one_result(store):
    me, event = account(store), uuid4()
    earlier, made = result(event), result(event, 1)
    store.keep_computed(me, earlier)
    for _ in range(5):
        store.keep_computed(me, made)
    assert store.computed_by_id(me, earlier.id) == earlier


def test_a_job_is_kept_as_it_stands(store):
    me = account(store)
    waiting = job(me)
    store.keep_job(waiting)
    assert store.job(me, waiting.id) == waiting
    done = replace(waiting, state="done", label="games", done=8, total=8, result=uuid4())
    store.keep_job(done)
    assert store.job(me, waiting.id) == done
    failed = replace(done, state="failed", why="no ball", made_at=None, result=None)
    store.keep_job(failed)
    assert store.job(me, waiting.id) == failed


def test_jobs_are_told_by_state_oldest_first(store):
    me, other = account(store), account(store)
    jobs = [job(me, "waiting"), job(me, "running"), job(me, "done"), job(other, "waiting")]
    for one in jobs:
        store.keep_job(one)
    store.keep_job(replace(jobs[0], label="games"))
    waiting = (replace(jobs[0], label="games"), jobs[1])
    assert store.jobs(me, ["waiting", "running"]) == waiting
    assert store.jobs(None, ["waiting", "running"]) == (*waiting, jobs[3])
    assert store.jobs(me, []) == ()


def test_results_and_jobs_are_somebodys(store):
    nobody = uuid4()
    with pytest.raises(NotKeptError):
        store.keep_computed(nobody, result(uuid4()))
    with pytest.raises(NotKeptError):
        store.keep_job(job(nobody))
    with pytest.raises(NotKeptError):
        store.job(account(store), uuid4())
