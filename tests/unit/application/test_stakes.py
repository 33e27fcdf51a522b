"""What stakes are told to be worth: by scores of the field, in plain words, and only if wanted."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal

import numpy as np
import pytest

from event_folder import DEMO
from nextpair.application.stakes import stakes_of
from nextpair.domain.field_score import FieldScore
from nextpair.domain.format import Format
from nextpair.domain.money import SidePot
from nextpair.domain.stakes import Advice
from nextpair.files import load_event

SEED = 7
D = Decimal
PAYS = (0.5, 0.3, 0.2)
EVENT = load_event(DEMO / "event.toml")
NAMES = [entrant.name for entrant in EVENT.squad]


def scores(games=3, mine=0, handicap=0):
    """Everybody of the squad about 200; the bowler so many pins over that."""
    rng = np.random.default_rng(2)
    told = []
    for name in NAMES:
        pins = rng.normal(200, 25, games) + mine * (name == EVENT.bowler_name)
        for game, one in enumerate(np.clip(np.rint(pins), 90, 290), start=1):
            told.append(FieldScore(name, game, int(one), handicap))
    return told


def event(*pots, **changes):
    money = replace(EVENT.money, side_pots=pots or EVENT.money.side_pots)
    return replace(EVENT, money=money, **changes)


def stake(found, kind):
    return next(one for one in found.stakes if one.kind == kind)


def test_nothing_is_told_where_the_bowler_wants_none_of_it():
    quiet = replace(EVENT, bowler=replace(EVENT.bowler, side_pots=False))
    assert stakes_of(quiet, scores(), SEED) is None


def test_nothing_is_told_where_there_is_none():
    money = replace(EVENT.money, side_pots=(), brackets=None)
    assert stakes_of(replace(EVENT, money=money), scores(), SEED) is None


def test_nothing_is_told_once_the_event_is_over():
    money = replace(EVENT.money, winnings=())
    assert stakes_of(replace(EVENT, money=money), scores(), SEED) is None


def test_a_bowler_like_all_others_gets_back_what_is_paid_back():
    found = stakes_of(event(), [], SEED)
    assert float(stake(found, "high_game").one.gain) == pytest.approx(0, abs=0.05)
    assert float(stake(found, "high_series").one.gain) == pytest.approx(0, abs=0.1)
    assert float(stake(found, "brackets").one.gain) == pytest.approx(4.375 - 5, abs=0.01)
    assert stake(found, "brackets").advice is Advice.NOT_WORTH_IT
    assert stake(found, "high_game").advice is Advice.ABOUT_EVEN


def test_who_is_ahead_of_the_field_is_told_to_enter():
    ahead = stakes_of(event(), scores(mine=45), SEED)
    level = stakes_of(event(), scores(), SEED)
    assert ahead.form_pins > level.form_pins + 5
    for kind in ("high_game", "high_series", "brackets"):
        one, other = stake(ahead, kind), stake(level, kind)
        assert one.one.returned > other.one.returned
        assert one.gain_chance > other.gain_chance
        assert one.advice is Advice.WORTH_IT
    assert re.search(r"So far 2\d\d pins a game over 3 games, \d+ over the others", ahead.words[0])


def test_only_games_to_come_are_still_to_be_won():
    found = stakes_of(event(), scores(games=4), SEED)
    pot = stake(found, "high_game")
    assert (pot.left, pot.all.entries, pot.all.cost) == (2, 2, D("16.00"))
    begun = stake(stakes_of(event(), scores(games=3), SEED), "brackets")
    assert (begun.left, begun.all, begun.own_entries) == (0, None, 3)
    assert any("begun are not valued" in words for words in begun.words)
    late = stake(found, "brackets")
    assert (late.left, late.advice, late.one) == (0, Advice.TOO_LATE, None)
    assert "Fewer games are left" in late.words[0]
    over = stakes_of(event(), scores(games=6), SEED)
    assert {one.advice for one in over.stakes} == {Advice.TOO_LATE}
    assert (over.cost, over.returned) == (0, 0)


def test_a_further_entry_of_a_pot_brings_less_than_the_first():
    pot = stake(stakes_of(event(), scores(), SEED), "high_series")
    assert pot.further_gain < pot.one.gain
    assert pot.further_advice is Advice.NOT_WORTH_IT


def test_a_pot_that_is_not_entered_is_valued_all_the_same():
    pot = SidePot("high_game", D(8), 46, PAYS, per="game", count=0)
    found = stakes_of(event(pot), scores(), SEED)
    told = stake(found, "high_game")
    assert told.all is None
    assert told.one is not None
    assert told.further_gain == pytest.approx(told.one.gain, abs=D("0.001"))


def test_several_brackets_spread_wider_and_say_so():
    found = stake(stakes_of(event(), [], SEED), "brackets")
    apart = float(found.one.sd) * np.sqrt(3)
    assert float(found.all.sd) > 1.1 * apart
    assert any("won and lost together" in words for words in found.words)


@pytest.mark.parametrize("kind", ["high_game", "mystery_game", "eliminator"])
def test_every_kind_of_a_squad_is_worth_its_share_among_equals(kind):
    found = stakes_of(event(SidePot(kind, D(10), 28, (0.6, 0.3, 0.1))), [], SEED)
    assert float(stake(found, kind).one.gain) == pytest.approx(0, abs=0.6)


def test_a_kind_that_is_not_known_is_told_with_its_fee_alone():
    found = stakes_of(event(SidePot("best_shirt", D(2), 30, (1.0,))), scores(), SEED)
    told = stake(found, "best_shirt")
    assert (told.advice, told.one, told.fee) == (Advice.NOT_VALUED, None, D(2))


def test_scratch_pots_leave_handicap_out():
    told = [
        replace(score, handicap=60) if score.name == EVENT.bowler_name else score
        for score in scores()
    ]
    with_it = SidePot("high_game", D(8), 46, PAYS, per="game", handicap=True)
    without = replace(with_it, handicap=False)
    one, other = (
        stake(stakes_of(event(pot), told, SEED), "high_game").one.returned
        for pot in (with_it, without)
    )
    assert one > 2 * other


def test_handicap_that_nobody_has_is_told():
    pot = SidePot("high_game", D(8), 46, PAYS, handicap=True)
    cautions = " ".join(stakes_of(event(pot), scores(), SEED).cautions)
    assert "Handicap is to count" in cautions


def test_it_is_always_said_that_these_are_estimates_and_what_decides():
    cautions = " ".join(stakes_of(event(), scores(), SEED).cautions)
    assert "Estimates" in cautions
    assert "Laws on gambling and the rules of the event decide what is allowed" in cautions


def test_the_same_seed_tells_the_same():
    pots = (SidePot("eliminator", D(10), 28, (0.6, 0.4)),)
    assert stakes_of(event(*pots), scores(), 3) == stakes_of(event(*pots), scores(), 3)


def test_a_squad_of_two_is_valued_against_the_whole_field():
    pair = tuple(one for one in EVENT.squad if one.pair == EVENT.start_pair)[:2]
    squad = pair if any(one.name == EVENT.bowler_name for one in pair) else None
    if squad is None:
        own = next(one for one in EVENT.squad if one.name == EVENT.bowler_name)
        squad = (own, next(one for one in EVENT.squad if one.name != own.name))
    found = stakes_of(event(squad=squad), scores(), SEED)
    assert stake(found, "high_game").one is not None


@pytest.mark.parametrize("entries", [1, 3])
def test_an_eliminator_that_one_bowler_fills_has_a_value(entries):
    pot = SidePot("eliminator", D(5), entries, (1.0,), per="game", count=entries)
    found = stakes_of(event(pot, replace(pot, per="squad")), scores(), SEED)
    assert [one.all.returned >= 0 for one in found.stakes if one.all] != []


def test_a_field_of_one_has_stakes_that_can_be_written_down():
    alone = replace(event(), squad=(EVENT.squad[0],), bowler_name=EVENT.squad[0].name)
    alone = replace(alone, money=replace(alone.money, entries=1, cut_to=None), format=Format())
    found = stakes_of(alone, [], SEED)
    assert np.isfinite(found.field_form_pins)
