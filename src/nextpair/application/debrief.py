"""The debrief of an event: its log and scores against its plan, and what that teaches."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from nextpair.application.cautions import ESTIMATES, PAIN
from nextpair.application.debrief_findings import Told, findings_of_event
from nextpair.application.findings import findings_of
from nextpair.application.game_accounts import (
    HARDLY_MORE,
    SMALL_PINS,
    game_accounts,
    spare_chance_of,
)
from nextpair.application.hindsight import Hindsight, hindsight_of
from nextpair.application.lane_story import in_turn, shots_that_tell
from nextpair.application.late_moves import late_moves
from nextpair.application.met_racks import racks_of_shots
from nextpair.application.model_version import model_version
from nextpair.application.ports import Progress, unwatched
from nextpair.application.reading import Groundwork, groundwork
from nextpair.application.shot_jottings import NotedShot
from nextpair.application.spare_record import ALL, spares_told
from nextpair.domain.ball import Ball
from nextpair.domain.belief import Finding
from nextpair.domain.debrief import (
    Debrief,
    FieldTold,
    LaneTold,
    PracticeTold,
)
from nextpair.domain.event import Event, Pair
from nextpair.domain.ledger import EventLedger
from nextpair.domain.sheet import Sheet
from nextpair.domain.shot_log import PRACTICE, LoggedShot
from nextpair.domain.standing import Standing
from nextpair.domain.unknowns import OF_THE_BOWLER, SHARED, Unknown, unknown_of
from nextpair.planning.options import ball_options
from nextpair.planning.reasons import listed_words

WELL_PINS = 2.0
"""From this many pins a game on, something went well."""
LINES_TOLD_SHARE = 0.8
"""Of first balls: with the lines of as many, the want of a late move says something."""
UNSEEN = (
    "Where nobody saw the ball come in, its line and its carry cannot be told apart: they stand "
    "together."
)
HOW = (
    "A game's parts are steps from the plan to the score, each by one final belief of lanes and "
    "release; what is not known of them is in every part."
)
UNTOLD = (
    "Where neither lay-down and target that were meant nor those that were seen are logged, the "
    "ball is held to the planned line, and no move can be told to have come late."
)
UNFINISHED = "Games that are not finished in the log have no account."


def debrief(
    event: Event,
    shots: Sequence[NotedShot],
    sheet: Sheet,
    seed: int,
    progress: Progress = unwatched,
    *,
    standing: Standing | None = None,
    money: EventLedger | None = None,
    ground: Groundwork | None = None,
) -> Debrief:
    """What an event taught, by its log and the sheet that it was planned by.

    ground : what its reads have in common, where that is known already.

    Raises InvalidValueError for shots that the event cannot have, and where none is at ten pins.
    """
    telling = in_turn(shots_that_tell([noted.shot for noted in shots]))
    ground = ground or groundwork(event, event.games, seed)
    progress("reading the shots", 0, 1)
    hindsight = hindsight_of(event, telling, _planned(event, sheet), ground, seed, progress)
    told = _told(hindsight, shots, telling, sheet)
    progress("reading the shots", 1, 1)
    return Debrief(
        event=event.name,
        bowler=event.bowler.name,
        date=event.date,
        house=event.house.name,
        patterns=tuple(dict.fromkeys((event.left_pattern.name, event.right_pattern.name))),
        model_version=model_version(),
        seed=seed,
        shots=int(hindsight.reading.used.sum()),
        games=told.games,
        lanes=tuple(_lanes(hindsight, telling)),
        release=told.release,
        spares=told.spares,
        late_moves=told.late_moves.moves,
        practice=told.practice,
        field=_field(standing),
        money=money,
        findings=findings_of_event(told),
        went_well=tuple(_went_well(told, standing)),
        notes=tuple(_notes(told)),
        cautions=(ESTIMATES, PAIN),
        hand=event.bowler.hand.value,
    )


def _told(
    hindsight: Hindsight,
    shots: Sequence[NotedShot],
    telling: Sequence[LoggedShot],
    sheet: Sheet,
) -> Told:
    """Everything that the findings are made of."""
    racks = racks_of_shots(shots)
    return Told(
        hindsight=hindsight,
        games=game_accounts(hindsight, shots, sheet),
        racks=racks,
        spares=spares_told(racks, spare_chance_of(hindsight)),
        release=_named(hindsight, OF_THE_BOWLER),
        lanes=_named(hindsight, SHARED),
        late_moves=late_moves(hindsight, telling),
        practice=_practice(hindsight, telling),
    )


def _planned(event: Event, sheet: Sheet) -> list[Ball]:
    """The balls of a sheet's games, finished as it says."""
    said = {(game.ball, game.surface_grit) for game in sheet.games}
    return [ball for ball in ball_options(event) if (ball.name, ball.surface.named) in said]


def _named(hindsight: Hindsight, unknowns: Sequence[Unknown]) -> tuple[Finding, ...]:
    """The findings of some unknowns."""
    wanted = {unknown.name for unknown in unknowns}
    return tuple(found for name, found in _findings(hindsight) if name in wanted)


def _findings(hindsight: Hindsight) -> Iterator[tuple[str, Finding]]:
    """Every unknown's own name, with what is told of it."""
    reading = hindsight.reading
    yield from zip(reading.names, findings_of(hindsight.event, reading), strict=True)


def _lanes(hindsight: Hindsight, shots: Sequence[LoggedShot]) -> Iterator[LaneTold]:
    """What all lanes share, then every pair that was bowled on with what its lanes have for
    themselves, where the shots told of it."""
    event = hindsight.event
    games_on: dict[Pair, list[int]] = {}
    for game in sorted({shot.game for shot in shots} - {PRACTICE}):
        games_on.setdefault(event.pair_in_game(event.start_pair, game), []).append(game)
    every = [game for games in games_on.values() for game in games]
    yield _lane_told("", sorted(every), _named(hindsight, SHARED))
    for pair, games in games_on.items():
        own = tuple(
            found
            for name, found in _findings(hindsight)
            if found.is_news and any(name == unknown_of(name).on(lane) for lane in pair.lanes)
        )
        yield _lane_told(str(pair), games, own)


def _lane_told(pair: str, games: Sequence[int], findings: tuple[Finding, ...]) -> LaneTold:
    likely = [found for found in findings if found.is_news and found.is_likely]
    words = [found.words if not pair else f"{found.name}: {found.words}" for found in likely]
    nothing = "like the others" if pair else "about as planned"
    return LaneTold(pair, tuple(games), findings, "; ".join(dict.fromkeys(words)) or nothing)


def _practice(hindsight: Hindsight, shots: Sequence[LoggedShot]) -> PracticeTold | None:
    """How practice was used; None where nothing of it was logged."""
    practised = [shot for shot in shots if shot.game == PRACTICE]
    if not practised:
        return None
    used = hindsight.reading.used[: len(practised)]
    lanes = tuple(sorted({shot.lane for shot in practised}))
    balls = tuple(dict.fromkeys(shot.ball for shot in practised))
    share = hindsight.told_share(practised)
    shots_told = "One shot" if len(practised) == 1 else f"{len(practised)} shots"
    both = "both lanes" if len(lanes) > 1 else f"lane {lanes[0]} alone"
    return PracticeTold(
        shots=len(practised),
        telling_shots=int(used.sum()),
        lanes=lanes,
        balls=balls,
        told_share=share,
        words=f"{shots_told} on {both} with {', '.join(balls)} took away {100 * share:.0f} % of "
        "the doubt about what they told most of.",
    )


def _field(standing: Standing | None) -> tuple[FieldTold, ...]:
    if standing is None:
        return ()
    return tuple(
        FieldTold(game.game, game.own_pins, game.mean_pins, game.own_sds)
        for game in standing.condition.by_game
        if game.own_pins is not None and game.own_sds is not None
    )


def _went_well(told: Told, standing: Standing | None) -> Iterator[str]:
    """What brought pins, or was as good as anybody could know."""
    games = told.games
    if games:
        choice = float(np.mean([game.choice_pins for game in games]))
        if choice >= WELL_PINS:
            yield f"Your moves and balls brought {choice:.1f} pins a game over the plan."
        calm = [game.game for game in games if game.regret_pins < SMALL_PINS]
        if calm:
            named = f"game{'' if len(calm) == 1 else 's'} {listed_words([*map(str, calm)])}"
            yield f"In {named} no other ball or line {HARDLY_MORE}."
        strays = [game.strays_pins for game in games if game.strays_pins is not None]
        if strays and float(np.mean(strays)) >= WELL_PINS:
            yield f"You hit your lines: {np.mean(strays):.1f} pins a game over your own usual."
        carry = [game.carry_pins for game in games if game.carry_pins is not None]
        if carry and float(np.mean(carry)) <= -WELL_PINS:
            yield (
                f"The pins took {-float(np.mean(carry)):.1f} pins a game that your balls had "
                "earned: that was not you."
            )
    every = next((row for row in told.spares if row.kind == ALL), None)
    if every is not None and every.made >= every.expected_made:
        yield (
            f"You made {every.made} of {every.tried} spares; {every.expected_made:.1f} were to be "
            "expected."
        )
    if games and not told.late_moves.moves and told.lines_told_share >= LINES_TOLD_SHARE:
        yield "No move came late: you went when the shots said so."
    if standing is not None and (standing.condition.own_sds or 0.0) > 0:
        yield "You scored over the field's mean, which says more than the score by itself."


def _notes(told: Told) -> Iterator[str]:
    if told.games:
        yield HOW
    if any(game.strays_and_carry_pins is not None for game in told.games):
        yield UNSEEN
    if told.lines_told_share < 1.0:
        yield UNTOLD
    if {rack.game for rack in told.racks} - {game.game for game in told.games}:
        yield UNFINISHED
