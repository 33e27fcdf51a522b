"""Reading the bundled shots, of which tools/demo_shots.py says how the lanes really were."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from uuid import UUID

import numpy as np
import pytest

from event_folder import DEMO
from nextpair.application.believed import doubt_of, picked_rows
from nextpair.application.findings import told_as
from nextpair.application.lane_story import (
    ball_thrown,
    in_turn,
    last_of,
    next_game,
    share_of_next,
    share_of_stage,
    shots_that_tell,
)
from nextpair.application.mind_changer import would_change
from nextpair.application.names import lane_of
from nextpair.application.reading import read
from nextpair.application.usual_moves import usual_move
from nextpair.domain.ball import Surface
from nextpair.domain.belief import Draws, MoveKind, MoveOption, Read
from nextpair.domain.bowler import Hand
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.event import Event
from nextpair.domain.lane import mirrored_board
from nextpair.domain.shot_log import LoggedShot
from nextpair.domain.unknowns import LONGER_M, OF_A_LANE, OF_THE_BOWLER, REVS_LOG, SHARED
from nextpair.files import load_event, load_shots
from nextpair.scoring.leaves import MIRROR_IMAGES
from small_event import mirror_image
from unit.reports.read_factory import an_option

TRUE_FRICTION, TRUE_OIL, USUAL_SPEED_MPH = 110.0, 95.0, 17.4
PULLED_FRAME = 5
"""All as tools/demo_shots.py threw them."""
FULL_RACK = frozenset(range(1, 11))


@cache
def event() -> Event:
    return load_event(DEMO / "event.toml")


@cache
def log() -> tuple[LoggedShot, ...]:
    return load_shots(DEMO / "shots.csv", event())


@cache
def found() -> Read:
    return read(event(), log(), seed=7)


@pytest.mark.parametrize(
    ("name", "truth"),
    [
        ("dry friction", TRUE_FRICTION),
        ("oil", TRUE_OIL),
        ("speed of the day", USUAL_SPEED_MPH),
        ("wear", 100.0),
        ("length of the oil", 41.0),
        ("rev rate of the day", 365.0),
        ("axis rotation of the day", 48.0),
    ],
)
def test_the_truth_is_not_ruled_out(name, truth):
    finding = found().finding(name)
    assert abs(finding.found.mean - truth) < 2.5 * finding.found.sd
    assert finding.found.low < finding.found.mean < finding.found.high


def test_what_differs_most_is_found():
    friction = found().finding("dry friction")
    assert friction.more_probability > 0.75
    assert friction.learned_share > 0.15
    assert found().finding("speed of the day").learned_share > 0.15


def test_the_pulled_shot_was_the_release():
    pulled = next(v for v in found().verdicts if (v.game, v.frame) == (1, PULLED_FRAME))
    assert pulled.release_probability > 0.9
    assert pulled.entry_miss_boards is not None
    assert pulled.entry_miss_boards > 5.0


def test_a_ball_that_goes_high_is_moved_so_that_it_goes_less_high():
    for lane in found().moves:
        best = lane.options[0]
        stay = next(option for option in lane.options if option.kind is MoveKind.STAY)
        assert best.gain_pins_per_game > 5.0
        assert best.expected_pins_per_game > stay.expected_pins_per_game
        moved = next(o for o in lane.options if o.kind is MoveKind.FEET_AND_TARGET)
        assert 0.5 < moved.feet_boards < 6.0
        assert moved.feet_boards > moved.target_boards


def test_there_is_one_option_of_each_kind_and_staying_costs_nothing():
    for lane in found().moves:
        kinds = [option.kind for option in lane.options]
        assert sorted(kinds) == sorted(MoveKind)
        stay = lane.options[kinds.index(MoveKind.STAY)]
        assert (stay.gain_pins_per_game, stay.feet_boards, stay.target_boards) == (0.0, 0.0, 0.0)


def test_staying_is_where_the_log_says_she_meant_to_play():
    for lane in found().moves:
        stay = next(option for option in lane.options if option.kind is MoveKind.STAY)
        assert stay.line.laydown_board == pytest.approx(20.0)
        assert stay.line.target_board == pytest.approx(13.5, abs=0.05)
        assert (stay.ball, stay.surface_grit) == ("Candle Stub", 1000)


def test_the_same_shots_give_the_same_read():
    assert read(event(), log(), seed=7) == found()


def test_a_left_hander_in_the_mirror_reads_the_same():
    def mirrored(shot: LoggedShot) -> LoggedShot:
        boards = {
            name: None if (board := getattr(shot, name)) is None else mirrored_board(board)
            for name in ("laydown_board", "target_board", "breakpoint_board", "entry_board",
                         "meant_laydown_board", "meant_target_board")
        }  # fmt: skip
        left = None
        if shot.standing_after is not None:
            left = frozenset(MIRROR_IMAGES[pin] for pin in shot.standing_after)
        return replace(shot, **boards, standing_after=left)

    image = read(mirror_image(event()), [mirrored(shot) for shot in log()], seed=7)
    for one, other in zip(found().findings, image.findings, strict=True):
        assert other.found.mean == pytest.approx(one.found.mean, rel=1e-3)
    for lane, other in zip(found().moves, image.moves, strict=True):
        assert [o.kind for o in other.options] == [o.kind for o in lane.options]
        assert other.options[0].feet_boards == pytest.approx(lane.options[0].feet_boards, abs=0.01)


def shot(**told: object) -> LoggedShot:
    usual: dict[str, object] = {
        "id": UUID(int=1), "time": "", "game": 1, "frame": 1, "delivery": 1, "lane": 13,
        "ball": "Candle Stub",
    }  # fmt: skip
    return LoggedShot(**(usual | told))


def test_only_shots_at_a_full_rack_tell():
    spare = shot(delivery=2, standing_before=frozenset({10}), standing_after=frozenset())
    fill = shot(delivery=2, standing_before=FULL_RACK, standing_after=frozenset({7}))
    second = shot(delivery=2)
    assert shots_that_tell([shot(), spare, fill, second]) == (shot(), fill)
    with pytest.raises(InvalidValueError, match="at least one shot"):
        shots_that_tell([spare])


def test_a_shot_is_placed_in_its_game():
    assert share_of_stage(event(), shot(frame=1)) == pytest.approx(0.1)
    assert share_of_stage(event(), shot(frame=2)) == pytest.approx(0.1)
    assert share_of_stage(event(), shot(frame=10)) == pytest.approx(0.9)
    assert share_of_stage(event(), shot(game=0, frame=99)) == 1.0


def test_the_next_shot_is_of_the_game_that_is_not_over():
    practice, middle, end = shot(game=0), shot(frame=4), shot(frame=10)
    assert [next_game(event(), [one]) for one in (practice, middle, end)] == [1, 1, 2]
    assert share_of_next(event(), [middle]) == pytest.approx(0.5)
    assert share_of_next(event(), [end]) == pytest.approx(0.1)


def test_a_ball_has_the_surface_that_was_put_on_and_wears_it():
    locker = next(ball for ball in event().locker if ball.name == "Candle Stub")
    assert ball_thrown(event(), shot()) == locker
    assert ball_thrown(event(), shot(surface_grit=1000)).surface == Surface(1000)
    later = ball_thrown(event(), shot(surface_grit=1000, game=3))
    assert later.surface == Surface(1000, games=2)
    with pytest.raises(InvalidValueError, match="a ball of the locker"):
        ball_thrown(event(), shot(ball="Nobody's"))


def test_a_belief_is_a_doubt():
    rows = ((0.0, 0.1, 0.0), (0.2, -0.1, 0.05), (0.4, 0.3, -0.05))
    belief = Draws(("dry_log", "film_log", "lane_13_dry_log"), rows)
    doubt = doubt_of(belief, event().bowler, 3, seed=7)
    assert doubt.dry_factor == pytest.approx(np.exp([0.0, 0.2, 0.4]))
    assert doubt.oil.film_factor == pytest.approx(np.exp([0.1, -0.1, 0.3]))
    assert doubt.of_lane(13).dry_factor == pytest.approx(np.exp([0.0, 0.25, 0.35]))
    assert doubt.of_lane(14).dry_factor == pytest.approx(doubt.dry_factor)
    assert doubt.oil.wear_factor == pytest.approx(1.0)
    assert sorted(doubt.traffic) == pytest.approx([1 / 6, 1 / 2, 5 / 6])


def test_rows_of_a_belief_are_taken_evenly():
    belief = Draws(("dry_log",), tuple((float(row),) for row in range(101)))
    assert picked_rows(belief, 5).tolist() == [0, 25, 50, 75, 100]
    assert len(picked_rows(belief, 500)) == 101
    assert lane_of("lane_13_dry_log") == 13
    assert lane_of("dry_log") is None


STAY = an_option(MoveKind.STAY, 0.0)
MOVE = an_option(MoveKind.FEET_AND_TARGET, 4.0, feet_boards=3.0, target_boards=1.0)


@pytest.mark.parametrize(
    ("entry_board", "left", "name", "feet"),
    [
        (19.0, {4}, "3-and-1", 3.0),
        (20.5, {4, 6, 7, 10}, "5-and-2", 5.0),
        (20.0, {9}, "2-and-1", 2.0),
        (15.0, {1, 2, 10}, "2-and-1", -2.0),
        (21.0, set(), "2-and-1", 2.0),
    ],
)
def test_the_trade_moves_by_what_was_left(entry_board, left, name, feet):
    """Common practice, [facts] section 8: 3-and-1 after a 4 pin, 5-and-2 after a wide split."""
    seen = shot(entry_board=entry_board, standing_before=FULL_RACK, standing_after=frozenset(left))
    usual = usual_move(seen, Hand.RIGHT, STAY, bad=False)
    assert usual is not None
    assert (usual.name, usual.feet_boards) == (name, feet)
    assert usual.differs == "What is believed now asks for no move."
    mirrored = frozenset(MIRROR_IMAGES[pin] for pin in left)
    other = shot(
        entry_board=mirrored_board(entry_board),
        standing_before=FULL_RACK,
        standing_after=mirrored,
    )
    assert usual_move(other, Hand.LEFT, STAY, bad=False) == usual


@pytest.mark.parametrize(("entry_board", "left"), [(17.5, {10}), (18.5, set()), (None, {2, 8})])
def test_the_trade_stays_where_nothing_was_missed_or_seen(entry_board, left):
    seen = shot(entry_board=entry_board, standing_before=FULL_RACK, standing_after=frozenset(left))
    assert usual_move(seen, Hand.RIGHT, MOVE, bad=False) is None


@pytest.mark.parametrize(
    ("best", "differs"),
    [
        (MOVE, ""),
        (replace(MOVE, feet_boards=6.0), "What is believed now moves farther."),
        (replace(MOVE, feet_boards=-3.0), "What is believed now asks for the other way."),
        (an_option(MoveKind.BALL, 3.0), "What is believed now asks for another ball first."),
        (an_option(MoveKind.HAND, 3.0), "What is believed now asks for another release first."),
    ],
)
def test_the_usual_move_says_how_the_computed_one_is_another(best: MoveOption, differs: str):
    seen = shot(entry_board=19.0, standing_before=FULL_RACK, standing_after=frozenset({4}))
    usual = usual_move(seen, Hand.RIGHT, best, bad=False)
    assert usual is not None
    assert usual.differs == differs


def test_nobody_moves_off_a_bad_shot():
    usual = usual_move(shot(entry_board=25.0), Hand.RIGHT, STAY, bad=True)
    assert usual is not None
    assert (usual.name, usual.feet_boards, usual.differs) == ("stay", 0.0, "")


def test_what_would_change_it_is_what_decides():
    rng = np.random.default_rng(7)
    draws = rng.normal(size=(200, 3)) * [0.07, 0.03, 0.03]
    names = ("dry_log", "lane_13_film_log", "lane_14_film_log")
    belief = Draws(names, tuple(map(tuple, draws.tolist())))
    by_friction = 2.0 - 40.0 * draws[:, 0]
    told = would_change(event(), 13, belief, by_friction)
    # Closed form: the lead is gone where the logarithm is 2 / 40.
    assert told.startswith(f"dry friction above {100 * np.exp(2 / 40):.3g} % of plan")
    share = 100 * float((by_friction < 0).mean())
    assert f"in {share:.0f} of 100 cases" in told
    by_the_other_lane = 1.0 - 60.0 * draws[:, 2]
    assert "no one thing decides it" in would_change(event(), 13, belief, by_the_other_lane)
    assert "oil of lane 14" in would_change(event(), 14, belief, by_the_other_lane)
    assert "nothing that these shots leave open" in would_change(
        event(), 13, belief, np.full(200, 3.0)
    )


def test_every_unknown_has_a_name_and_a_unit():
    names = [one.name for one in (*SHARED, *OF_THE_BOWLER)] + [one.on(13) for one in OF_A_LANE]
    told = [told_as(event(), name) for name in names]
    assert len({one.name for one in told}) == len(told)
    assert all(one.unit and one.name == one.name.lower() for one in told)
    zero = np.zeros(1)
    length = told_as(event(), LONGER_M.name)
    assert (length.unit, float(length.scale(zero)[0])) == ("ft", pytest.approx(41.0))
    revs = told_as(event(), REVS_LOG.name)
    assert (revs.unit, float(revs.scale(zero)[0])) == ("rpm", pytest.approx(365.0))
    assert told_as(event(), "lane_13_dry_log").name == "dry friction of lane 13"


def test_shots_of_which_nobody_knows_where_they_were_sent_are_refused():
    with pytest.raises(InvalidValueError, match="meant or seen"):
        read(event(), [shot(entry_board=20.0, standing_after=frozenset({10}))], seed=7)


def test_what_was_learned_goes_on_to_the_next_pair():
    """After the tenth frame the next shot is on the next pair, by what all lanes share."""
    over = [replace(one, frame=10) if (one.game, one.frame) == (1, 8) else one for one in log()]
    moved_on = read(event(), over, seed=7)
    pair = event().pair_in_game(event().start_pair, 2)
    assert moved_on.next_game == 2
    assert [lane.lane for lane in moved_on.moves] == list(pair.lanes)
    assert all(lane.game == 2 and lane.usual is None for lane in moved_on.moves)
    assert moved_on.finding("dry friction").more_probability > 0.75
    unseen = moved_on.finding(f"oil of lane {pair.left_lane}")
    assert abs(unseen.learned_share) < 0.15


def test_the_last_shot_is_the_last_thrown_and_not_the_last_written():
    third, fill = shot(frame=3), shot(frame=10, delivery=2)
    tenth = shot(frame=10)
    assert last_of([fill, third, tenth]) == fill
    assert in_turn([fill, third, tenth]) == [third, tenth, fill]


def test_nobody_is_told_to_change_a_speed_that_they_cannot():
    reach = replace(event().bowler.reach, speed_change_mps=(0.0, 0.0))
    steady = replace(event(), bowler=replace(event().bowler, reach=reach))
    kinds = {option.kind for lane in read(steady, log(), seed=7).moves for option in lane.options}
    assert kinds == set(MoveKind) - {MoveKind.SPEED}


@pytest.mark.parametrize(("laydown", "target"), [(38.0, 3.0), (2.0, 36.0), (38.0, 38.0)])
def test_a_line_beyond_reach_has_its_moves_too(laydown, target):
    wild = shot(meant_laydown_board=laydown, meant_target_board=target)
    for lane in read(event(), [wild], seed=7).moves:
        assert {option.kind for option in lane.options} == set(MoveKind)
        moved = next(o for o in lane.options if o.kind is MoveKind.FEET_AND_TARGET)
        low, high = event().bowler.reach.laydown_boards
        assert low <= moved.line.laydown_board <= high


def test_files_are_told_half_of_what_the_day_says():
    """What is hidden from the read: dry friction at 110 %, and the release as in the file."""
    told = {(value.file, value.key): value for value in found().for_files}
    for lane in (13, 14):
        friction = told["house.toml", f"friction of lane {lane}"]
        assert 1.0 < friction.learned / friction.stands < 1.08
    speed = told["bowler.toml", "speed_mph"]
    assert speed.stands == pytest.approx(17.4)
    assert speed.learned == pytest.approx(speed.stands, abs=0.1)
    angle = told["bowler.toml", "scatter.launch_angle_deg"]
    assert 0.5 < angle.learned / angle.stands < 2.0
