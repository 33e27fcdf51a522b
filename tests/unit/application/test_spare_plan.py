"""Spares told: the mirror, what comes along, refusals, and the JSON they become."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache

import pytest

from nextpair.application.cautions import STRINGS
from nextpair.application.spare_plan import shoot_spares
from nextpair.domain.bowler import Hand
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.house import Pinfall
from nextpair.domain.lane import mirrored_board
from nextpair.domain.spare import SpareSheet, SpareShotCard
from nextpair.reports.sheet_json import render_spares_json
from nextpair.scoring.leaves import leave_text, mirrored_leave, parse_leave
from small_event import SEED, SPARE_BALL, mirror_image, small_event

EVENT = small_event()


@cache
def told(leave: str | None = None, hand: Hand = Hand.RIGHT) -> SpareSheet:
    event = EVENT if hand is Hand.RIGHT else mirror_image(EVENT)
    return shoot_spares(event, leave, SEED)


def in_a_mirror(leave: str) -> str:
    return leave_text(mirrored_leave(parse_leave(leave)))


def same_shot(here: SpareShotCard, there: SpareShotCard) -> None:
    """A right-hander's shot and a left-hander's are each other's mirror images."""
    assert there.ball == here.ball
    assert there.probability == pytest.approx(here.probability, abs=1e-6)
    for board in ("laydown_board", "slide_board", "target_board"):
        own = getattr(here.line, board)
        assert getattr(there.line, board) == pytest.approx(mirrored_board(own), abs=1e-3)
    assert there.pass_boards == pytest.approx([mirrored_board(b) for b in here.pass_boards])
    assert there.line.launch_angle_deg == pytest.approx(here.line.launch_angle_deg)
    assert [pins for pins, _ in there.leaves] == [in_a_mirror(pins) for pins, _ in here.leaves]


@pytest.mark.parametrize("leave", ["10", "3-6-10"])
def test_a_left_handers_shot_is_the_mirror_image(leave):
    here, there = told(leave), told(in_a_mirror(leave), Hand.LEFT)
    assert (here.hand, there.hand) == ("right", "left")
    card, image = here.spares[0], there.spares[0]
    assert (card.leave, image.leave) == (leave, in_a_mirror(leave))
    same_shot(card.best, image.best)
    assert card.runner_up is not None
    assert image.runner_up is not None
    same_shot(card.runner_up, image.runner_up)
    for system, mirrored in zip(card.systems, image.systems, strict=True):
        assert mirrored.start_move_boards == system.start_move_boards
        assert mirrored.probability == pytest.approx(system.probability, abs=1e-6)
        assert mirrored.why.replace("left", "right") == system.why.replace(
            "left", "right"
        ).replace("10 pin", "7 pin").replace("3 pin", "2 pin")


def test_without_a_leave_the_single_pins_and_the_commonest_are_told():
    sheet = told()
    leaves = [card.leave for card in sheet.spares]
    assert len(leaves) == len(set(leaves)) == 20
    assert {str(pin) for pin in range(1, 11)} < set(leaves)
    shares = [card.left_probability for card in sheet.spares]
    assert shares == sorted(shares, reverse=True)
    assert 0.4 < sum(shares) <= 1.0


@pytest.mark.parametrize(
    ("leave", "kind"),
    [("10", "single pin"), ("3-10", "split"), ("1-2-10", "washout"), ("3-6-10", "several pins")],
)
def test_a_leave_is_called_what_the_rule_book_calls_it(leave, kind):
    card = told(leave).spares[0]
    assert card.kind == kind
    assert bool(card.systems) == (kind in ("single pin", "several pins"))


def test_the_best_ball_is_no_worse_than_the_runner_up_and_the_spare_ball_is_told():
    card = told("7").spares[0]
    shots = [shot for shot in (card.best, card.runner_up, card.spare_ball) if shot]
    assert SPARE_BALL in {shot.ball for shot in shots}
    assert card.best.probability >= max(shot.probability for shot in shots) - 0.02
    assert card.runner_up is not None
    assert card.runner_up_loses_probability == pytest.approx(
        card.best.probability - card.runner_up.probability
    )


def test_one_ball_is_thrown_as_it_is_or_flat():
    card = shoot_spares(replace(EVENT, ball_limit=1), "10", SEED).spares[0]
    assert card.runner_up is not None
    assert card.best.ball == card.runner_up.ball
    assert {card.best.flat, card.runner_up.flat} == {True, False}
    assert card.best.role == "strike"
    assert card.spare_ball is None


def test_without_a_spare_ball_in_the_locker_strike_balls_shoot_spares():
    strong = tuple(ball for ball in EVENT.locker if ball.name == "Slate Weir")
    card = shoot_spares(replace(EVENT, locker=strong), "10", SEED).spares[0]
    assert (card.best.role, card.best.flat) == ("strike", True)
    assert card.best.probability > 0.5


def test_a_system_far_off_the_computed_line_is_explained():
    card = told("10").spares[0]
    assert [system.system for system in card.systems] == ["3-6-9", "3:1:2"]
    for system in card.systems:
        far = system.probability < card.best.probability - 0.1
        assert bool(system.why) == far
        assert not far or "10 pin" in system.why or "gutter" in system.why


def test_pins_on_strings_are_said():
    strings = replace(EVENT, house=replace(EVENT.house, pinfall=Pinfall.STRING))
    assert STRINGS in shoot_spares(strings, "10", SEED).cautions
    assert STRINGS not in told("10").cautions


@pytest.mark.parametrize("leave", ["", "11", "3_10", "3-3", "0"])
def test_what_is_no_leave_is_refused(leave):
    with pytest.raises(InvalidValueError, match="leave"):
        shoot_spares(EVENT, leave, SEED)


def test_json_says_leaves_with_their_probability():
    document = json.loads(render_spares_json(told("3-6-10")))
    card = document["spares"][0]
    assert card["leave"] == "3-6-10"
    assert {"pins", "probability"} == set(card["best"]["leaves"][0])
    assert document["strike_line"]["slide_board"] > document["strike_line"]["laydown_board"]
    assert card["best"]["probability"] == round(told("3-6-10").spares[0].best.probability, 4)
