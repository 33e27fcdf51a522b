"""The errors that a day is bowled with: those thrown are as spread as the bowler is."""

from __future__ import annotations

from dataclasses import fields

import numpy as np
import pytest

from nextpair.kernel.throws import Errors
from nextpair.planning.day import FRAMES, SHOTS, errors_of_game
from small_event import small_event

SCATTER = small_event().bowler.scatter
GAMES = 400
THREE_ERRORS = 3 / np.sqrt(2 * GAMES * FRAMES)
"""Of a deviation from so many shots, as a share."""


@pytest.mark.parametrize("part", [part.name for part in fields(Errors)])
def test_shots_that_are_thrown_err_from_frame_to_frame_as_the_bowler_does(part):
    """Of independent normal shots the mean of ten has a deviation of 1 / sqrt(10) of one's own."""
    games = [getattr(errors_of_game(SCATTER, seed), part) for seed in range(GAMES)]
    own = np.std(games)
    thrown = np.array(games)[:, ::SHOTS]
    assert thrown.std() == pytest.approx(own, rel=THREE_ERRORS)
    assert thrown.std(axis=1, ddof=1).mean() == pytest.approx(own, rel=0.06)
    assert thrown.mean(axis=1).std() == pytest.approx(own / np.sqrt(FRAMES), rel=0.15)


def test_a_frames_shots_are_all_of_its_part_of_the_sequence():
    game = errors_of_game(SCATTER, 3)
    for frame in range(FRAMES):
        share = np.sort(game.laydown_boards[frame * SHOTS : (frame + 1) * SHOTS])
        assert np.std(share) == pytest.approx(SCATTER.laydown_boards, rel=0.25)
