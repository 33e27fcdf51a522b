"""The bundled event: what it is meant to show, and that it reads fast."""

from __future__ import annotations

import subprocess
import sys
from collections import Counter
from datetime import date
from decimal import Decimal

import pytest

from event_folder import DEMO
from nextpair.domain.ball import Cover, Role
from nextpair.domain.bowler import Hand, Style
from nextpair.domain.event import Event, Pair, SurfaceChanges
from nextpair.domain.units import DEGREE_RAD, FOOT_M, INCH_M, MPH_MPS, POUND_KG, RPM_RADPS
from nextpair.files import load_event
from nextpair.physics.dressing import film_of
from nextpair.physics.film import film_units, pattern_ratio, volume_ml


@pytest.fixture(scope="module")
def event() -> Event:
    return load_event(DEMO / "event.toml")


def test_it_is_read_in_si_units(event):
    release = event.bowler.release
    assert release.speed_mps == pytest.approx(17.4 * MPH_MPS)
    assert release.rev_rate_radps == pytest.approx(365 * RPM_RADPS)
    assert release.axis_rotation_rad == pytest.approx(48 * DEGREE_RAD)
    assert event.bowler.reach.laydown_boards == (9.0, 32.0)
    assert event.bowler.scatter.launch_angle_rad == pytest.approx(0.26 * DEGREE_RAD)
    ball = event.locker[0]
    assert ball.mass_kg == pytest.approx(15 * POUND_KG)
    assert ball.rg_m == pytest.approx(2.48 * INCH_M)
    assert ball.layout.pin_to_pap_m == pytest.approx(4.75 * INCH_M)
    assert event.left_pattern is event.right_pattern
    assert event.left_pattern.passes[0].end_m == pytest.approx(20 * FOOT_M)
    assert event.house.trait(26).tilt_m == pytest.approx(-0.022 * INCH_M)
    assert event.house.trait(21).friction == 1.06
    assert event.practice_s == 12 * 60
    assert event.date == date(2026, 10, 17)
    assert event.surface_changes is SurfaceChanges.BEFORE


def test_money_is_exact(event):
    assert event.money.entry_fee == Decimal("95.00")
    assert dict(event.money.expenses)["food"] == Decimal("31.50")
    assert event.money.brackets.pays == (Decimal("25.00"), Decimal("10.00"))
    assert [pot.per for pot in event.money.side_pots] == ["game", "squad"]


def test_all_games_are_on_different_pairs(event):
    pairs = [event.pair_in_game(event.start_pair, game) for game in range(1, event.games + 1)]
    assert len(set(pairs)) == event.games


def test_the_second_game_follows_two_left_handers(event):
    second = event.pair_in_game(event.start_pair, 2)
    assert [e.hand for e in event.squad if e.pair == second] == [Hand.LEFT, Hand.LEFT]


def test_the_squad_is_mixed(event):
    assert len(event.squad) == 28
    assert event.pairs == tuple(Pair(lane) for lane in range(13, 26, 2))
    assert set(Style) <= {entrant.style for entrant in event.squad}
    assert set(Cover) <= {entrant.cover for entrant in event.squad}


def test_the_locker_has_something_for_every_lane(event):
    assert Counter(ball.role for ball in event.locker) == {Role.STRIKE: 12, Role.SPARE: 2}
    assert {ball.cover for ball in event.locker} == set(Cover)


def test_what_the_files_leave_out_is_listed_as_guessed(event):
    assert event.guessed == (
        "bowler.toml: scatter.rev_rate_rpm",
        "locker.csv: games_on_surface of Teasel Comb",
        "squad.csv: cover of Pell Ashgrove",
        "squad.csv: rev_rate_rpm of Rufina Dace",
        "squad.csv: rev_rate_rpm of Magnus Elverby",
        "squad.csv: speed_mph of Magnus Elverby",
        "squad.csv: style of Silas Penhow",
        "squad.csv: cover of Silas Penhow",
        "squad.csv: rev_rate_rpm of Jory Bassington",
    )


def test_the_film_is_that_of_a_flat_tournament_pattern(event):
    pattern = event.left_pattern
    film_um = film_of(pattern)
    assert 25 <= volume_ml(film_um) <= 27
    # [facts] section 4: championship patterns from 1.67 to 3.11
    assert 1.67 <= pattern_ratio(film_um, pattern.length_m) <= 3.11
    units = film_units(film_um)
    oiled = units[1 : int(2 * pattern.length_m / FOOT_M)]
    assert (oiled[:-1] >= oiled[1:] - 1e-9).all(), "thinner with every half foot down the lane"
    right = oiled[:, 1:20]
    assert (right[:, 1:] >= right[:, :-1] - 1e-9).all(), "thicker with every board to the middle"
    assert oiled == pytest.approx(oiled[:, ::-1])
    assert right[: 2 * 35].min() >= 3.0
    steps = oiled[:-1, 1:-1] / oiled[1:, 1:-1]
    assert steps.max() <= 3.0, "no cliff: the ends of the passes are spread out"


def test_it_reads_within_a_second_and_without_the_model():
    script = (
        "import sys, time; start = time.perf_counter()\n"
        "from nextpair.files import load_event\n"
        f"load_event({str(DEMO / 'event.toml')!r})\n"
        "print(time.perf_counter() - start, *{'numpy', 'numba', 'scipy'} & set(sys.modules))"
    )
    run = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    seconds, *heavy = run.stdout.split()
    assert heavy == []
    assert float(seconds) < 3.0, "a second on a quiet machine"
