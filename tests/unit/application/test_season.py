"""A season put together from invented events: what is counted, advised, due and reached."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from nextpair.application.ball_usage import OwnedBall, ball_usage
from nextpair.application.deadlines import deadlines_of
from nextpair.application.event_statistics import event_statistics
from nextpair.application.events import bundle_of
from nextpair.application.goals_progress import progress_of
from nextpair.application.scores import known_scores
from nextpair.application.season import kept_season, points_of, season_of
from nextpair.application.season_events import BallTally, Tally, facts_of, facts_of_log
from nextpair.application.season_trends import trend_of
from nextpair.application.standings import standing_of
from nextpair.domain.ball import Cover
from nextpair.domain.field_score import FieldScore
from nextpair.domain.goal import Goal, Measure
from nextpair.domain.record import Kind
from nextpair.domain.season import Advice, Due, Figure
from nextpair.files import FilePapers
from seasons import FIRST, TODAY, facts, kept_events, to_come

WEIR = OwnedBall("Slate Weir", Cover.SOLID, 2000)


def test_facts_agree_with_statistics_and_standing():
    store, account = kept_events(1)
    record = store.records(account, Kind.EVENT)[0]
    event = FilePapers().event(bundle_of(store, account, record.id))
    log = store.log(account, record.id)
    told, rates = facts_of_log("", event, log), event_statistics(event, log).all
    for tally, share in (
        (told.strikes, rates.strikes),
        (told.spares, rates.spares),
        (told.frames_filled, rates.frames_filled),
        (told.single_pins, next(k.spares for k in rates.by_kind if k.kind == "single-pin")),
    ):
        assert (tally.made, tally.tried) == (share.made, share.tried)
    standing = standing_of(event, known_scores(log, event.bowler_name), seed=7)
    assert told.beside_field.value == pytest.approx(standing.condition.own_sds)


def test_a_kept_season_knows_every_event():
    store, account = kept_events(6)
    told = kept_season(store, FilePapers(), account, TODAY)
    assert (told.events, told.games) == (6, 12)
    assert all(len(trend.points) == 6 for trend in told.trends)
    assert {group.kind for group in told.groups} == {"length", "surface", "house"}
    assert not told.left_out
    assert not told.deadlines


def test_no_trend_is_told_of_so_few():
    told = trend_of(Figure.STRIKES, points_of(Figure.STRIKES, [facts(n) for n in range(4)]))
    assert told.change is None
    assert "so few: 4 of the 5" in told.words


def test_events_on_two_days_tell_no_trend():
    events = [facts(n, date=FIRST + timedelta(n % 2), beside_field=None) for n in range(8)]
    told = trend_of(Figure.STRIKES, points_of(Figure.STRIKES, events))
    assert told.change is None
    assert "too few days" in told.words


def test_a_plain_rise_is_told():
    events = [facts(n, strikes=Tally(20 + 3 * n, 66)) for n in range(8)]
    told = trend_of(Figure.STRIKES, points_of(Figure.STRIKES, events))
    assert told.change == pytest.approx(3 / 66 / 14 * 30)
    assert told.words.startswith("It rises")


def used(number, games=5.0, strikes=(30, 60), put_on=None):
    return facts(
        number, balls=(BallTally("Slate Weir", put_on, games, Tally(*strikes), Tally(0, 0)),)
    )


def test_games_count_since_the_last_finish():
    ball = replace(WEIR, history=((FIRST + timedelta(20), 1500),))
    (use,) = ball_usage([ball], [used(n) for n in range(4)])
    assert [(one.surface_grit, one.games) for one in use.finishes] == [
        ("as it came", 10.0),
        (1500, 10.0),
    ]
    assert (use.games, use.games_on_cover) == (20.0, 10.0)


def test_a_finish_put_on_at_an_event_begins_anew():
    (use,) = ball_usage([WEIR], [used(0), used(1, put_on=3000), used(2)])
    assert [(one.surface_grit, one.games) for one in use.finishes] == [(2000, 5.0), (3000, 10.0)]


def test_games_that_the_owner_counted_stand_where_they_are_more():
    (use,) = ball_usage([replace(WEIR, games=12)], [used(0)])
    assert use.games_on_cover == 12


@pytest.mark.parametrize(
    ("games", "next_games", "advice"),
    [
        (10, 6, Advice.CLEAN),
        (26, 6, Advice.SOON),
        (24, 6, Advice.CLEAN),
        (30, 0, Advice.RESURFACE),
    ],
)
def test_a_solid_cover_is_made_anew_after_thirty_games(games, next_games, advice):
    """Common practice, from memory."""
    (use,) = ball_usage([replace(WEIR, games=games)], [], next_games)
    assert (use.advice, use.limit_games, use.by_own_records) == (advice, 30.0, False)
    assert "from memory" in " ".join(use.words)


def test_plastic_is_not_made_anew():
    (use,) = ball_usage([replace(WEIR, cover=Cover.PLASTIC, games=200)], [], 6)
    assert (use.advice, use.limit_games) == (Advice.CLEAN, None)


def test_own_strikes_that_fade_say_when():
    """Strikes fall by a point a game: five are lost after five, and six is the least."""
    events = [used(n, games=4.0, strikes=(60 - 4 * n, 100)) for n in range(8)]
    (use,) = ball_usage([WEIR], events)
    assert use.by_own_records
    assert use.limit_games == 6.0
    slower = [used(n, games=4.0, strikes=(600 - 10 * n, 1000)) for n in range(8)]
    (use,) = ball_usage([WEIR], slower)
    assert use.limit_games == pytest.approx(0.05 / (0.01 / 4), rel=0.01)


def test_deadlines_come_in_order_of_days():
    event = to_come(date(2026, 12, 12), entry_deadline=date(2026, 12, 1))
    season = season_of([used(0, games=28.0), event], [WEIR], (), TODAY)
    assert [(one.due, one.days_left) for one in season.deadlines] == [
        (Due.ENTRY, 3), (Due.RESURFACING, 11), (Due.PACKING, 13), (Due.EVENT, 14),
    ]  # fmt: skip
    assert "Slate Weir" in season.deadlines[1].words


def test_an_entry_that_is_closed_is_told_until_the_event_is_over():
    event = to_come(date(2026, 12, 12), entry_deadline=date(2026, 11, 20))
    assert deadlines_of([event], (), TODAY)[0].days_left == -8
    assert deadlines_of([event], (), date(2026, 12, 13)) == ()


def test_what_is_bowled_today_is_due_no_more_and_hides_nothing_of_the_next_event():
    today = facts(9, date=TODAY, bag=("Slate Weir",))
    season = season_of([today, to_come(date(2026, 12, 12))], [replace(WEIR, games=40)], (), TODAY)
    assert [(one.due, one.event) for one in season.deadlines] == [
        (due, "Ebb Tide Open") for due in (Due.RESURFACING, Due.PACKING, Due.EVENT)
    ]


@pytest.mark.parametrize(("others", "is_told"), [(2, False), (3, True)])
def test_fewer_than_three_others_are_no_field(others, is_told):
    store, account = kept_events(1)
    record = store.records(account, Kind.EVENT)[0]
    event = FilePapers().event(bundle_of(store, account, record.id))
    scores = [
        FieldScore(name, game, 180 + 9 * place + game)
        for place, name in enumerate((event.bowler_name, "Entrant 1", "Entrant 2", "Entrant 3"))
        for game in (1, 2)
        if place <= others
    ]
    assert (facts_of("", event, scores, ()).beside_field is not None) is is_told


def goal(measure, target):
    return Goal("A goal", measure, target, date(2026, 1, 1), date(2026, 12, 31))


@pytest.mark.parametrize(
    ("measure", "value"),
    [
        (Measure.AVERAGE, 200.0), (Measure.FIELD_RELATIVE, 0.4), (Measure.STRIKES, 3000 / 66),
        (Measure.SPARES, 80.0), (Measure.SINGLE_PINS, 1500 / 17),
        (Measure.FRAMES_FILLED, 5000 / 60),
    ],
)  # fmt: skip
def test_a_goal_stands_where_its_events_do(measure, value):
    told = progress_of(goal(measure, 50 if value > 1 else 1), [facts(n) for n in range(3)], TODAY)
    assert told.value == pytest.approx(value)
    assert told.chance is None, "nothing is to come"


def test_events_outside_a_goals_days_do_not_count():
    told = progress_of(goal(Measure.EVENTS, 5), [facts(n) for n in range(-3, 3)], TODAY)
    assert (told.value, told.events_to_come) == (3, 0)


def test_a_goal_that_is_just_reached_is_reached():
    """29 of 100 are 29 %, though 100 times 0.29 is 28.999999999999996."""
    told = progress_of(
        goal(Measure.STRIKES, 29), [facts(0, strikes=Tally(29, 100))], date(2027, 1, 1)
    )
    assert told.words == "29.0 against 29 % of first balls: reached."


def test_cashes_have_a_chance_with_what_is_to_come():
    events = [facts(n, cashed=n % 2 == 0) for n in range(4)]
    coming = [to_come(date(2026, 12, day)) for day in (5, 12)]
    told = progress_of(goal(Measure.CASHES, 3), events + coming, TODAY)
    assert told.value == 2
    assert told.chance == pytest.approx(1 - (2.5 * 3.5) / (5 * 6)), "one of two: not none of two"
    over = progress_of(goal(Measure.CASHES, 3), events, date(2027, 1, 1))
    assert over.is_over
    assert over.chance is None


def test_a_share_far_above_its_goal_is_reached_nearly_surely():
    events = [facts(n, strikes=Tally(30 + n % 2, 66)) for n in range(8)]
    coming = [to_come(date(2026, 12, 5))]
    sure = progress_of(goal(Measure.STRIKES, 30), events + coming, TODAY)
    never = progress_of(goal(Measure.STRIKES, 60), events + coming, TODAY)
    assert sure.chance > 0.99
    assert never.chance < 0.01
