"""Reading as the proof's bowlers use it: logged shots in, the doubt that is left out."""

from __future__ import annotations

from collections.abc import Sequence

from nextpair.application.believed import belief_of, doubt_of
from nextpair.application.reading import Groundwork, reading_of
from nextpair.domain.shot_log import LoggedShot
from nextpair.planning.by_reading import Reader
from nextpair.planning.contenders import Prepared
from nextpair.planning.doubt import Doubt

LANES_DRAWN = 24
"""Draws of a belief under which every next line is weighed."""


def reader_of(prepared: Prepared, seed: int) -> Reader:
    """Somebody who reads the lanes of an event that is prepared for."""
    ground = Groundwork(prepared.table, prepared.spare_chance, prepared.pins, prepared.films)

    def read(shots: Sequence[LoggedShot]) -> Doubt:
        belief = belief_of(reading_of(prepared.event, shots, ground, seed))
        return doubt_of(belief, prepared.event.bowler, LANES_DRAWN, seed)

    return read
