"""What is told of turns, by turns whose figures are plain."""

from __future__ import annotations

import pytest

pytest.importorskip("psutil", reason="comes with Dask")

from benchmarks.batched import BARE, Turn, told_of

ITEMS = 4


def test_overhead_is_what_a_crew_takes_beside_its_sheets_more_than_the_bare_loop():
    bare = Turn(wall_s=10.0, cpu_s=8.1, sheets_cpu_s=8.0, sheets_wall_s=9.9)
    two = Turn(wall_s=5.0, cpu_s=8.5, sheets_cpu_s=8.0, sheets_wall_s=9.0)
    turns = {BARE: [bare] * 3, "2 processes": [two] * 3}
    told = told_of(turns, "2 processes", ITEMS, {"wall_s": 3.0, "cpu_s": 4.0})
    assert told["sheets_an_hour"] == pytest.approx(3600 * 4 / 5)
    assert told["times_the_bare_loop"] == pytest.approx(2)
    assert told["overhead_beside_the_sheets"] == pytest.approx((0.5 - 0.1) / 8)
    assert told["overhead_to_the_bare_loop"] == pytest.approx(8.5 / 8.1 - 1)
    assert told["waiting_share"] == pytest.approx(1 - 9 / 10)
    assert told["start_cpu_s"] == 4.0
