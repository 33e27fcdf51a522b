"""Making leaves: what was rolled, smoothed; geometry for one pin; mirrors; the file."""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.carry.leave_paths import offset_of_place, touches
from nextpair.carry.racks import model_hash
from nextpair.carry.rolls import Rolls, joined
from nextpair.carry.spares import (
    RolledLeave,
    SinglePin,
    Width,
    best_width,
    leave_odds,
    load_spares,
    sampling_error,
    shipped_spares,
    spare_book,
    write_spares,
)
from nextpair.carry.table import load_table
from nextpair.domain.errors import InvalidValueError
from nextpair.scoring.leaves import FULL_RACK, mirrored_leave, parse_leave, pin_count

SOME_LEAVES = ("2-8", "3-10", "1-2-10", "2-4-5-8", "6-7-10", "3-6-10", "4-6-7-10")
PLACES = np.arange(-12.0, 12.0, 0.5)
WIDTH = Width(0.4, 1.5)


def rolls_at(leave: str, place, angle_deg, standing) -> Rolls:
    """Rolls made up for a test."""
    mask = parse_leave(leave)
    place, angle = np.broadcast_arrays(np.asarray(place, float), np.asarray(angle_deg, float))
    unused = np.zeros(len(place))
    return Rolls(
        offset_of_place(mask, place, angle), angle.copy(), unused, unused, unused, unused,
        np.full(len(place), mask, np.uint16), np.asarray(standing, np.uint16), unused,
    )  # fmt: skip


def made_up_rolls(leave: str, count: int = 4000, seed: int = 1) -> Rolls:
    """A leave that is made within a board of its middle, and else stays."""
    rng = np.random.default_rng(seed)
    place = rng.uniform(-6.0, 6.0, count)
    standing = np.where(np.abs(place) < 1.0, 0, parse_leave(leave))
    return rolls_at(leave, place, rng.uniform(-3.0, 8.0, count), standing)


def test_a_smoothed_chance_is_what_was_rolled_there():
    odds = spare_book(made_up_rolls("2-8"), WIDTH, {}).of(parse_leave("2-8"))
    middle = offset_of_place(odds.leave, np.array([0.0, 4.0]), 2.0)
    assert odds.made(middle, 2.0) == pytest.approx([1.0, 0.0], abs=0.03)
    at_the_border = offset_of_place(odds.leave, np.array([-1.0, 1.0]), 2.0)
    assert odds.made(at_the_border, 2.0) == pytest.approx([0.5, 0.5], abs=0.15)


def test_smoothing_blurs_a_step_as_a_normal_distribution_does():
    # Rolls so dense that sampling plays no part: a step at 0 blurred by 0.4 boards. Linear reading
    # between nodes h = 0.25 boards apart is off by h^2 / 8 times the curvature, 0.012 at most.
    place = np.linspace(-6, 6, 20_001)
    rolls = rolls_at("2-8", place, 2.0, np.where(place < 0, 0, parse_leave("8")))
    odds = spare_book(rolls, WIDTH, {}).of(parse_leave("2-8"))
    seen = odds.made(offset_of_place(odds.leave, np.array([-0.4, 0.0, 0.4]), 2.0), 2.0)
    assert seen == pytest.approx([0.841345, 0.5, 0.158655], abs=0.013)


@pytest.mark.parametrize("leave", SOME_LEAVES)
def test_outcomes_add_up_and_hold_made_and_pins_taken(leave):
    odds = leave_odds(parse_leave(leave))
    offset, angle = np.meshgrid(np.arange(-18.0, 18.5, 0.75), [-3.0, 0.0, 2.5, 8.0])
    left = odds.left(offset, angle)
    assert left.shape == (*offset.shape, len(odds.outcomes))
    assert left.sum(axis=-1) == pytest.approx(np.ones(offset.shape))
    assert np.all(left >= -1e-9)
    main = odds.made_and_taken(offset, angle)
    taken = [pin_count(odds.leave) - pin_count(outcome) for outcome in odds.outcomes]
    assert main[..., 0] == pytest.approx(left[..., 0])
    assert main[..., 1] == pytest.approx(left @ np.array(taken))


def test_a_ball_that_touches_nothing_or_never_comes_leaves_what_stood():
    odds = leave_odds(parse_leave("3-6-10"))
    lost = np.array([-15.0, np.nan])
    assert odds.made(lost, 1.0) == pytest.approx([0.0, 0.0])
    left = odds.left(lost, 1.0)
    assert left[:, odds.outcomes.index(odds.leave)] == pytest.approx([1.0, 1.0])


@pytest.mark.parametrize("leave", SOME_LEAVES)
def test_a_leave_and_its_mirror_image_are_as_hard(leave):
    here, there = leave_odds(parse_leave(leave)), leave_odds(mirrored_leave(parse_leave(leave)))
    offset = np.arange(-18.0, 18.5, 0.5)
    for angle_deg in (-2.0, 0.0, 1.5):
        assert there.made(-offset, -angle_deg) == pytest.approx(here.made(offset, angle_deg))


def test_a_leave_that_is_its_own_mirror_image_is_even():
    odds = leave_odds(parse_leave("4-6-7-10"))
    offset = np.arange(-18.0, 18.5, 0.5)
    taken = odds.made_and_taken(offset, 2.0)[..., 1]
    assert odds.made_and_taken(-offset, -2.0)[..., 1] == pytest.approx(taken)


@pytest.mark.parametrize("pin", range(1, 11))
def test_a_lone_pin_falls_to_what_touches_it(pin):
    odds = leave_odds(1 << (pin - 1))
    offset = np.arange(-19.5, 19.6, 0.1)
    assert isinstance(odds, SinglePin)
    assert np.array_equal(odds.made(offset, 1.0), touches(odds.leave, offset, 1.0))
    assert odds.left(offset, 1.0).sum(axis=-1) == pytest.approx(np.ones(len(offset)))


def test_the_sampling_error_is_the_binomial_one():
    # Rolls at one very place, a third of them made: all n weigh the same there.
    rng = np.random.default_rng(3)
    standing = np.where(rng.random(300) < 1 / 3, 0, parse_leave("10"))
    odds = spare_book(rolls_at("3-10", np.zeros(300), 2.0, standing), WIDTH, {}).of(
        parse_leave("3-10")
    )
    at = offset_of_place(odds.leave, 0.0, 2.0)
    chance = np.mean(standing == 0)
    assert sampling_error(odds, at, 2.0) == pytest.approx(
        np.sqrt(chance * (1 - chance) / 300), rel=0.02
    )
    assert sampling_error(leave_odds(1), 0.0, 0.0) == 0.0


def test_a_roll_and_its_mirror_image_are_one_for_the_sampling_error():
    # All rolls at the middle of a leave that is its own image: each lies on its image.
    standing = np.where(np.arange(300) % 3 == 0, 0, parse_leave("3"))
    book = spare_book(rolls_at("2-3", np.zeros(300), 0.0, standing), WIDTH, {})
    odds = book.of(parse_leave("2-3"))
    at = offset_of_place(odds.leave, 0.0, 0.0)
    assert sampling_error(odds, at, 0.0) == pytest.approx(np.sqrt(2 / 9 / 300), rel=0.02)


def test_the_sampling_error_is_how_far_runs_differ():
    place = np.linspace(-2, 2, 60)
    seen, told = [], []
    for seed in range(40):
        rng = np.random.default_rng(seed)
        at = rng.uniform(-6.0, 6.0, 800)
        standing = np.where(rng.random(800) < 0.4, 0, parse_leave("10"))
        rolls = rolls_at("3-10", at, rng.uniform(-3, 8, 800), standing)
        odds = spare_book(rolls, WIDTH, {}).of(parse_leave("3-10"))
        offset = offset_of_place(odds.leave, place, 2.0)
        seen.append(odds.made(offset, 2.0).mean())
        told.append(sampling_error(odds, offset, 2.0))
    assert np.mean(told) == pytest.approx(np.std(seen), rel=0.35)


def test_the_best_width_follows_what_was_rolled():
    rng = np.random.default_rng(1)
    place, angle = rng.uniform(-6, 6, 3000), rng.uniform(-3, 8, 3000)
    fine = np.where(np.floor(place * 1.5) % 2 == 0, 0, parse_leave("8"))
    coarse = np.where(rng.random(3000) < 0.5, 0, parse_leave("8"))
    widths = [
        best_width(spare_book(rolls_at("2-8", place, angle, standing), WIDTH, {}))
        for standing in (fine, coarse)
    ]
    assert widths[0].place_boards < 0.4 < widths[1].place_boards


def test_rolls_at_mirror_images_are_put_together():
    left, right = made_up_rolls("2-7", 500, 1), made_up_rolls("3-10", 700, 2)
    book = spare_book(joined([left, right]), WIDTH, {})
    odds = book.of(parse_leave("3-10"))
    assert isinstance(odds, RolledLeave)
    assert len(odds.rolls.standing) == 1200
    assert set(odds.outcomes) == {0, parse_leave("3-10")}


def test_what_is_written_is_read_again(tmp_path):
    path = tmp_path / "spares.npz"
    rolls = joined([made_up_rolls("2-8", 600), made_up_rolls("10", 50)])
    write_spares(path, rolls, {"seed": 4}, Width(0.3, 2.0))
    book = load_spares(path)
    assert book.width == Width(0.3, 2.0)
    assert book.settings["seed"] == 4
    assert book.settings["rolls"] == 600
    assert book.leaves == tuple(sorted((parse_leave("2-8"), parse_leave("3-9"))))
    offset = np.arange(-8.0, 3.0, 0.5)
    before = spare_book(rolls, Width(0.3, 2.0), {}).of(parse_leave("2-8"))
    after = book.of(parse_leave("2-8"))
    assert after.made(offset, 2.0) == pytest.approx(before.made(offset, 2.0), abs=5e-3)


def test_the_shipped_rolls_were_made_by_this_model():
    assert shipped_spares().settings["model_hash"] == model_hash()


def test_every_leave_of_the_carry_table_was_rolled_at():
    assert all(shipped_spares().holds(leave) for leave in load_table().leaves if leave)
    assert shipped_spares().holds(FULL_RACK)


@pytest.mark.parametrize("leave", [0, 1024, -1])
def test_what_is_no_leave_is_refused(leave):
    with pytest.raises(InvalidValueError, match="leave"):
        shipped_spares().of(leave)


def test_a_leave_nobody_rolled_at_is_refused_with_those_most_like_it():
    book = spare_book(made_up_rolls("2-8"), WIDTH, {})
    with pytest.raises(InvalidValueError, match=r"2-7.*rolled at; most like it: 2-8"):
        book.of(parse_leave("2-7"))


def test_single_pins_alone_are_no_rolls_at_leaves(tmp_path):
    with pytest.raises(InvalidValueError, match="rolls"):
        write_spares(tmp_path / "spares.npz", made_up_rolls("10", 50), {}, WIDTH)
