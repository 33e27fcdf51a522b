"""docs/guide/batch.md shows the figures that are kept beside its picture."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ET

import pytest
from tools.batch_picture import FIGURES, PICTURE, batch_figure

from source_tree import DOCS

KEPT = json.loads(FIGURES.read_text("utf-8"))
GUIDE = (DOCS / "guide" / "batch.md").read_text("utf-8")
STARTS = {"1 process": 1, "2 processes": 2, "Dask, 2 workers": 2}
"""Places of each crew."""


def test_the_picture_is_of_the_figures_beside_it():
    assert PICTURE.read_text("utf-8") == batch_figure(KEPT) + "\n"


def test_the_picture_tells_every_way_and_the_machine():
    told = " ".join(element.text or "" for element in ET.fromstring(batch_figure(KEPT)).iter())
    for name, way in KEPT["ways"].items():
        assert name in told
        assert f"{way['sheets_an_hour']:.0f} an hour" in told
        assert f"{way['sheet_cpu_s']:.2f} core-seconds" in told
    assert f"{KEPT['machine.cores']} cores" in told


def test_the_guides_words_are_those_of_the_figures():
    said = " ".join(GUIDE.split())
    share = {name: 100 * way["overhead_beside_the_sheets"] for name, way in KEPT["ways"].items()}
    assert "under half a percent" in said
    assert max(share["1 process"], share["2 processes"]) < 0.5
    assert "Dask between one and two" in said
    assert 1 < share["Dask, 2 workers"] < 2
    times = {name: f"{way['times_the_bare_loop']:.2f}" for name, way in KEPT["ways"].items()}
    assert f"Two processes make {times['2 processes']} times" in said
    assert f"Dask with two workers {times['Dask, 2 workers']} times" in said
    a_place_s = [KEPT["ways"][name]["start_cpu_s"] / places for name, places in STARTS.items()]
    assert "about two core-seconds" in said
    assert a_place_s[:2] == pytest.approx([2, 2], abs=0.5)
    assert "a worker of Dask with nearly three" in said
    assert 2.5 < a_place_s[2] < 3
