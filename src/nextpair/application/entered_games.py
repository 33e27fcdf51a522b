"""Games entered by counts: checked as they are written, and kept as scores of a log."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from uuid import UUID, uuid4

from nextpair.application.journal import standing
from nextpair.application.score_sheet import ScoredGame, WrittenGame, score_sheet
from nextpair.application.scores import field_scores, payload_of, score_of
from nextpair.application.store import Store
from nextpair.domain.errors import InputRefusedError, InvalidValueError, Problem
from nextpair.domain.field_score import FieldScore
from nextpair.domain.format import Counting
from nextpair.domain.jotting import Jotting, JottingKind, Kept, Receipt

ENTRY_DEVICE = "entry"


def checked_game(written: WrittenGame, counting: Counting, log: Sequence[Kept]) -> ScoredGame:
    """A game as far as it can be read, with everything wrong with it. What it will come to is
    judged by the other games of that name that the log holds."""
    others = [
        WrittenGame(score.name, score.game, score.balls)
        for score in field_scores(log, [])
        if score.balls and score.name == written.name and score.game != written.game
    ]
    sheet = score_sheet([*others, written], counting)
    return next(game for game in sheet.bowlers[0].games if game.game == written.game)


def enter_game(
    store: Store,
    account: UUID,
    event: UUID,
    written: WrittenGame,
    counting: Counting,
    handicap: int | None = None,
) -> Receipt:
    """Write a whole game down, in the place of what the log holds of the same name and game; what
    was known beside its pins stays. Raises InputRefusedError for a game with anything wrong or
    missing, InvalidValueError for a number that no event has."""
    log = store.log(account, event)
    total = _finished_total(checked_game(written, counting, log))
    earlier, score = _score_so_far(log, FieldScore(written.name, written.game, total))
    score = replace(score, score=total, balls=written.balls)
    if handicap is not None:
        score = replace(score, handicap=handicap)
    kind, payload = JottingKind.SCORE, payload_of(score)
    jotting = Jotting(uuid4(), event, ENTRY_DEVICE, 1, kind, payload, supersedes=earlier)
    return store.append(account, [jotting])[0]


def _finished_total(game: ScoredGame) -> int:
    if game.problems:
        raise InputRefusedError(game.problems)
    if game.total is None:
        place = f"game {game.game}, frame {max(1, len(game.frames))}"
        problem = Problem("", place, "nothing more", "ten frames, each bowled to its end")
        raise InputRefusedError((problem,))
    return game.total


def _score_so_far(log: Sequence[Kept], score: FieldScore) -> tuple[UUID | None, FieldScore]:
    """The last jotting about a bowler's game, and what it says; none and `score` where there is
    none."""
    seq_of = {kept.jotting.id: kept.seq for kept in log}
    said = [jotting for _, jotting in standing(log) if jotting.kind is JottingKind.SCORE]
    for jotting in sorted(said, key=lambda one: seq_of[one.id], reverse=True):
        try:
            told = score_of(jotting.payload)
        except InvalidValueError:
            continue
        if (told.name, told.game) == (score.name, score.game):
            return jotting.id, told
    return None, score
