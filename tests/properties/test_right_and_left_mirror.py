"""A left-hander's shot on the mirrored film is the mirror image of the right-hander's.

Both are rolled by the slow oracle in lane axes, the left-hander from real left-handed vectors, so
this is a property of the equations and not of how shots are turned round at the kernel's door. The
solver's own error on so rough a film is below the tolerances.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from nextpair.domain.ball import Layout
from nextpair.domain.bowler import Hand
from nextpair.domain.lane import BOARDS, CELLS, board_to_x_m, mirrored_board, x_to_board
from nextpair.domain.units import DEGREE_RAD, INCH_M, MPH_MPS, RPM_RADPS
from nextpair.physics.layout import axes_to_quaternion, core_axes
from nextpair.physics.reference import FilmFriction, Start, roll
from nextpair.physics.release import launch_spin_radps, launch_velocity_mps

STATIONS_M = (0.0, 4.572, 9.0, 12.5, 15.0, 18.0)


@dataclass(frozen=True)
class Shot:
    """One shot of either hand; the board counts from the bowler's own edge."""

    own_board: float
    speed_mps: float
    angle_rad: float
    rev_rate_radps: float
    rotation_rad: float
    tilt_rad: float
    layout: Layout

    def start(self, hand: Hand) -> Start:
        """Lane vectors as [model-sheet] section 6.1 writes them for each hand."""
        right_axis = launch_spin_radps(1.0, self.rotation_rad, self.tilt_rad)
        low, high, middle = core_axes(self.layout, right_axis)
        if hand is Hand.RIGHT:
            return self._at(
                self.own_board,
                launch_velocity_mps(self.speed_mps, self.angle_rad),
                launch_spin_radps(self.rev_rate_radps, self.rotation_rad, self.tilt_rad),
                axes_to_quaternion(low, high, middle),
            )
        omega = self.rev_rate_radps
        level = omega * math.cos(self.tilt_rad)
        mirrored_low, mirrored_high = (-low[0], *low[1:]), (-high[0], *high[1:])
        return self._at(
            mirrored_board(self.own_board),
            (
                -self.speed_mps * math.sin(self.angle_rad),
                self.speed_mps * math.cos(self.angle_rad),
            ),
            (
                -level * math.cos(self.rotation_rad),
                level * math.sin(self.rotation_rad),
                -omega * math.sin(self.tilt_rad),
            ),
            axes_to_quaternion(
                mirrored_low, mirrored_high, tuple(np.cross(mirrored_low, mirrored_high))
            ),
        )

    def _at(self, board, velocity_mps, spin_radps, core) -> Start:
        rg_m = (2.49 * INCH_M, 2.54 * INCH_M, 2.525 * INCH_M)
        return Start(board_to_x_m(board), velocity_mps, spin_radps, core, rg_m)


shots = st.builds(
    Shot,
    own_board=st.floats(5.0, 33.0),
    speed_mps=st.floats(15.0, 21.0).map(lambda mph: mph * MPH_MPS),
    angle_rad=st.floats(-1.0, 4.0).map(lambda degrees: degrees * DEGREE_RAD),
    rev_rate_radps=st.floats(100.0, 600.0).map(lambda rpm: rpm * RPM_RADPS),
    rotation_rad=st.floats(0.0, 90.0).map(math.radians),
    tilt_rad=st.floats(0.0, 30.0).map(math.radians),
    layout=st.builds(
        Layout,
        st.floats(0.0, 6.7).map(lambda inches: inches * INCH_M),
        st.floats(0.0, math.pi),
        st.floats(0.0, math.pi / 2),
    ),
)


@settings(max_examples=10, phases=(Phase.explicit, Phase.reuse, Phase.generate))
@given(shots, st.integers(0, 2**32 - 1))
def test_left_mirrors_right_on_any_film_with_any_core(shot, film_seed):
    film_um = np.random.default_rng(film_seed).uniform(0.0, 3.0, (CELLS, BOARDS))
    right, left = (
        roll(shot.start(hand), FilmFriction(film, 0.8, 0.03, 0.17), rtol=1e-9, atol=1e-11)
        for hand, film in ((Hand.RIGHT, film_um), (Hand.LEFT, film_um[:, ::-1]))
    )
    for distance_m in STATIONS_M:
        ours, theirs = right.at(distance_m), left.at(distance_m)
        assert x_to_board(theirs.x_m) == pytest.approx(
            mirrored_board(x_to_board(ours.x_m)), abs=1e-4
        )
        assert theirs.time_s == pytest.approx(ours.time_s, abs=1e-6)
        assert theirs.velocity_mps == pytest.approx(
            (-ours.velocity_mps[0], ours.velocity_mps[1]), abs=1e-5
        )
        omega_x, omega_y, omega_z = ours.spin_radps
        assert theirs.spin_radps == pytest.approx((omega_x, -omega_y, -omega_z), abs=1e-3)
        assert theirs.energy_jpkg == pytest.approx(ours.energy_jpkg)
