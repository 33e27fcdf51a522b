"""What to do with the practice: learn the lane, wear in a line, or both, by what each gains.

The bowler practises on the pair of the first game. What shots tell of it holds in part on every
later pair; what they wear stays behind when the bowler moves.
"""

from __future__ import annotations

from dataclasses import dataclass

from nextpair.domain.event import Event
from nextpair.planning.aim import PinValue
from nextpair.planning.choice import GameChoice
from nextpair.planning.lesson import Lessons, Sight, lessons_of, sight_of
from nextpair.planning.options import packed_spares
from nextpair.planning.own_wear import wear_in_gain_pins
from nextpair.planning.rotation import SECONDS_A_SHOT, practice_shots_per_bowler
from nextpair.planning.spare_shots import Delivery, SpareShot, best_shots, fresh_range
from nextpair.planning.study import Study
from nextpair.planning.trial import Line
from nextpair.scoring.leaves import pin_bit

CORNER_PIN = 10
"""Of a right-hander; a left-hander's is its mirror image, the 7."""
LOOK = 2
"""Shots that a ball gets at least, if there are so many: one on each lane. The doubt is about
lanes and knows nothing of the ball itself. Common practice."""
ALIKE_GAIN_PINS = 0.1
"""Uses whose gains differ by less are alike; then learning comes first: it is of use to the
bowler's eye too, which is not in the figure."""
LEARN, WEAR_IN, MIX = "learn the lane", "wear in a line", "mix"


@dataclass(frozen=True, slots=True)
class Drill:
    """Some practice shots with one ball on one line.

    `worth_pins` is what they tell, in pins over the whole event, that the other shots do not.
    """

    lane: int
    lane_side: int
    """0 = the pair's left lane, 1 = its right lane."""
    line: Line
    games: tuple[int, ...]
    shots: int
    minute: float
    worth_pins: float
    sight: Sight


@dataclass(frozen=True, slots=True)
class Use:
    """A use of the practice: shots at each sight, and what they gain in pins a game, mean over
    all games, by what they tell and by what they wear, which is taken to last on this pair."""

    name: str
    shots: tuple[int, ...]
    told_pins: float
    worn_pins: float

    @property
    def gain_pins(self) -> float:
        """Both together."""
        return self.told_pins + self.worn_pins


@dataclass(frozen=True, slots=True)
class Practice:
    """The uses of the practice that were weighed, and what there is to see.

    `games` are, for each sight, the games that its ball is planned for; the first sight is the
    first game's.
    """

    uses: tuple[Use, ...]
    lessons: Lessons
    games: tuple[tuple[int, ...], ...]

    @property
    def best(self) -> Use:
        """The use that gains most; of those alike the first."""
        most = max(use.gain_pins for use in self.uses)
        return next(use for use in self.uses if use.gain_pins > most - ALIKE_GAIN_PINS)


def strike_shots(event: Event) -> int:
    """Practice shots at ten pins: all but the one with the spare ball."""
    spare = min(len(packed_spares(event)), 1)
    return max(practice_shots_per_bowler(event.block, event.start_pair) - spare, 0)


def weighed_practice(
    study: Study,
    choices: tuple[GameChoice, ...],
    options: tuple[int, ...],
    pins: PinValue,
    seed: int,
) -> Practice | None:
    """All uses of the practice with what each gains; None where there is no time for a shot."""
    shots = strike_shots(study.event)
    if shots == 0:
        return None
    by_option: dict[int, list[int]] = {}
    for choice in choices:
        by_option.setdefault(choice.option, []).append(choice.game)
    sights = tuple(
        sight_of(study, choices[games[0] - 1].lines, seed) for games in by_option.values()
    )
    lessons = lessons_of(study, options, sights, seed)
    here = sum(study.pair(game) == study.pair(1) for game in range(1, study.event.games + 1))
    wear_in = wear_in_gain_pins(study, choices[0].lines, shots, pins, seed)
    wear_in *= here / study.event.games
    uses = tuple(
        Use(
            name=name,
            shots=split,
            told_pins=lessons.gain_pins(split),
            worn_pins=wear_in * split[0] / shots,
        )
        for name, split in (
            (LEARN, _most_told(lessons, shots, LOOK)),
            (WEAR_IN, (shots, *[0] * (len(sights) - 1))),
            (MIX, _most_told(lessons, shots, max((shots + 1) // 2, LOOK))),
        )
    )
    return Practice(uses, lessons, tuple(tuple(games) for games in by_option.values()))


def _most_told(lessons: Lessons, shots: int, first: int) -> tuple[int, ...]:
    """Shots at each sight: `first` at the first game's line, a look at every other ball, the rest
    two by two, one on each lane, where they tell most that is not known by then."""
    given: list[int] = []
    for place in range(len(lessons.sights)):
        given.append(min(LOOK if place else first, shots - sum(given)))
    while (left := shots - sum(given)) > 0:
        tried = [
            [count + min(2, left) * (place == chosen) for place, count in enumerate(given)]
            for chosen in range(len(given))
        ]
        given = max(tried, key=lessons.gain_pins)
    return tuple(given)


def practice_plan(study: Study, practice: Practice | None) -> tuple[Drill, ...]:
    """Drills of the best use in the order to throw them: each ball on both lanes, the first game's
    first."""
    if practice is None:
        return ()
    event, use, lessons = study.event, practice.best, practice.lessons
    minutes = minutes_a_shot(study)
    drills: list[Drill] = []
    thrown = 0
    for place, (sight, count) in enumerate(zip(lessons.sights, use.shots, strict=True)):
        without = [0 if other == place else n for other, n in enumerate(use.shots)]
        worth = event.games * (use.told_pins - lessons.gain_pins(without))
        for side, part in enumerate(((count + 1) // 2, count // 2)):
            if part:
                drills.append(
                    Drill(
                        lane=event.start_pair.lanes[side],
                        lane_side=side,
                        line=sight.lines[side],
                        games=practice.games[place],
                        shots=part,
                        minute=thrown * minutes,
                        worth_pins=worth,
                        sight=sight,
                    )
                )
                thrown += part
    return tuple(drills)


def corner_pin_shot(event: Event, seed: int) -> SpareShot | None:
    """The spare ball's shot at the own corner pin, as `spares` tells it; None without one."""
    spares = packed_spares(event)
    if not spares:
        return None
    lanes = fresh_range(event, seed)
    every = lanes.every_line(Delivery(spares[0], flat=True))
    return best_shots(lanes, every, [pin_bit(CORNER_PIN)])[0]


def minutes_a_shot(study: Study) -> float:
    """Time from one of the bowler's practice shots to the next: all take turns on two lanes."""
    pair = study.event.start_pair
    turns = max(len(study.event.block.entrants_on(pair, 0)) / len(pair.lanes), 1.0)
    return SECONDS_A_SHOT / 60 * turns
