"""What practice shots tell: no shots nothing, endless shots everything, more never less."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import norm

from nextpair.planning.lesson import LUCK, Lessons, Sight, lessons_of, sight_of
from nextpair.planning.study import ANSWERED_SHARE
from nextpair.planning.trial import Line
from small_event import SEED, small_workings

WORK = small_workings()
STUDY = WORK.study
LINE = Line(0, 20.0, 0.03)


def two_draws(apart_boards: float, gain_pins: float) -> Lessons:
    """Two lanes that arrivals tell apart, and a line that is right for each."""
    value = np.array([[[gain_pins, 0.0]], [[0.0, gain_pins]]], np.float32)
    sight = Sight((LINE, LINE), np.array([[0.0, apart_boards]] * 2), 1.0)
    return Lessons(
        sights=(sight,),
        planned=((value, value),),
        answered=np.full((1, 2, 1), gain_pins),
        share=np.ones(1),
        luck=norm.ppf((np.arange(512)[:, None] + 0.5) / 512) * np.ones((1, 2)),
    )


def luck_of_many(lessons: Lessons, monkeypatch: pytest.MonkeyPatch) -> Lessons:
    monkeypatch.setattr("nextpair.planning.lesson.LUCK", len(lessons.luck))
    return lessons


@pytest.mark.parametrize("apart_boards", [0.5, 1.0, 2.0, 6.0])
def test_one_shot_tells_two_lanes_apart_as_the_closed_form_says(apart_boards, monkeypatch):
    """Closed form: of two equal chances d standard deviations apart one is right in Phi(d/2)."""
    lessons = luck_of_many(two_draws(apart_boards, 10.0), monkeypatch)
    right = norm.cdf(apart_boards / 2)
    gain = (1 - ANSWERED_SHARE) * 10.0 * (right - 0.5)
    assert lessons.gain_pins([1]) == pytest.approx(gain, abs=0.03)


def test_lanes_that_look_alike_teach_nothing(monkeypatch):
    assert luck_of_many(two_draws(0.0, 10.0), monkeypatch).gain_pins([1]) == 0.0


@pytest.fixture(scope="module")
def lessons() -> Lessons:
    sights = (sight_of(STUDY, WORK.choices[0].lines, SEED),)
    return lessons_of(STUDY, WORK.bag.options, sights, SEED)


def test_no_shots_tell_nothing_and_more_tell_more(lessons):
    gains = [lessons.gain_pins([shots]) for shots in (0, 2, 8, 32, 10_000)]
    assert gains[0] == pytest.approx(0.0, abs=1e-4)  # single precision
    assert gains == sorted(gains)
    assert gains[1] > 0.0


def test_endless_shots_are_worth_knowing_the_draw(lessons):
    """Against the value of perfect information, worked out by itself."""
    total = []
    for game, share in zip((1, 2), lessons.share, strict=True):
        planned = [
            lane.values.value[list(WORK.bag.options), :, ::3, ::3] for lane in STUDY.of_game(game)
        ]
        answered = STUDY.answered_values[list(WORK.bag.options), game - 1]
        known = np.mean([value.max(axis=(2, 3)) for value in planned], axis=0)
        blind = np.mean([value.mean(axis=1).max(axis=(1, 2)) for value in planned], axis=0)
        best = (0.4 * known + 0.6 * answered).max(axis=0).mean()
        total.append(share * (best - (0.4 * blind + 0.6 * answered.mean(axis=1)).max()))
    assert lessons.gain_pins([1e9]) == pytest.approx(np.mean(total), abs=0.02)


def test_a_bowler_who_strays_more_sees_less(lessons):
    sight = lessons.sights[0]
    wild = replace(lessons, sights=(replace(sight, noise_boards=5 * sight.noise_boards),))
    assert wild.gain_pins([4]) < lessons.gain_pins([4])
    assert lessons.luck.shape == (LUCK, 2)
