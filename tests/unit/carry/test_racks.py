"""The run behind the tables: stops, goes on, joins, and tells what made it."""

from __future__ import annotations

import shutil
from importlib.resources import files

import numpy as np
import pytest

from nextpair.carry import racks
from nextpair.carry.hits import rack_hits
from nextpair.carry.racks import (
    KEPT,
    MODEL,
    compared,
    hits_of,
    joined_blocks,
    main,
    model_hash,
    rolled,
    settings_of,
)
from nextpair.carry.rolls import joined, load_rolls, save_rolls
from nextpair.scoring.leaves import parse_leave
from source_tree import ROOT


def test_the_kept_rolls_were_made_by_this_model():
    for kind in racks.KINDS:
        rolls, settings = load_rolls(ROOT / KEPT / f"{kind}.npz")
        assert settings["model_hash"] == model_hash()
        assert settings["rolls"] == len(rolls.standing)
    assert len(load_rolls(ROOT / KEPT / "racks.npz")[0].standing) >= 60_000


@pytest.mark.parametrize("kind", racks.KINDS)
def test_kept_rolls_are_the_designs_own_hits(kind):
    rolls, settings = load_rolls(ROOT / KEPT / f"{kind}.npz")
    hits = hits_of(kind, settings["leaves"])
    design = joined([hits(first, end - first) for first, end in settings["numbers"]])
    np.testing.assert_array_equal(rolls.spotted, design.spotted)
    for name in ("offset_boards", "angle_deg", "speed_mps", "ball_kg", "roll_share"):
        np.testing.assert_allclose(
            getattr(rolls, name), getattr(design, name), rtol=1e-6, atol=1e-6
        )


def test_all_rounds_of_spares_are_rolled_unless_told_otherwise(tmp_path, monkeypatch):
    rounds = [[(parse_leave("3-10"), 70)], [(parse_leave("7-10"), 30)]]
    nothing = rack_hits(0, 0)
    save_rolls(tmp_path / "spares.npz", nothing, {"leaves": rounds, "numbers": []})
    asked = []
    monkeypatch.setattr(racks, "roll_all", lambda _, count, *__, **___: asked.append(count))
    monkeypatch.setattr(racks, "joined_blocks", lambda *_: ([], nothing))
    main(["--racks=0", f"--kept={tmp_path}"])
    assert asked == [100]


def test_the_hash_changes_with_the_model_and_not_with_its_words(tmp_path, monkeypatch):
    for module in MODEL:
        shutil.copy(str(files("nextpair.carry") / module), tmp_path / module)
    monkeypatch.setattr(racks, "files", lambda _: tmp_path)
    before = model_hash()
    rack = tmp_path / "rack.py"
    text = rack.read_text("utf-8")
    rack.write_text(
        text.replace("One rack:", "A rack:").replace("SWEEP_S = 3.0", "SWEEP_S =  3.0")
    )
    assert model_hash() == before
    rack.write_text(text.replace("SWEEP_S = 3.0", "SWEEP_S = 2.5"))
    assert model_hash() != before


def test_a_run_stops_goes_on_and_tells_what_came_out_the_same(tmp_path, monkeypatch, capsys):
    """Real racks in blocks of two: one rolled before, half of one now, and its other half."""
    monkeypatch.setattr(racks, "BLOCK", 2)
    work, kept = tmp_path / "work", tmp_path / "kept"
    folder = work / model_hash() / "racks"
    folder.mkdir(parents=True)
    before = rolled(rack_hits(0, 2), 0, "racks")
    save_rolls(folder / "0000000.npz", before, {"first": 0})
    where = [f"--work={work}", f"--kept={kept}", "--cores=1", "--spares=0"]
    main(["--racks=3", "--keep", *where])
    rolls, settings = load_rolls(kept / "racks.npz")
    assert settings["numbers"] == [[0, 3]]
    np.testing.assert_array_equal(rolls.standing[:2], before.standing)
    main(["--racks=3", *where])
    assert "racks: 3 of 3 left what the kept rolls left" in capsys.readouterr().out
    main(["--racks=4", "--keep", *where])
    longer, settings = load_rolls(kept / "racks.npz")
    assert settings["numbers"] == [[0, 4]]
    np.testing.assert_array_equal(longer.standing[:3], rolls.standing)


def test_numbers_of_blocks_are_told_as_ranges():
    settings = settings_of("racks", [(0, 64), (64, 64), (192, 64)], [])
    assert settings["numbers"] == [(0, 128), (192, 256)]
    assert settings["rolls"] == 192


def test_rolls_are_compared_by_their_number(tmp_path):
    hits = rack_hits(0, 6)._replace(standing=np.arange(6, dtype=np.uint16))
    save_rolls(tmp_path / "racks.npz", hits, {"numbers": [(0, 2), (4, 8)]})
    later = rack_hits(0, 3)._replace(standing=np.array([1, 99, 3], np.uint16))
    said = compared("racks", [(1, 3)], later, tmp_path)
    assert said == "racks: 1 of 1 left what the kept rolls left"


@pytest.mark.parametrize("kind", racks.KINDS)
def test_blocks_are_joined_in_order(tmp_path, kind):
    folder = tmp_path / kind
    folder.mkdir()
    for first in (64, 0):
        part = rack_hits(first, 2)._replace(standing=np.array([first, 1], np.uint16))
        save_rolls(folder / f"{first:07d}.npz", part, {"first": first})
    blocks, rolls = joined_blocks(kind, tmp_path)
    assert blocks == [(0, 2), (64, 2)]
    assert rolls.standing.tolist() == [0, 1, 64, 1]
