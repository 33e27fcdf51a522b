"""The page at the lanes through everything that goes wrong in a bowling centre: no shot is lost,
none is kept twice.
"""

from __future__ import annotations

from playwright.sync_api import expect

from browser.lasting_profile import LastingProfile
from browser.phone_page import PhonePage, opened_phone, pocket_for
from browser.proxy import Fault, Proxy
from browser.tally import check_kept_once
from browser.visitors import NETWORK


def test_a_game_with_no_network_from_first_ball_to_last(visitors, own_server, pocket, event):
    """Browser offline, network dead, server killed; the page is loaded again, the
    tab closed and opened; once all is back everything comes home, once."""
    visitors.foresee(NETWORK)
    network = Proxy(own_server.port)
    phone = opened_phone(visitors, network, pocket, event)
    phone.context.set_offline(True)
    network.spoil(Fault.CUT)
    own_server.kill()
    phone.reload()
    phone.go("Log")
    phone.log_frames(4)
    phone.reload()
    phone.log_frames(3)
    phone.page.close()
    phone = PhonePage(phone.context, network.url)
    phone.go("Log")
    phone.log_frames(3)
    phone.log(10)
    phone.go("Score")
    expect(phone.page.get_by_role("main")).to_contain_text("190")
    written = phone.wait_for_rows(21, "unsent")
    own_server.start()
    network.mend()
    phone.context.set_offline(False)
    phone.wait_for_rows(21, "sent")
    for _ in range(3):
        phone.reload()
        phone.wait_for_rows(21, "sent")
    expect(phone.sent).to_have_text("all sent")
    check_kept_once(own_server, event, [row["jotting"] for row in written])
    network.close()


def test_answers_that_are_lost(visitors, server, network, pocket, event):
    visitors.foresee(NETWORK)
    phone = opened_phone(visitors, network, pocket, event)
    network.spoil(Fault.LOSE_ANSWER, "/sync", times=2)
    phone.log(10)
    phone.log()
    phone.log()
    rows = phone.wait_for_rows(3, "sent")
    assert network.met == 2
    check_kept_once(server, event, [row["jotting"] for row in rows])


def test_a_request_that_hangs(visitors, server, network, pocket, event):
    visitors.foresee(NETWORK)
    phone = opened_phone(visitors, network, pocket, event)
    network.spoil(Fault.HANG_AFTER, "/sync", times=1)
    phone.log(7, 10)
    phone.log(10)
    rows = phone.wait_for_rows(2, "sent")
    assert network.met == 1
    check_kept_once(server, event, [row["jotting"] for row in rows])


def test_two_tabs_log_and_send_together(visitors, server, network, pocket, event):
    visitors.foresee(NETWORK)
    one = opened_phone(visitors, network, pocket, event)
    network.spoil(Fault.CUT, "/sync")
    other = PhonePage(one.context, network.url)
    other.go("Log")
    for tab in (one, other) * 5:
        tab.log()
    network.mend()
    one.reload()
    other.reload()
    rows = one.wait_for_rows(10, "sent")
    assert [row["jotting"]["device_seq"] for row in rows] == list(range(1, 11))
    check_kept_once(server, event, [row["jotting"] for row in rows])


def test_a_guest_networks_sign_in_page(visitors, server, network, pocket, event):
    visitors.foresee(NETWORK)
    phone = opened_phone(visitors, network, pocket, event)
    for fault in (Fault.SIGN_IN_PAGE, Fault.SIGN_IN_REDIRECT):
        network.spoil(fault)
        phone.log(10)
        phone.log()
        phone.reload()
        phone.page.wait_for_timeout(500)
        assert network.met > 0
        assert {row["sent"] for row in phone.rows()} == {"unsent"}
    assert server.log(event) == []
    network.mend()
    phone.reload()
    rows = phone.wait_for_rows(4, "sent")
    check_kept_once(server, event, [row["jotting"] for row in rows])


def test_another_content_under_the_same_id_is_shown_and_changes_nothing(
    visitors, server, network, pocket, event
):
    visitors.foresee(NETWORK)
    phone = opened_phone(visitors, network, pocket, event)
    network.spoil(Fault.CUT, "/sync")
    phone.log(10)
    phone.log()
    first, second = (row["jotting"] for row in phone.rows())
    changed = second | {"payload": second["payload"] | {"lane": 2}}
    assert server.ask("/sync", {"jottings": [changed]})["receipts"][0]["answer"] == "stored"
    network.mend()
    phone.reload()
    phone.wait_for_states(["sent", "conflict"])
    expect(phone.sent).to_have_text("1 to look at")
    check_kept_once(server, event, [first, changed])


def test_a_browser_killed_right_after_the_taps(
    server, network, pocket, event, playing, chromium, tmp_path
):
    profile = LastingProfile(playing, chromium, tmp_path / "profile")
    phone = PhonePage(profile.open(), network.url)
    phone.open_pocket(pocket_for(pocket, event))
    phone.wait_until_kept()
    phone.go("Log")
    network.spoil(Fault.CUT)
    phone.log_frames(2)
    phone.main_button.click()
    expect(phone.last_shot).to_contain_text("strike")
    assert profile.kill() > 1
    again = PhonePage(profile.open(), network.url)
    again.wait_for_rows(5, "unsent")
    network.mend()
    again.reload()
    rows = again.wait_for_rows(5, "sent")
    check_kept_once(server, event, [row["jotting"] for row in rows])
    again.context.close()


def test_undo_writes_a_new_entry(visitors, server, network, pocket, event):
    phone = opened_phone(visitors, network, pocket, event)
    phone.log(10)
    phone.log()
    phone.button("Undo").click()
    rows = phone.wait_for_rows(3, "sent")
    assert rows[2]["jotting"]["kind"] == "void"
    assert rows[2]["jotting"]["supersedes"] == rows[1]["id"]
    expect(phone.last_shot).to_contain_text("10 stands")
    check_kept_once(server, event, [row["jotting"] for row in rows])


def test_clocks_that_jump(visitors, server, network, pocket, event):
    visitors.foresee(NETWORK)
    phone = opened_phone(visitors, network, pocket, event)
    network.spoil(Fault.CUT, "/sync")
    for time in ("2031-01-01T10:00:00", "1999-12-31T23:59:59", "2026-11-28T09:00:00"):
        phone.page.clock.set_fixed_time(time)
        phone.log(10)
        phone.log()
    network.mend()
    phone.reload()
    rows = phone.wait_for_rows(6, "sent")
    assert [row["jotting"]["payload"]["frame"] for row in rows] == [1, 1, 2, 2, 3, 3]
    check_kept_once(server, event, [row["jotting"] for row in rows])
