"""What stands of a log, by the cases that the phone is held to as well."""

from __future__ import annotations

import json
import random
from uuid import UUID

import pytest

from nextpair.application.journal import standing
from nextpair.domain.jotting import Jotting, JottingKind, Kept
from source_tree import ROOT

CASES = json.loads((ROOT / "tests" / "journal_cases.json").read_text("utf-8"))["cases"]
EVENT = UUID(int=1)


def id_of(letter: str) -> UUID:
    return UUID(int=ord(letter))


def kept(written: dict) -> Kept:
    supersedes = written.get("supersedes")
    jotting = Jotting(
        id=id_of(written["id"]),
        event=EVENT,
        device="phone",
        device_seq=written["seq"],
        kind=JottingKind(written["kind"]),
        payload={},
        supersedes=supersedes and id_of(supersedes),
    )
    return Kept(written["seq"], jotting)


def stands(log: list[Kept]) -> list[list[str]]:
    return [[chr(root.int), chr(jotting.id.int)] for root, jotting in standing(log)]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_what_stands_of_a_log(case):
    log = [kept(written) for written in case["log"]]
    assert stands(log) == case["stands"]
    random.Random(7).shuffle(log)
    assert stands(log) == case["stands"]
