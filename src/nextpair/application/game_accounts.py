"""Games against their plan: where the pins went, step by step from what was planned to the score.

Each step changes one thing of the one before, so the steps add up to score - planned score
exactly: the lanes as they are believed to have been, the release of the day, what was thrown in
place of what was planned, where the balls came in, what fell of it, and spares (`luck`).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from nextpair.application.entry_chances import told_chances
from nextpair.application.event_luck import USUAL_SPARES
from nextpair.application.hindsight import Expectation, Hindsight
from nextpair.application.luck import LeaveChances, SpareChance, luck_of_game
from nextpair.application.met_racks import MetRack, game_of_racks, racks_of_shots
from nextpair.application.shot_jottings import NotedShot
from nextpair.domain.bowler import Hand
from nextpair.domain.debrief import GameAccount
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.sheet import GameCard, Sheet
from nextpair.domain.shot_log import LoggedShot
from nextpair.domain.units import DEGREE_RAD, MPH_MPS
from nextpair.kernel.throws import own_board
from nextpair.planning.cards import Desk, meant_line_card
from nextpair.planning.next_move import LaneNow
from nextpair.planning.odds import game_numbers, odds_by_draw
from nextpair.planning.release_change import ReleaseChange
from nextpair.planning.study import ANSWERED_SHARE, LaneStudy, Study
from nextpair.planning.trial import Line, leaves_by_draw
from nextpair.scoring.game_value import MOST_RACKS
from nextpair.scoring.leaves import FULL_RACK, leave_kind, mirrored_leave

FloatArray = NDArray[np.float64]
Lines = tuple[Line, Line]

SMALL_PINS = 3.0
"""Less than this a game is nothing that anybody could have known."""
HARDLY_MORE = f"would have been worth {SMALL_PINS:.0f} pins more"


@dataclass(frozen=True, slots=True)
class Best:
    """The best ball and line on each lane of a pair that the final belief knows of, and what they
    were to score."""

    lines: Lines
    score: float


def game_accounts(
    hindsight: Hindsight, shots: Sequence[NotedShot], sheet: Sheet
) -> tuple[GameAccount, ...]:
    """The account of every finished game that the sheet planned and whose pins are known."""
    cards = {card.game: card for card in sheet.games}
    chance = spare_chance_of(hindsight)
    found = []
    for game, met in groupby(racks_of_shots(shots), key=lambda rack: rack.game):
        racks = tuple(met)
        counting = hindsight.event.format.counting
        played = game_of_racks(racks, counting)
        if game in cards and played is not None and played.score is not None:
            found.append(_account(hindsight, cards[game], racks, chance))
    return tuple(found)


def spare_chance_of(hindsight: Hindsight) -> SpareChance:
    """The bowler's own chance of each leave, as computed for the event; the usual one of its kind
    where a leave is too rare for the table."""
    table, hand = hindsight.ground.table, hindsight.event.bowler.hand
    computed = dict(zip(table.leaves, hindsight.ground.spares.tolist(), strict=True))

    def chance(leave: int) -> float:
        own = leave if hand is Hand.RIGHT else mirrored_leave(leave)
        return float(computed.get(own, USUAL_SPARES[leave_kind(leave)]))

    return chance


def _account(
    hindsight: Hindsight, card: GameCard, racks: Sequence[MetRack], chance: SpareChance
) -> GameAccount:
    event = hindsight.event
    planned = planned_lines(hindsight, card)
    on_lanes = expected_of(hindsight, hindsight.as_released, card.game, planned)
    of_day = expected_of(hindsight, hindsight.study, card.game, planned)
    thrown = _thrown(hindsight, racks, planned)
    luck = luck_of_game(
        racks,
        [thrown[min(place, len(racks) - 1)].leaves for place in range(MOST_RACKS)],
        dict(_came_in(hindsight, racks, thrown)),
        chance,
        event.format.counting,
    )
    best = best_of(hindsight, card.game)
    regret_pins = max(best.score - luck.expected_score, 0.0)
    option = hindsight.options[best.lines[0].option]
    desk = Desk(
        hindsight.study,
        hindsight.ground.table,
        hindsight.ground.spares,
        event.bowler,
        hindsight.ground.pins,
    )
    left, right = (
        meant_line_card(desk, lane, line)
        for lane, line in zip(hindsight.study.of_game(card.game), best.lines, strict=True)
    )
    return GameAccount(
        game=card.game,
        pair=card.pair,
        score=luck.score,
        planned_score=card.expected_score,
        lane_pins=on_lanes - card.expected_score,
        release_pins=of_day - on_lanes,
        choice_pins=luck.expected_score - of_day,
        strays_pins=luck.line_pins,
        carry_pins=luck.carry_pins,
        strays_and_carry_pins=luck.line_and_carry_pins,
        spares_pins=luck.spares_pins,
        best_score=luck.expected_score + regret_pins,
        regret_pins=regret_pins,
        ball=_most_thrown(racks),
        best_ball=option.name,
        best_surface_grit=option.surface.named,
        best_line=left,
        best_right_line=right,
        words=account_words(luck.score - card.expected_score, regret_pins),
    )


def planned_lines(hindsight: Hindsight, card: GameCard) -> Lines:
    """The sheet's lines of a game, left lane first."""
    option = hindsight.option_named(card.ball, card.surface_grit)
    left, right = (
        Line(
            option,
            own_board(lane.line.laydown_board, hindsight.event.bowler.hand),
            lane.line.launch_angle_deg * DEGREE_RAD,
            ReleaseChange(
                speed_mps=lane.line.speed_change_mph * MPH_MPS,
                rotation_rad=lane.line.axis_rotation_change_deg * DEGREE_RAD,
            ),
        )
        for lane in card.lanes
    )
    return left, right


def expected_of(
    hindsight: Hindsight,
    study: Study,
    game: int,
    lines: Lines,
    answered_share: float = ANSWERED_SHARE,
) -> float:
    """Expected score of a game on two lines, thrown as a sheet expects it: as planned, and moved
    once the lane has shown itself."""
    event, ground = hindsight.event, hindsight.ground
    odds = [
        odds_by_draw(
            leaves_by_draw(
                line, lane, event.bowler, ground.table, hindsight.errors, answered_share
            ),
            ground.table.leaves,
            ground.spares,
        )
        for line, lane in zip(lines, study.of_game(game), strict=True)
    ]
    return game_numbers(odds[0], odds[1])[0]


def best_of(hindsight: Hindsight, game: int) -> Best:
    """The best ball of a game, and its best line on each lane, under the final belief."""
    left, right = hindsight.study.of_game(game)
    worth = left.values.best_value() + right.values.best_value()
    option = int(np.argmax(worth))
    lines = _best_line(left, option), _best_line(right, option)
    return Best(lines, expected_of(hindsight, hindsight.study, game, lines, answered_share=0.0))


def _best_line(lane: LaneStudy, option: int) -> Line:
    values = lane.values
    row, column = values.best_cell(option)
    return Line(option, float(values.grid.own_laydown[row]), float(values.grid.angle_rad[column]))


def _thrown(
    hindsight: Hindsight, racks: Sequence[MetRack], planned: Lines
) -> tuple[Expectation, ...]:
    """What was to be expected of every rack's first ball from where it was meant. Where nobody
    told, it is what a sheet expects of the planned line: nobody is charged with moves that may
    have been made."""
    found = []
    for rack in racks:
        shot = rack.shot
        if shot is None:
            raise InvalidValueError("racks", rack.place, "racks of logged shots")
        now = hindsight.now(shot)
        line = hindsight.meant_line(shot, now)
        if line is None:
            found.append(_as_planned(hindsight, shot, planned, now))
        else:
            found.append(hindsight.expectation(line, now, shot))
    return tuple(found)


def _as_planned(
    hindsight: Hindsight, shot: LoggedShot, planned: Lines, now: LaneNow
) -> Expectation:
    """What was to be expected of a shot's ball on the planned line of its lane, moved once the
    lane has shown itself."""
    event, table = hindsight.event, hindsight.ground.table
    pair = event.pair_in_game(event.start_pair, shot.game)
    line = replace(planned[pair.lanes.index(shot.lane)], option=hindsight.option_of(shot))
    lane = hindsight.study.lanes[shot.game, shot.lane]
    leaves = leaves_by_draw(line, lane, event.bowler, table, hindsight.errors)
    return replace(
        hindsight.expectation(line, now, shot),
        leaves=told_chances(table, event.bowler.hand, leaves.mean(axis=0)),
    )


def _came_in(
    hindsight: Hindsight, racks: Sequence[MetRack], thrown: Sequence[Expectation]
) -> Iterator[tuple[int, LeaveChances]]:
    """By the rack's place what its ball leaves, where somebody saw it come in. In a game in which
    somebody looked, a ball that took nothing and was not seen at the pins never came to them."""
    table, hand = hindsight.ground.table, hindsight.event.bowler.hand
    seen = [rack.own_entry_boards(hand) for rack in racks]
    for rack, boards, expected in zip(racks, seen, thrown, strict=True):
        if boards is not None:
            yield rack.place, told_chances(table, hand, expected.given(boards))
        elif rack.leave == FULL_RACK and not rack.first.foul and set(seen) != {None}:
            yield rack.place, {FULL_RACK: 1.0}


def _most_thrown(racks: Sequence[MetRack]) -> str:
    counts = Counter(rack.shot.ball for rack in racks if rack.shot is not None)
    return counts.most_common(1)[0][0]


def account_words(over_plan_pins: float, regret_pins: float) -> str:
    """A game in a few words."""
    more = "more" if over_plan_pins >= 0 else "fewer"
    told = f"{abs(over_plan_pins):.0f} pins {more} than planned"
    if regret_pins < SMALL_PINS:
        return f"{told}; no other ball or line {HARDLY_MORE}."
    return f"{told}; another ball or line was worth {regret_pins:.0f} pins more."
