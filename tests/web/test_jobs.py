"""Long jobs: watched while they run, stopped for good, and told truly whatever happens to them."""

from __future__ import annotations

import json
import os
import pickle
import signal
import subprocess
import sys
import time
from uuid import UUID, uuid4

import pytest

from nextpair.application.jobs import Jobs, Order
from nextpair.application.settings import Settings
from nextpair.application.store import Account, FullStoreError, Job
from nextpair.store.memory import MemoryStore
from nextpair.web.hands import NICENESS, Hands
from served import client_of, home_at
from working_hands import LONG_STEPS, broken, is_alive, needs_proc, refusing, steady

pytestmark = pytest.mark.skipif(not needs_proc, reason="looks at processes as Linux shows them")
API = "/api/v1"
SOON_S = 20.0


@pytest.fixture(scope="module")
def served():
    home = home_at(hands=Hands(Settings(threads=1), steady))
    with client_of(home) as client:
        event = client.post(f"{API}/demo").json()["event"]["id"]
        yield home, client, f"{API}/events/{event}/jobs"


def order(client, path, steps=0):
    made = client.post(path, json={"kind": "sheet", "seed": steps})
    assert made.status_code == 202
    return made.json()["id"]


def over(client, job):
    return eventually(
        lambda: (
            (one := client.get(f"{API}/jobs/{job}").json())["state"] not in ("waiting", "running")
            and one
        )
    )


def running(client, job):
    return eventually(
        lambda: (one := client.get(f"{API}/jobs/{job}").json())["label"] == "stepping" and one
    )


def eventually(look):
    until_s = time.monotonic() + SOON_S
    while time.monotonic() < until_s:
        if found := look():
            return found
        time.sleep(0.02)
    raise AssertionError("it never came")


def test_a_job_is_watched_step_by_step_and_its_result_is_kept(served):
    home, client, path = served
    job = order(client, path, 4)
    with client.stream("GET", f"{API}/jobs/{job}/progress") as stream:
        assert stream.headers["Content-Type"].startswith("text/event-stream")
        lines = list(stream.iter_lines())
    told = [json.loads(line.removeprefix("data: ")) for line in lines if line.startswith("data")]
    assert {line for line in lines if line.startswith("event")} == {"event: job"}
    assert told[-1]["state"] == "done"
    assert any(one["label"] == "stepping" and one["total"] == 4 for one in told)
    kept = home.store.computed_by_id(home.owner.id, UUID(told[-1]["result"]))
    assert kept.document["process"] == home.hands.process_id != os.getpid()
    assert kept.document["niceness"] == min(os.nice(0) + NICENESS, 19)


def test_a_second_order_of_the_same_is_the_same_job(served):
    _, client, path = served
    first, second, other = (order(client, path, steps) for steps in (40, 40, 41))
    assert first == second != other
    active = client.get(f"{API}/jobs?active=true").json()["items"]
    assert {one["id"] for one in active} == {first, other}
    for job in (other, first):
        assert client.delete(f"{API}/jobs/{job}").json()["state"] == "cancelled"
    assert client.get(f"{API}/jobs?active=true").json()["items"] == []


def test_a_job_that_is_cancelled_stops_the_process_for_good(served):
    home, client, path = served
    job = order(client, path, LONG_STEPS)
    running(client, job)
    process = home.hands.process_id
    assert client.delete(f"{API}/jobs/{job}").json()["state"] == "cancelled"
    assert not is_alive(process)
    assert over(client, order(client, path, 1))["state"] == "done"


def test_a_job_is_cancelled_before_its_process_has_said_anything(served):
    home, client, path = served
    home.hands.stop()
    job = order(client, path, LONG_STEPS)
    assert client.delete(f"{API}/jobs/{job}").json()["state"] == "cancelled"
    assert over(client, order(client, path, 1))["state"] == "done"


def test_a_job_that_is_over_stays_as_it_ended(served):
    _, client, path = served
    job = order(client, path, 0)
    over(client, job)
    assert client.delete(f"{API}/jobs/{job}").json()["state"] == "done"


def test_a_process_that_dies_fails_its_job_and_not_the_next_one(served):
    home, client, path = served
    job = order(client, path, LONG_STEPS)
    running(client, job)
    os.kill(home.hands.process_id, signal.SIGKILL)
    ended = over(client, job)
    assert ended["state"] == "failed"
    assert "ended" in ended["why"]
    assert over(client, order(client, path, 2))["state"] == "done"


def test_a_server_that_stops_interrupts_its_job_and_leaves_no_process():
    home = home_at(hands=Hands(Settings(threads=1), steady))
    with client_of(home) as client:
        event = client.post(f"{API}/demo").json()["event"]["id"]
        path = f"{API}/events/{event}/jobs"
        jobs = [order(client, path, LONG_STEPS), order(client, path, LONG_STEPS + 1)]
        running(client, jobs[0])
        process = home.hands.process_id
    assert not is_alive(process)
    states = {str(job.id): job.state for job in home.store.jobs(home.owner.id, ("interrupted",))}
    assert states == dict.fromkeys(jobs, "interrupted")


def test_what_an_earlier_run_left_unfinished_is_told_as_interrupted():
    store, account = MemoryStore(), Account(uuid4(), "home", None)
    store.add_account(account)
    left = [Job(uuid4(), account.id, "sheet", uuid4(), state) for state in ("waiting", "running")]
    for job in left:
        store.keep_job(job)
    jobs = Jobs(store, Hands(Settings(threads=1), steady))
    jobs.open()
    try:
        assert [jobs.job(account, job.id).state for job in left] == ["interrupted"] * 2
    finally:
        jobs.close()


@pytest.mark.parametrize(
    ("work", "words"),
    [(refusing, "seed: found 3, allowed: another one"), (broken, "a fault of ours: RuntimeError")],
)
def test_a_job_that_cannot_be_done_says_why_and_nothing_private(work, words):
    home = home_at(hands=Hands(Settings(threads=1), work))
    with client_of(home) as client:
        event = client.post(f"{API}/demo").json()["event"]["id"]
        ended = over(client, order(client, f"{API}/events/{event}/jobs", 3))
    assert (ended["state"], ended["why"]) == ("failed", words)


def test_the_process_ends_with_a_server_that_is_killed(tmp_path, served):
    home, _, path = served
    event = path.split("/")[-2]
    bundle = home.events.at_hand(home.owner.id, UUID(event)).bundle
    kept = tmp_path / "order"
    kept.write_bytes(pickle.dumps(Order("sheet", uuid4(), bundle, LONG_STEPS)))
    program = (
        "import pickle, pathlib, working_hands as w\n"
        "if __name__ == '__main__':\n"
        f"    folder = pathlib.Path({str(tmp_path)!r})\n"
        "    w.hold(folder, pickle.loads((folder / 'order').read_bytes()))\n"
    )
    script = tmp_path / "server.py"
    script.write_text(program)
    environment = os.environ | {"PYTHONPATH": os.pathsep.join(sys.path)}
    with subprocess.Popen([sys.executable, str(script)], env=environment) as server:
        told = tmp_path / "process"
        eventually(lambda: told.exists() and told.read_text())
        process = int(told.read_text())
        assert is_alive(process)
        server.kill()
    eventually(lambda: not is_alive(process))


def test_a_store_that_fails_keeps_no_job_from_its_end():
    home = home_at(hands=Hands(Settings(threads=1), steady))
    keep = home.store.keep_job
    full = False

    def keep_job(job):
        if full and job.state != "waiting":
            raise FullStoreError("store", "disk", "room")
        keep(job)

    home.store.keep_job = keep_job
    with client_of(home) as client:
        event = client.post(f"{API}/demo").json()["event"]["id"]
        path, full = f"{API}/events/{event}/jobs", True
        first = order(client, path, 4)
        assert over(client, first)["state"] == "done"
        active = client.get(f"{API}/jobs?active=true").json()["items"]
        assert active == []
        full = False
        assert over(client, order(client, path, 5))["state"] == "done"
