"""Why the practice is used as it is, in plain sentences with the numbers behind them."""

from __future__ import annotations

import numpy as np

from nextpair.planning.practice import Drill, Practice, Use
from nextpair.planning.reasons import game_words, listed_words, pair_words
from nextpair.planning.spare_shots import SpareShot
from nextpair.planning.study import Study


def use_words(study: Study, practice: Practice, use: Use) -> str:
    """What a use of the practice is, and what it gains."""
    told = f"what the shots tell is worth {use.told_pins:.2f} pins a game"
    return f"{_split_words(study, practice, use)}: {told}; {_worn_words(study, use)}."


def _split_words(study: Study, practice: Practice, use: Use) -> str:
    thrown = [
        f"{count} with {study.options[sight.lines[0].option].name}"
        for sight, count in zip(practice.lessons.sights, use.shots, strict=True)
        if count
    ]
    shots = sum(use.shots)
    return f"{shots} {'shot' if shots == 1 else 'shots'}, {listed_words(thrown)}"


def _worn_words(study: Study, use: Use) -> str:
    """What wearing in does to the games on this pair; it stays behind where the bowler moves."""
    games = [game for game in range(1, study.event.games + 1) if study.pair(game) == study.pair(1)]
    pins = use.worn_pins * study.event.games / len(games)
    stays = len(games) == study.event.games
    return f"what they wear in moves {game_words(tuple(games))} by {pins:+.2f} pins" + (
        "" if stays else " and stays behind when you leave the pair"
    )


def drill_words(study: Study, drill: Drill, first: bool) -> str:
    """Why these practice shots, and what they can tell; of the second lane that it is the same."""
    if drill.lane_side == 1:
        return (
            "The same line on this lane: does it turn at the same place, or do the lanes differ?"
        )
    sight = drill.sight
    thrown = drill.shots
    tells = (
        f"Lanes within the doubt move its arrival by {sight.tells_boards:.1f} boards, one of your "
        f"shots strays by {sight.noise_boards:.1f}: the mean of {thrown} tells "
        f"{sight.noise_boards / np.sqrt(thrown):.1f}."
        if thrown > 1
        else f"One shot strays by {sight.noise_boards:.1f} boards, lanes within the doubt by "
        f"{sight.tells_boards:.1f}: look at where it turns, not at the pins."
    )
    if first:
        later = (
            f" You throw it again on {pair_words(study, drill.games[1:])}."
            if len(drill.games) > 1
            else ""
        )
        return f"Your first ball and line. {tells}{later}"
    event = study.event
    stays = event.games == 1 or study.pair(2) == study.pair(1)
    leaves = "" if stays else " You leave this pair after one game."
    return (
        f"For {game_words(drill.games)} on {pair_words(study, drill.games)}. {tells} What these "
        f"shots tell, and the others do not, is worth {drill.worth_pins:.1f} pins over the "
        f"event.{leaves}"
    )


def spare_drill_words(shot: SpareShot) -> str:
    """Why one straight shot at the corner pin, and how it is thrown."""
    how = "flat, with a third of your axis rotation" if shot.delivery.flat else "as at a strike"
    return (
        f"One shot at your corner pin, thrown {how}, on the line that the spare plan has: "
        f"{shot.chance:.0%} of them make it. Hand and feet, before it counts."
    )
