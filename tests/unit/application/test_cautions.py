"""Every sheet warns where something can hurt, and sends the bowler to those who know."""

from __future__ import annotations

from nextpair.application.cautions import (
    HEAVY_BAGS,
    RELEASE_CHANGES,
    SANDING,
    STRINGS,
    cautions_for,
)
from nextpair.carry.strings import STRIKES_LOST_SHARE
from nextpair.domain.house import Pinfall


def test_pain_and_slipping_are_on_every_sheet():
    said = " ".join(cautions_for(balls=1, surface_work=False))
    for word in ("estimates", "doctor", "physiotherapist", "rules", "soles"):
        assert word in said
    assert SANDING not in said
    assert HEAVY_BAGS not in said


def test_sanding_is_warned_of_where_surfaces_change():
    assert SANDING in cautions_for(balls=1, surface_work=True)
    assert "rules allow" in SANDING


def test_heavy_bags_are_warned_of():
    assert HEAVY_BAGS in cautions_for(balls=6, surface_work=False)
    # Closed form: six balls of 15 lb, a pound being 0.45359237 kg by definition.
    assert f"{6 * 15 * 0.45359237:.0f} kg" in HEAVY_BAGS


def test_strings_are_warned_of_with_what_is_taken_off_and_what_is_not_known():
    assert STRINGS in cautions_for(1, False, Pinfall.STRING)
    assert STRINGS not in cautions_for(1, False)
    assert f"less {100 * STRIKES_LOST_SHARE:.0f} in 100" in STRINGS
    assert "spares" in STRINGS


def test_changes_of_release_are_warned_of():
    assert RELEASE_CHANGES in cautions_for(1, False, release_changes=True)
    assert RELEASE_CHANGES not in cautions_for(1, False)
    for word in ("small steps", "wrist", "elbow", "stop when something hurts"):
        assert word in RELEASE_CHANGES


def test_cautions_are_short():
    assert all(len(words) < 200 for words in cautions_for(6, True, Pinfall.STRING))
