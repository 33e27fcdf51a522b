"""A ball and the pins of a rack against two-body collisions and impulses in the plane.

Expected numbers, with their sources, are in data/carry.toml.
"""

from __future__ import annotations

import pytest

from nextpair.carry.contacts import Contacts
from nextpair.carry.rack import Hit, Rack
from nextpair.domain.lane import CENTRE_BOARD
from nextpair.domain.units import MPH_MPS, POUND_KG
from nextpair.scoring.leaves import parse_leave
from reference.rack_probe import (
    DiscRack,
    heading_after_head_pin_deg,
    restitution,
    way_of_ball_alone,
)
from reference.record import load_entry

FACTS = "carry"
SPEED_MPS, BALL_KG = 17.0 * MPH_MPS, 15.0 * POUND_KG


def disc_rack(ball_pin_restitution: float) -> DiscRack:
    """A rack whose ball rubs on nothing and whose pins move as discs do."""
    return DiscRack(
        Contacts(
            ball_pin_restitution=ball_pin_restitution,
            ball_pin_friction=0.0,
            ball_deck_friction=0.0,
        )
    )


def test_a_pin_bounces_off_the_ball_as_the_rules_allow(record):
    rack, entry = Rack(), load_entry(FACTS, "ball_restitution")
    found = [
        restitution(rack, Hit(offset, angle_deg, SPEED_MPS, BALL_KG))
        for offset in entry["offsets_boards"]
        for angle_deg in (0.0, 6.0)
    ]
    record.published(FACTS, "ball_restitution", least=min(found), most=max(found))


def test_the_head_pin_turns_the_ball_as_two_bodies_do(record):
    entry = load_entry(FACTS, "deflection")
    rack = disc_rack(entry["restitution"])
    assert entry["pin_lb"] * POUND_KG == pytest.approx(rack.model.body_mass[2])
    headings = {
        name: [
            heading_after_head_pin_deg(
                rack, Hit(CENTRE_BOARD - board, angle_deg, SPEED_MPS, BALL_KG)
            )
            for angle_deg in entry["entry_deg"]
        ]
        for name, board in (
            ("out_of_17_deg", 17.0),
            ("out_of_17_half_deg", 17.5),
            ("out_of_18_deg", 18.0),
        )
    }
    record.published(FACTS, "deflection", **headings)


def test_the_ball_alone_leaves_the_deck_where_impulses_say(record):
    entry = load_entry(FACTS, "deck_exit")
    rack = disc_rack(0.70)
    ways = [
        way_of_ball_alone(
            rack, Hit(offset, angle_deg, entry["speed_mps"], BALL_KG), entry["pin_kg"]
        )
        for angle_deg, offset in entry["shots"]
    ]
    assert {touched for touched, _ in ways} == {parse_leave(entry["touched"])}
    record.published(FACTS, "deck_exit", exit_board=[board for _, board in ways])
