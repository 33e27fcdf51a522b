"""Each check of `nextpair doctor`, well and not."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from nextpair.application import doctor
from nextpair.application.doctor import (
    Check,
    CopiesFound,
    FolderFound,
    StoreFound,
    Verdict,
    Versions,
)
from nextpair.application.self_test import SelfTest, self_test
from nextpair.kernel import roll as kernel
from small_event import small_event

NOW = datetime(2026, 11, 28, 12, tzinfo=UTC)
STORE = StoreFound("/home/s.sqlite3", False, True, True, 10**6, "0001", "ready", "", 5, 9, NOW)
FOLDER = FolderFound("/home", True, True, (), 10**11)
COPIES = CopiesFound(
    "/home/backups/s-00001-2026-11-27.sqlite3", NOW - timedelta(days=1), "nextpair restore x"
)
TEST = SelfTest(6, 0.001, 0.002, 250_000.0, 6000.0)


def verdicts(*checks: Check) -> list[Verdict]:
    assert all(check.found and "\n" not in check.found for check in checks)
    assert all(check.advice for check in checks if check.verdict is not Verdict.OK)
    return [check.verdict for check in checks]


def test_all_is_well():
    told = verdicts(
        doctor.check_versions(Versions("1", "m", "3.11", "Linux", "a CPU", 2, {"numpy": "2"})),
        doctor.check_store(STORE),
        doctor.check_backup(STORE, COPIES, NOW),
        doctor.check_folder(FOLDER),
        doctor.check_disk(FOLDER),
        doctor.check_clock(NOW, NOW - timedelta(days=9), NOW),
        doctor.check_cache("/cache", True, True, 1.0),
        doctor.check_kernel(TEST),
        doctor.check_speed(TEST),
        doctor.check_log("/log", True, 0),
        doctor.check_port(8707, True, False),
    )
    assert set(told) == {Verdict.OK}


@pytest.mark.parametrize(
    ("changes", "verdict", "words"),
    [
        ({"there": False}, Verdict.OK, "nothing is kept yet"),
        ({"trouble": "page 7 is malformed"}, Verdict.WRONG, "page 7 is malformed"),
        ({"trouble": "refused", "on_server": True}, Verdict.WRONG, "refused"),
        ({"state": "newer", "schema": "9999"}, Verdict.WRONG, "9999"),
        ({"state": "foreign"}, Verdict.WRONG, "no store of nextpair"),
        ({"state": "empty"}, Verdict.WRONG, "no store of nextpair"),
        ({"state": "empty", "on_server": True}, Verdict.OK, "empty database"),
        ({"writable": False}, Verdict.WRONG, "may not be written"),
        ({"state": "older"}, Verdict.LOOK, "older program"),
    ],
)
def test_a_store_that_is_otherwise(changes, verdict, words):
    check = doctor.check_store(replace(STORE, **changes))
    assert verdicts(check) == [verdict]
    assert words in check.found


def test_a_backup_that_is_missing_old_or_not_needed():
    old = replace(COPIES, made_at=NOW - timedelta(days=doctor.BACKUP_DAYS + 1))
    none = CopiesFound()
    assert verdicts(
        doctor.check_backup(STORE, none, NOW),
        doctor.check_backup(STORE, old, NOW),
        doctor.check_backup(replace(STORE, records=0, jottings=0), none, NOW),
        doctor.check_backup(replace(STORE, on_server=True), none, NOW),
    ) == [Verdict.LOOK, Verdict.LOOK, Verdict.OK, Verdict.OK]


def test_copies_that_are_damaged_and_one_that_is_needed():
    some = doctor.check_backup(STORE, replace(COPIES, unsound=2), NOW)
    all_ = doctor.check_backup(STORE, CopiesFound(unsound=3), NOW)
    needed = doctor.check_backup(replace(STORE, trouble="page 7 is malformed"), COPIES, NOW)
    assert verdicts(some, all_, needed) == [Verdict.LOOK] * 3
    assert "2 newer" in some.found
    assert "3 damaged" in all_.found
    assert needed.advice == COPIES.command


def test_a_folder_that_others_read_or_nobody_writes():
    open_ = doctor.check_folder(replace(FOLDER, open_to_others=(".", "nextpair.sqlite3")))
    assert verdicts(open_) == [Verdict.LOOK]
    assert "nextpair.sqlite3" in open_.found
    assert verdicts(
        doctor.check_folder(replace(FOLDER, writable=False)),
        doctor.check_folder(replace(FOLDER, there=False)),
    ) == [Verdict.WRONG, Verdict.OK]


def test_a_disk_that_fills_up():
    full, nearly = doctor.LEAST_FREE_BYTES - 1, doctor.ENOUGH_FREE_BYTES - 1
    unknown = doctor.check_disk(replace(FOLDER, free_bytes=None))
    assert unknown.verdict is Verdict.LOOK
    assert verdicts(
        *(doctor.check_disk(replace(FOLDER, free_bytes=free)) for free in (full, nearly))
    ) == [Verdict.WRONG, Verdict.LOOK]


def test_a_clock_before_what_was_kept_or_made():
    later = NOW + 2 * doctor.CLOCK_SLACK
    assert verdicts(
        doctor.check_clock(NOW, later, None),
        doctor.check_clock(NOW, NOW, later),
        doctor.check_clock(NOW, NOW, NOW + doctor.CLOCK_SLACK),
        doctor.check_clock(NOW, NOW, None),
    ) == [Verdict.WRONG, Verdict.LOOK, Verdict.OK, Verdict.OK]


def test_compiled_code_that_is_not_kept_or_slow_to_load():
    assert verdicts(
        doctor.check_cache("/tmp/nextpair-x", False, False, 20.0),
        doctor.check_cache("/cache", True, False, 20.0),
        doctor.check_cache("/cache", True, True, 20.0),
    ) == [Verdict.LOOK, Verdict.OK, Verdict.LOOK]


def test_numbers_that_disagree_are_our_fault_and_slowness_is_not():
    off = [
        replace(TEST, error_board_max=0.051),
        replace(TEST, error_deg_max=0.021),
        replace(TEST, error_board_max=float("nan")),
    ]
    assert verdicts(*map(doctor.check_kernel, off)) == [Verdict.FAULT] * 3
    slow = replace(TEST, ratio_to_oracle=doctor.SLOW_RATIO - 1)
    assert verdicts(doctor.check_speed(slow)) == [Verdict.LOOK]


def test_a_log_with_faults_or_without_a_place_and_a_port_that_is_taken():
    assert verdicts(
        doctor.check_log("/log", False, 0),
        doctor.check_log("/log", True, 3),
        doctor.check_port(8707, False, True),
        doctor.check_port(8707, False, False),
    ) == [Verdict.LOOK, Verdict.LOOK, Verdict.OK, Verdict.LOOK]


@pytest.mark.parametrize(
    ("found", "code"),
    [
        ([], 0),
        ([Verdict.OK, Verdict.LOOK], 0),
        ([Verdict.LOOK, Verdict.WRONG], 2),
        ([Verdict.WRONG, Verdict.FAULT], 1),
    ],
)
def test_the_exit_code_says_whose_it_is(found, code):
    assert doctor.exit_code([Check("x", verdict, "y", "z") for verdict in found]) == code


def test_the_kernel_agrees_with_the_oracle_here():
    """The oracle is SciPy's DOP853 on the equations of motion: another integrator, in time."""
    found = self_test(small_event(), 3)
    assert found.agrees
    assert 0 < found.error_board_max < doctor.LARGEST_BOARDS


def test_a_kernel_that_rolls_otherwise_is_found_out(monkeypatch):
    from nextpair.application import self_test as tests

    def rolled(lanes, bodies, shots):
        return kernel.roll(lanes, bodies, replace(shots, speed_mps=shots.speed_mps * 1.02))

    monkeypatch.setattr(tests, "roll", rolled)
    assert not self_test(small_event(), 3).agrees
