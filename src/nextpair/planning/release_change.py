"""A change of release made on purpose, and what it costs in scatter."""

from __future__ import annotations

from dataclasses import dataclass, replace

from nextpair.domain.bowler import Release, Scatter
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.units import DEGREE_RAD, MPH_MPS
from nextpair.kernel.throws import Errors

WIDER_EACH_MPH = 0.25
WIDER_EACH_DEG = 0.025
"""What each mph and each degree of axis rotation, on purpose, adds to all of a bowler's scatter,
as a share of it: what is unusual is repeated less well. Assumption; a log tests it by how far
shots thrown so cross the arrows and arrive from where they were meant to, against usual ones."""


@dataclass(frozen=True, slots=True)
class ReleaseChange:
    """How much harder and with how much more axis rotation than usual a ball is thrown."""

    speed_mps: float = 0.0
    rotation_rad: float = 0.0

    @property
    def widening(self) -> float:
        """Factor on all of the scatter, at least one."""
        return (
            1.0
            + WIDER_EACH_MPH * abs(self.speed_mps) / MPH_MPS
            + WIDER_EACH_DEG * abs(self.rotation_rad) / DEGREE_RAD
        )

    def released(self, usual: Release) -> Release:
        """The release with this change.

        Raises: InvalidValueError where nobody delivers such a one.
        """
        return replace(
            usual,
            speed_mps=usual.speed_mps + self.speed_mps,
            axis_rotation_rad=usual.axis_rotation_rad + self.rotation_rad,
        )

    def scattered(self, usual: Scatter) -> Scatter:
        """The scatter under this change.

        Raises: InvalidValueError where no bowler strays so far.
        """
        return Scatter(
            laydown_boards=self.widening * usual.laydown_boards,
            launch_angle_rad=self.widening * usual.launch_angle_rad,
            speed_mps=self.widening * usual.speed_mps,
            rev_rate_radps=self.widening * usual.rev_rate_radps,
            axis_rotation_rad=self.widening * usual.axis_rotation_rad,
            axis_tilt_rad=self.widening * usual.axis_tilt_rad,
        )

    def can_be_thrown(self, release: Release, scatter: Scatter) -> bool:
        """Whether somebody of that usual release and scatter delivers it."""
        try:
            self.released(release)
            self.scattered(scatter)
        except InvalidValueError:
            return False
        return True

    def strayed(self, usual: Errors) -> Errors:
        """The errors (n,) under this change, of which `usual` are those without."""
        return Errors(
            laydown_boards=self.widening * usual.laydown_boards,
            launch_angle_rad=self.widening * usual.launch_angle_rad,
            speed_mps=self.widening * usual.speed_mps,
            rev_rate_radps=self.widening * usual.rev_rate_radps,
            axis_rotation_rad=self.widening * usual.axis_rotation_rad,
        )


AS_USUAL = ReleaseChange()
