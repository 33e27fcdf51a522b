"""A server that is killed: under a phone that sends, and under a job."""

from __future__ import annotations

import os
import random
import signal
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from contracts.things import shot
from faults.doings import EVENT, STORE
from faults.serving import send, served
from nextpair.store.copies import copies_of, damage

KILLS = 3
GONE_WITHIN_S = 20.0


def test_a_phone_that_sends_through_kills_of_its_server_has_each_shot_kept_once(folder):
    rng = random.Random(7)
    waiting = [shot(EVENT, number) for number in range(1, 601)]
    written, sent = list(waiting), []
    with served(folder) as server, ThreadPoolExecutor(1) as phone:
        for _ in range(KILLS):
            sending = phone.submit(send_until_it_fails, server, waiting)
            time.sleep(rng.uniform(0.02, 0.3))
            server.kill()
            gone = sending.result()
            sent += gone
            waiting = [one for one in waiting if str(one.id) not in set(gone)]
            server.start()
            here = {item["jotting"]["id"] for item in server.log(EVENT)}
            assert set(sent) <= here, "acknowledged and lost"
        send_until_it_fails(server, waiting)
        log = server.log(EVENT)
    assert sorted(item["jotting"]["id"] for item in log) == sorted(str(one.id) for one in written)
    assert [item["seq"] for item in log] == list(range(1, 601))
    assert len(copies_of(folder / STORE)) == 1


def send_until_it_fails(server, jottings) -> list[str]:
    """Send five at a time; the ids that the server named before it went."""
    named = []
    for start in range(0, len(jottings), 5):
        try:
            named += [one["id"] for one in send(server, jottings[start : start + 5])]
        except OSError:
            break
    return named


def test_a_server_killed_under_a_job_leaves_no_process_and_says_that_it_was_interrupted(tmp_path):
    with served(tmp_path) as server:
        event = server.ask("/demo", {})["event"]["id"]
        job = server.ask(f"/events/{event}/jobs", {"kind": "sheet"})
        ends_s = time.monotonic() + GONE_WITHIN_S
        while job["state"] == "waiting" and time.monotonic() < ends_s:
            job = server.ask(f"/jobs/{job['id']}")
        assert job["state"] == "running"
        process = server._process.pid
        hands = children(process)
        os.kill(process, signal.SIGKILL)
        server._process.wait()
        ends_s = time.monotonic() + GONE_WITHIN_S
        while any(map(runs, hands)) and time.monotonic() < ends_s:
            time.sleep(0.1)
        assert [one for one in hands if runs(one)] == []
        server.start()
        told = server.ask(f"/jobs/{job['id']}")
        assert (told["state"], told["why"]) == ("interrupted", "the program stopped")
        assert server.ask(f"/events/{event}/summary")["sheet"] is None
    assert damage(tmp_path / STORE) is None


def children(process: int) -> list[int]:
    """Processes that another one started."""
    told = Path(f"/proc/{process}/task/{process}/children")
    threads = told.parent.parent.glob("*/children")
    return [int(id) for one in threads for id in one.read_text().split()]


def runs(process: int) -> bool:
    """Whether a process is there and not just waiting to be noticed."""
    try:
        state = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[0]
    except OSError:
        return False
    return state != "Z"
