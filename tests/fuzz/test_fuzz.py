"""A few cases of every target, and proof that the judge sees each fault that there can be.

`make fuzz` runs them by the hundred thousand.
"""

from __future__ import annotations

import json
import time

import pytest

from fuzz import judge
from fuzz.cases import keep, kept, of_json, text_of
from fuzz.judge import FaultError, fault_of, first_fault, judged
from fuzz.runner import Tally, run_chunk, shares, table, targets, together
from nextpair.domain.errors import InputRefusedError, InvalidValueError, Problem

CASES, SEED = 10, 11


@pytest.mark.parametrize("name", sorted(targets()))
def test_damaged_input_is_taken_or_refused_in_order(name):
    tally = run_chunk((name, SEED, CASES))
    assert tally.faults == {}
    assert tally.cases >= CASES // 2


@pytest.mark.parametrize("name", sorted(targets()))
def test_the_same_seed_makes_the_same_cases(name):
    if targets()[name].weight < 4:
        pytest.skip("slow to run twice")
    one, other = (run_chunk((name, SEED, 3)) for _ in range(2))
    assert (one.cases, one.refused) == (other.cases, other.refused)


def _raises(error):
    def run(_case):
        raise error

    return run


@pytest.mark.parametrize(
    ("error", "fault"),
    [
        (KeyError("x"), "traceback: KeyError"),
        (RecursionError(), "traceback: RecursionError"),
        (FaultError("partial write: of a file"), "partial write"),
        (InvalidValueError("", 1, "2"), "refusal: a part is empty"),
        (InvalidValueError("key\nmore", 1, "2"), "line: control characters"),
        (InvalidValueError("key\x1b", 1, "2"), "line: control characters"),
        (InvalidValueError("key", 1, "2" * 5000), "line: 50"),
        (InputRefusedError(()), "refusal: without a problem"),
        (InputRefusedError((Problem("f", "", "1", "2"),)), "refusal: a part is empty"),
        (InputRefusedError((Problem("f", "p", "1\u2028", "2"),)), "line: control characters"),
    ],
)
def test_the_judge_sees_what_is_no_refusal(error, fault):
    assert judged(_raises(error), None).fault.startswith(fault)


def test_the_judge_passes_what_is_in_order():
    assert not judged(lambda _case: None, None).refused
    verdict = judged(_raises(InvalidValueError("key", 1, "2")), None)
    assert (verdict.refused, verdict.fault) == (True, "")
    assert fault_of(InputRefusedError((Problem("f", "p", "1", "2"),))) == ""
    assert first_fault("a line", "") == "line: empty"


def test_the_judge_sees_what_never_ends(monkeypatch):
    monkeypatch.setattr(judge, "STANDSTILL_S", 0.05)
    verdict = judged(lambda _case: time.sleep(5), None)
    assert verdict.fault.startswith("hang: nothing")


def test_the_judge_sees_what_works_for_too_long(monkeypatch):
    monkeypatch.setattr(judge, "HANG_S", 0.0)
    assert judged(lambda _case: sum(range(1000)), None).fault.startswith("hang: ")


def test_a_case_that_is_kept_is_the_same_again(tmp_path):
    case = [{"files": {"given": b"\xff\x00"}, "text": "\ud800", "many": 10**400}]
    path = keep(tmp_path, "score sheet", text_of(case), "fault")
    assert kept(path) == ("score sheet", case)
    assert of_json(json.loads(text_of(case))) == case


def test_every_target_gets_a_share_and_the_table_counts_all():
    parts = shares(5000)
    assert set(parts) == set(targets())
    assert sum(parts.values()) >= 5000
    tallies = together(iter([Tally("records", 3, 1, 0.5, 1, {"f": "{}"}), Tally("records", 2)]))
    assert table(tallies).splitlines()[-1].split() == ["together", "5", "1", "4", "500", "1"]
