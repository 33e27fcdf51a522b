"""The packing list with a template of one's own, lessons, what was missing, weights and stock."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from nextpair.application.packing import packing_list
from nextpair.application.packing_trip import hours_there, most_games, trip_of
from nextpair.application.stock import reorders
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.format import SCORES_ALONE, Stage, StageKind
from nextpair.domain.kit import Kit, KitItem, Stock, UsedPer
from nextpair.domain.lesson import Change, ChangeKind, Lesson
from nextpair.domain.packing import CaseWeight, Missed, PackGroup, PackItem
from nextpair.domain.sheet import BagItem
from nextpair.domain.units import POUND_KG
from small_event import small_event

BAG = (
    BagItem("Slate Weir", 1000, 2.0, "For games 1 and 2."),
    BagItem("Dunlin Flock", 3000, 1.0, "When the lane dries.", surface_by="hand"),
    BagItem("Plain Thimble", "polished", 3.0, "For spares."),
)
WORN = "a quartz wrist band"


def named(packing) -> dict[str, PackItem]:
    return {item.item: item for item in packing.items}


def plain_event():
    """An event that ends with the games that everybody bowls."""
    event = small_event()
    return replace(event, format=SCORES_ALONE, money=replace(event.money, cut_to=None))


def of_15_lb():
    event = plain_event()
    return replace(
        event, locker=tuple(replace(ball, mass_kg=15 * POUND_KG) for ball in event.locker)
    )


def test_a_kit_adds_changes_and_takes_off():
    kit = Kit(
        "Away",
        (KitItem("Folding chair", 2, "No seats."), KitItem("towel", 9), KitItem("LACES", 0)),
    )
    found = named(packing_list(plain_event(), BAG, kit))
    assert (found["Folding chair"].many, found["Folding chair"].rule) == (2, "kit")
    assert (found["Towel"].many, found["Towel"].rule) == (9, "kit")
    assert "Laces" not in found


def test_an_accepted_lesson_of_kind_packing_joins_and_no_other():
    def lesson(key, kind, accepted, item=None):
        change = Change(kind, "Take it.", item=item, many=3)
        return Lesson(key, "It was dry.", change, "Reed Open", date(2026, 1, 2), accepted)

    taught = (
        lesson("a", ChangeKind.PACKING, True, "Rosin"),
        lesson("b", ChangeKind.PACKING, False, "Anvil"),
        lesson("c", ChangeKind.DRILL, True),
        lesson("d", ChangeKind.PACKING, True, "laces"),
    )
    found = named(packing_list(plain_event(), BAG, lessons=taught))
    assert (found["Rosin"].many, found["Rosin"].rule) == (3, "lesson")
    assert "Reed Open" in found["Rosin"].why
    assert found["Laces"].many == 3
    assert "Anvil" not in found


def test_what_was_missing_rises_to_the_top_most_often_first_and_says_where():
    missing = (Missed("Odd thing", ("Reed Open",)), Missed("towel", ("Reed Open", "Fen Cup")))
    packing = packing_list(plain_event(), BAG, missing=missing)
    assert [item.item for item in packing.items[:2]] == ["Towel", "Odd thing"]
    assert packing.missing == ("Towel", "Odd thing")
    assert packing.items[0].why.startswith("Missing at Reed Open, Fen Cup.")
    title, first = packing.sections[0]
    assert (title, len(first)) == ("missing last time", 2)
    assert len({item.item for item in packing.items}) == len(packing.items)


def test_sections_hold_every_item_once():
    packing = packing_list(plain_event(), BAG, missing=(Missed("Laces", ("Reed Open",)),))
    told = [item for _, items in packing.sections for item in items]
    assert sorted(item.item for item in told) == sorted(item.item for item in packing.items)


def test_what_others_see_has_nothing_private_even_if_it_was_missing_or_in_a_kit():
    event = plain_event()
    worn = replace(event, bowler=replace(event.bowler, straps=(WORN,), care=("amber knee",)))
    packing = packing_list(
        worn, BAG, Kit("Away", (KitItem(WORN, 2),)), missing=(Missed(WORN, ("Reed Open",)),)
    )
    assert packing.items[0].private
    assert "quartz" not in repr(packing.for_others)
    assert "amber" not in repr(packing.for_others)
    assert "What you strap or tape" in named(packing.for_others)


def test_three_balls_of_15_lb_in_a_case_of_10_are_55_and_over_50():
    packing = packing_list(of_15_lb(), BAG)
    [case] = packing.cases
    assert case.weight_lb == pytest.approx(55.0)
    assert (case.is_over, case.over_lb) == (True, pytest.approx(5.0))
    assert any("Case 1 weighs 55 lb" in caution for caution in packing.cautions)


def test_two_balls_a_case_need_two_cases_and_none_is_over():
    packing = packing_list(of_15_lb(), BAG, Kit("Away", balls_a_case=2))
    assert [case.weight_lb for case in packing.cases] == pytest.approx([40.0, 25.0])
    assert not any(case.is_over for case in packing.cases)
    assert not any("weighs" in caution for caution in packing.cautions[-2:])


def test_a_case_at_its_limit_is_not_over():
    assert not CaseWeight(("one",), 50.0, 50.0).is_over


@pytest.mark.parametrize(
    ("per", "takes"), [(UsedPer.EVENT, 3.0), (UsedPer.GAME, 6.0), (UsedPer.HOUR, None)]
)
def test_a_stock_is_used_per_event_game_or_hour(per, takes):
    event = plain_event()
    [found] = reorders(Kit("Away", stock=(Stock("Tape", 1.0, 3.0, per),)), (trip_of(event, BAG),))
    assert found.takes == pytest.approx(takes or 3.0 * hours_there(event))
    assert found.left == pytest.approx(1.0 - found.takes)
    assert "buy more before you go" in found.words


def test_a_stock_that_runs_out_at_a_later_event_names_it():
    event = plain_event()
    later = [
        replace(event, name=name, date=event.date + timedelta(days=days), entry_deadline=None)
        for name, days in (("Reed Open", 7), ("Fen Cup", 14))
    ]
    kit = Kit("Away", stock=(Stock("Tape", 5.0, 2.0), Stock("Glue", 50.0, 1.0)))
    [found] = packing_list(event, BAG, kit, ahead=later).reorders
    assert found.words == f"Lasts for {event.name}, Reed Open; runs out at Fen Cup."


def test_a_stock_below_its_mark_is_told():
    kit = Kit("Away", stock=(Stock("Tape", 10.0, 4.0, reorder_below=7.0, unit="strips"),))
    [found] = packing_list(plain_event(), BAG, kit).reorders
    assert "less than 7 strips" in found.words
    assert not packing_list(
        plain_event(), BAG, replace(kit, stock=(replace(kit.stock[0], reorder_below=6.0),))
    ).reorders


@pytest.mark.parametrize(
    ("kind", "entrants", "games", "most"),
    [
        (StageKind.BLOCK, 16, 4, 4),
        (StageKind.ROUND_ROBIN, 8, 1, 7),
        (StageKind.SINGLE_ELIMINATION, 8, 3, 9),
        (StageKind.DOUBLE_ELIMINATION, 8, 1, 6),
        (StageKind.STEP_LADDER, 5, 1, 4),
    ],
)
def test_a_stage_has_at_most_so_many_games(kind, entrants, games, most):
    assert most_games(Stage(kind, entrants, games)) == most


def test_hours_go_by_games_and_by_how_full_the_pair_is():
    event = plain_event()
    bowlers = sum(entrant.pair == event.start_pair for entrant in event.squad)
    expected = event.practice_s / 3600 + event.games * bowlers / 6
    assert hours_there(event) == pytest.approx(expected)
    longer = named(packing_list(replace(event, games=12), BAG))
    assert (
        longer["Water, half a litre"].many
        > named(packing_list(event, BAG))["Water, half a litre"].many
    )


def test_cautions_say_what_no_brace_does_and_who_decides():
    told = " ".join(packing_list(plain_event(), BAG).cautions)
    for words in ("no treatment", "see a professional", "spinner", "soles", "rules"):
        assert words in told


def test_every_item_has_a_number_and_a_reason():
    with pytest.raises(InvalidValueError, match="reason"):
        PackItem("Towel", 1, " ", PackGroup.COVERS)
    with pytest.raises(InvalidValueError, match="many"):
        PackItem("Towel", 0, "Oil.", PackGroup.COVERS)
