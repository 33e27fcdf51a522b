"""What findings say: costs over all games, one finding a ball, the kind that was missed."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from logged_games import logged_frame, logged_game
from nextpair.application.debrief import LINES_TOLD_SHARE, UNTOLD, _notes, _went_well
from nextpair.application.debrief_findings import SPARE_PINS, Told, findings_of_event
from nextpair.application.late_moves import LateMoves
from nextpair.application.lessons import applies
from nextpair.application.met_racks import racks_of_shots
from nextpair.domain.ball import Surface
from nextpair.domain.debrief import LateMove, SpareTold
from nextpair.domain.units import FOOT_M
from small_event import small_event

EVENT = small_event()
DULL, FRESH = (
    replace(EVENT.locker[0], name="Kestrel", surface=surface)
    for surface in (Surface(2000, games=6.0), Surface.put_on(1000))
)
OSPREY = replace(EVENT.locker[0], name="Osprey")
ROUGH = replace(DULL, surface=Surface.put_on(500))
STRIKES = [[""]] * 9 + [["", "", ""]]
TOLD_LINE = {"meant_laydown_board": 20.0, "meant_target_board": 14.0}
GAMES = 4


class Hindsight:
    """Options that are worth the same on every lane, each by draw (o, d)."""

    def __init__(self, options, thrown, worth):
        self.options, self.thrown, self.event = options, thrown, EVENT
        value = np.asarray(worth, float)[:, :, None, None]
        values = SimpleNamespace(value=value, best_cell=lambda _option: (0, 0))
        lane = SimpleNamespace(values=values)
        self.study = SimpleNamespace(of_game=lambda _game: (lane, lane))

    def option_of(self, shot):
        return next(
            row
            for row in self.thrown
            if self.options[row].name == shot.ball
            and (shot.surface_grit is None) == (self.options[row].surface.games > 0)
        )


def told_of(hindsight, racks, **changed):
    usual = Told(hindsight, (), racks, (), (), (), LateMoves((), 0.0), None)
    return replace(usual, **changed)


def racks_of(*games, **seen):
    """Games of nothing but strikes, each with a finish put on the ball or as it was."""
    noted = (
        shot
        for number, grit in enumerate(games, start=1)
        for shot in logged_game(number, STRIKES, surface_grit=grit, **seen)
    )
    return racks_of_shots(noted)


def test_a_surface_costs_what_it_did_over_all_games():
    """Six pins in one of four games are one and a half a game."""
    hindsight = Hindsight((DULL, FRESH, OSPREY, ROUGH), (0, 2), [[200], [206], [200], [200]])
    racks = racks_of(None, ball="Kestrel") + racks_of_shots(
        shot
        for game in (2, 3, 4)
        for shot in logged_game(game, STRIKES, ball="Osprey", surface_grit=None)
    )
    (finding,) = findings_of_event(told_of(hindsight, racks))
    assert finding.key == "surface: Kestrel"
    assert finding.cost_pins_per_game == pytest.approx(6.0 / GAMES)
    assert "6.0 pins more in game 1," in finding.evidence[0]
    assert (finding.change.ball, finding.change.surface_grit) == ("Kestrel", 1000)
    locker = (DULL, *EVENT.locker)
    for feet, is_like in ((0.0, True), (1.5, True), (3.0, False)):
        laid = replace(
            EVENT.left_pattern,
            name="Another",
            length_m=EVENT.left_pattern.length_m + feet * FOOT_M,
        )
        there = replace(EVENT, locker=locker, left_pattern=laid, right_pattern=laid)
        assert applies(finding.change, there) is is_like


def test_a_ball_with_two_finishes_has_one_finding():
    """A log that tells the finish of some shots alone has the same ball twice."""
    hindsight = Hindsight((DULL, FRESH, ROUGH), (0, 1), [[200, 200], [204, 203], [210, 211]])
    racks = racks_of(None, 1000, 1000)
    found = findings_of_event(told_of(hindsight, racks))
    assert [finding.key for finding in found] == ["surface: Kestrel"]
    assert "in games 2, 3," in found[0].evidence[0], "there it cost most"


@pytest.mark.parametrize(
    ("gain", "key"), [([9.0, 9.0], "ball: Osprey"), ([7.0, 7.0], None), ([40.0, -20.0], "ball")]
)
def test_another_ball_is_told_with_the_draws_in_which_it_was_better(gain, key):
    hindsight = Hindsight((DULL, OSPREY), (0,), [[200.0, 200.0], [200.0 + one for one in gain]])
    found = findings_of_event(told_of(hindsight, racks_of(None)))
    assert len(found) == (key is not None)
    for finding in found:
        share = np.mean(np.array(gain) > 0)
        assert finding.key.startswith(str(key))
        assert finding.sure_probability == share
        assert f"in {100 * share:.0f} of 100 draws" in finding.evidence[0]


def spare(kind, made, tried, expected, chance):
    return SpareTold(kind, made, tried, expected, chance)


@pytest.mark.parametrize(
    ("rows", "kind", "lacking", "chance"),
    [
        # Enough in all, and single pins far too few: more splits are lacking, but not surely.
        ([("all", 15, 30, 18.0, 0.2), ("single-pin", 9, 13, 11.5, 0.02),
          ("split", 1, 9, 4.0, 0.06)], "single-pin", 2.5, 0.02),
        # Too few in all and none by itself: the kind that lacks most, at the cost of all.
        ([("all", 15, 26, 19.0, 0.04), ("single-pin", 10, 14, 12.0, 0.1),
          ("makeable", 5, 10, 6.5, 0.3)], "single-pin", 4.0, 0.04),
    ],
)  # fmt: skip
def test_the_kind_that_is_told_is_one_that_was_missed_too_often(rows, kind, lacking, chance):
    rows = tuple(spare(*row) for row in rows)
    told = told_of(Hindsight((DULL,), (0,), [[200]]), racks_of(None), spares=rows)
    (finding,) = findings_of_event(told)
    assert finding.key == f"spares: {kind}"
    assert finding.cost_pins_per_game == pytest.approx(SPARE_PINS * lacking)
    assert finding.sure_probability == pytest.approx(1 - chance)


def test_late_moves_are_as_sure_as_that_they_cost_anything():
    moves = tuple(
        LateMove(1, lane, 1, None, 2, cost, f"lane {lane}") for lane, cost in ((13, 3.0), (14, -1))
    )
    told = told_of(
        Hindsight((DULL,), (0,), [[200]]), racks_of(None), late_moves=LateMoves(moves, 0.7)
    )
    (finding,) = findings_of_event(told)
    assert (finding.key, finding.sure_probability) == ("moves: late", 0.7)
    assert finding.cost_pins_per_game == pytest.approx(2.0)
    assert finding.evidence[1:] == ("lane 13",), "what gained was not late"


@pytest.mark.parametrize(
    ("told_frames", "praised", "noted"), [(10, True, False), (8, True, True), (7, False, True)]
)
def test_nobody_is_praised_for_moves_that_no_log_tells(told_frames, praised, noted):
    """Lines of eight in ten first balls are enough; one that is not told is noted."""
    shots = [
        shot
        for frame in range(1, 11)
        for shot in logged_frame(
            1, frame, ["7", ""], **(TOLD_LINE if frame <= told_frames else {})
        )
    ]
    game = SimpleNamespace(
        game=1, choice_pins=0.0, regret_pins=9.0, strays_pins=None, carry_pins=None,
        strays_and_carry_pins=None,
    )  # fmt: skip
    told = told_of(Hindsight((DULL,), (0,), [[200]]), racks_of_shots(shots)[:10], games=(game,))
    assert told.lines_told_share == pytest.approx(told_frames / 10)
    assert any("No move came late" in words for words in _went_well(told, None)) is praised
    assert (UNTOLD in tuple(_notes(told))) is noted
    assert LINES_TOLD_SHARE == 0.8


def test_what_went_well_claims_no_more_than_its_bound_and_calls_no_good_score_low():
    """A best line worth 2.9 pins more is told beside it, so nothing may say that none was."""
    games = tuple(
        SimpleNamespace(
            game=number, choice_pins=0.0, regret_pins=2.9, strays_pins=None, carry_pins=None
        )
        for number in (1, 2, 3)
    )
    told = told_of(Hindsight((DULL,), (0,), [[200]]), (), games=games)
    standing = SimpleNamespace(condition=SimpleNamespace(own_sds=1.3))
    words = " ".join(_went_well(told, standing))
    assert "In games 1, 2 and 3 no other ball or line would have been worth 3 pins more." in words
    assert "over the field's mean" in words
    assert "low" not in words
