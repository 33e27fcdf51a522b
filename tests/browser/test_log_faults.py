"""No jotting is lost and none is kept twice, whatever happens to network, server and clock.

The device here is `jotter.Jotter`, which has nothing of the page in it; the server is the program
itself, in a process of its own, behind a network that fails.
"""

from __future__ import annotations

import random
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from itertools import cycle, islice

import pytest

from browser.jotter import Jotter, shots
from browser.proxy import Fault, Proxy
from browser.tally import check_kept_once, kept_ids

KILLS = 6
SHOTS_A_KILL = 30


def jot_game(jotter: Jotter, many: int) -> None:
    """Write so many shots down."""
    for payload in islice(shots(1), many):
        jotter.jot(payload)


@pytest.mark.parametrize("batch", [1, 7, 500])
def test_answers_that_are_lost_double_nothing(server, network, event, batch):
    jotter = Jotter(network.url, event, seed=1)
    jot_game(jotter, 60)
    network.spoil(Fault.LOSE_ANSWER, "/sync", times=5)
    jotter.send_all(batch)
    assert network.met == 5
    assert jotter.failed_sends == 5
    check_kept_once(server, event, jotter.jottings)


@pytest.mark.parametrize("fault", [Fault.HANG, Fault.HANG_AFTER])
def test_a_request_that_hangs_is_given_up_and_sent_again(server, network, event, fault):
    jotter = Jotter(network.url, event, seed=2, patience_s=0.3)
    jot_game(jotter, 40)
    network.spoil(fault, "/sync", times=3)
    jotter.send_all(13)
    assert jotter.failed_sends >= 3
    check_kept_once(server, event, jotter.jottings)


@pytest.mark.parametrize("fault", [Fault.SIGN_IN_PAGE, Fault.SIGN_IN_REDIRECT])
def test_a_guest_networks_page_is_no_answer(server, network, event, fault):
    jotter = Jotter(network.url, event, seed=3)
    jot_game(jotter, 10)
    network.spoil(fault)
    assert not jotter.send()
    assert len(jotter.unsent) == 10
    assert kept_ids(server, event) == []
    network.mend()
    jotter.send_all()
    check_kept_once(server, event, jotter.jottings)


def test_a_network_that_fails_at_random_loses_and_doubles_nothing(server, network, event):
    chance = random.Random(11)
    faults = [Fault.NONE, Fault.CUT, Fault.LOSE_ANSWER, Fault.HANG_AFTER, Fault.SIGN_IN_PAGE]
    jotter = Jotter(network.url, event, seed=4, patience_s=0.1)
    for payload in islice(shots(1), 200):
        jotter.jot(payload)
        if chance.random() < 0.3:
            network.spoil(chance.choice(faults))
        jotter.send(most=chance.randint(1, 30))
    network.mend()
    jotter.send_all()
    assert jotter.failed_sends > 20
    check_kept_once(server, event, jotter.jottings)


def test_clocks_that_jump_change_neither_order_nor_number(server, network, event):
    jotter = Jotter(network.url, event, seed=5)
    jumps_s = [0.0, -86_400.0, 3600.0, -40 * 365 * 86_400.0, 900.0, -1.0]
    for payload, jump_s in zip(islice(shots(1), 60), cycle(jumps_s), strict=False):
        jotter.ahead_s = jump_s
        jotter.jot(payload)
    network.spoil(Fault.LOSE_ANSWER, "/sync", times=2)
    jotter.send_all(7)
    check_kept_once(server, event, jotter.jottings)
    assert kept_ids(server, event) == [one["id"] for one in jotter.jottings]


def test_two_devices_with_the_same_jottings_in_overlapping_batches(server, network, event):
    """A log that came home by file is sent by both phone and laptop, at the same time."""
    phone = Jotter(network.url, event, seed=6)
    jot_game(phone, 120)
    laptop = Jotter(network.url, event, seed=7)
    laptop.jottings = phone.jottings[::-1]
    network.spoil(Fault.LOSE_ANSWER, "/sync", times=6)
    with ThreadPoolExecutor() as pool:
        sending = [pool.submit(phone.send_all, 9), pool.submit(laptop.send_all, 13)]
    for sent in sending:
        sent.result()
    assert not phone.unsent
    assert not laptop.unsent
    check_kept_once(server, event, phone.jottings)


def test_four_devices_at_once(server, network, event):
    jotters = [Jotter(network.url, event, seed=20 + index) for index in range(4)]
    for jotter in jotters:
        jot_game(jotter, 50)
    with ThreadPoolExecutor() as pool:
        sending = [pool.submit(jotter.send_all, 3 + at) for at, jotter in enumerate(jotters)]
    for sent in sending:
        sent.result()
    check_kept_once(server, event, [one for jotter in jotters for one in jotter.jottings])


def test_another_content_under_a_known_id_changes_nothing(server, network, event):
    jotter = Jotter(network.url, event, seed=8)
    jot_game(jotter, 3)
    jotter.send_all()
    changed = jotter.jottings[1] | {"payload": jotter.jottings[1]["payload"] | {"lane": 29}}
    fresh = Jotter(network.url, event, seed=9)
    fresh.jottings = [changed]
    fresh.send()
    assert fresh.trouble == {changed["id"]: "conflict"}
    check_kept_once(server, event, jotter.jottings)


def test_a_server_killed_in_the_middle_of_syncs_loses_and_doubles_nothing(own_server, event):
    """SIGKILL while batches come in, again and again; the device never stops writing."""
    chance = random.Random(17)
    server = own_server
    network = Proxy(server.port)
    jotter = Jotter(network.url, event, seed=10, patience_s=2.0)
    ended = threading.Event()

    def keep_sending() -> None:
        for payload in shots(1):
            if ended.is_set():
                return
            jotter.jot(payload)
            if not jotter.send(most=40):
                time.sleep(0.02)

    with ThreadPoolExecutor() as pool:
        sending = pool.submit(keep_sending)
        try:
            for _ in range(KILLS):
                wanted = len(jotter.sent) + SHOTS_A_KILL
                while len(jotter.sent) < wanted and sending.running():
                    time.sleep(0.005)
                time.sleep(chance.uniform(0.0, 0.03))
                server.kill()
                acknowledged = set(jotter.sent)
                server.start()
                assert acknowledged <= set(kept_ids(server, event))
        finally:
            ended.set()
    sending.result()
    jotter.send_all()
    assert jotter.failed_sends >= KILLS
    assert len(jotter.jottings) >= KILLS * SHOTS_A_KILL
    check_kept_once(server, event, jotter.jottings)
    network.close()
