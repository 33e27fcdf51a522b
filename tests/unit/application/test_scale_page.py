"""docs/scale.md: every number in it comes from its inputs."""

from __future__ import annotations

import math
import re

import pytest

from source_tree import DOCS

PAGE = (DOCS / "scale.md").read_text("utf-8")
ROW = re.compile(r"^\| `(\w+)` \| ([\d.]+) \|", re.MULTILINE)
BREAKS = re.compile(r"`(\w+)` = ([\d.]+)")
TOLD = dict((*ROW.findall(PAGE), *BREAKS.findall(PAGE)))
GIVEN = {name: float(value) for name, value in ROW.findall(PAGE.partition("## What comes out")[0])}
HOUR_S, YEAR_S, GB = 3600, 365 * 86400, 1e9
CONNECTIONS_ALLOWED = 100
"""max_connections of PostgreSQL as it comes: its manual, chapter 20.3."""


def erlang_c(cores: int, erlangs: float) -> float:
    """The share that waits, as the formula is written: by sums of a^k / k!."""
    terms = [erlangs**k / math.factorial(k) for k in range(cores)]
    last = erlangs**cores / math.factorial(cores) * cores / (cores - erlangs)
    return last / (sum(terms) + last)


def reckoned() -> dict[str, float]:
    """Every figure of the page by its name."""
    g = GIVEN
    quick_s = g["sheets_an_event"] * g["sheet_s"] + g["pockets_an_event"] * g["pocket_s"]
    orders = g["sheets_an_event"] + g["pockets_an_event"]
    event_s = quick_s + g["reads_an_event"] * g["read_s"] + g["debrief_s"]
    events = g["athletes"] * g["events_a_season"]
    weekend = events * g["weekend_share"]
    erlangs = weekend * g["hour_share"] * quick_s / HOUR_S
    mean_s = quick_s / orders

    def longer(cores: int) -> float:
        waited = math.exp(-(cores - erlangs) * g["longest_wait_s"] / mean_s)
        return erlang_c(cores, erlangs) * waited

    first = math.floor(erlangs) + 1
    cores = next(c for c in range(first, 2 * first) if longer(c) <= g["waits_longer"])
    syncs = weekend * g["at_once_share"] / g["sync_every_s"]
    by_one = g["syncs_a_second"] / 2
    processes = math.ceil(syncs / by_one)
    syncs_an_athlete = syncs / g["athletes"]
    processes_allowed = CONNECTIONS_ALLOWED // g["connections_a_process"]
    weekend_an_athlete = g["events_a_season"] * g["weekend_share"]
    rows_gb = g["athletes"] * g["season_bytes"] / GB
    results_gb = events * g["result_bytes_an_event"] / GB
    return {
        "event_s": event_s,
        "season_core_h": events * event_s / HOUR_S,
        "mean_cores": events * event_s / YEAR_S,
        "weekend_events": weekend,
        "erlangs": erlangs,
        "cores": cores,
        "longer_share": longer(cores),
        "syncs_at_once": syncs,
        "server_processes": processes,
        "connections": processes * g["connections_a_process"],
        "jottings": g["athletes"] * g["jottings_a_season"],
        "season_gb": rows_gb,
        "results_gb": results_gb,
        "results_3_gb": 3 * results_gb,
        "first_athletes": g["busy"] * HOUR_S / (g["hour_share"] * quick_s * weekend_an_athlete),
        "sync_athletes": by_one / syncs_an_athlete,
        "pool_athletes": processes_allowed * by_one / syncs_an_athlete,
    }


def half_a_last_digit(text: str) -> float:
    """How far a number may be from what is printed of it: trailing noughts of whole ones are
    rounding, too."""
    if "." in text:
        return 0.5 * 10.0 ** -len(text.partition(".")[2])
    return 0.5 * 10.0 ** (len(text) - len(text.rstrip("0")))


@pytest.mark.parametrize("name", sorted(set(TOLD) - set(GIVEN)))
def test_a_figure_of_the_page_comes_from_its_inputs(name):
    assert reckoned()[name] == pytest.approx(float(TOLD[name]), abs=half_a_last_digit(TOLD[name]))


def test_every_figure_is_on_the_page():
    assert set(reckoned()) == set(TOLD) - set(GIVEN)


def test_numbers_in_the_text_come_from_it_too():
    found = reckoned()
    assert f"{found['season_gb'] / 64:.1f} GB of rows a season each" in PAGE
    assert f"{int(HOUR_S / GIVEN['sheet_s'] + 0.5)} sheets an hour" in PAGE
    assert round(found["results_gb"] / found["season_gb"]) == 5
    assert "five times the rows of a season" in PAGE


def test_erlangs_formula_is_that_of_one_server_and_of_none_waiting():
    """One server is busy for a share a of its time, and so many wait: M/M/1 in closed form."""
    assert erlang_c(1, 0.3) == pytest.approx(0.3)
    assert erlang_c(100, 1.0) < 1e-100
