"""The scores of an event by its log: the bowler's own games, and the field's table."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from typing import Any
from unicodedata import normalize
from uuid import UUID, uuid4

from nextpair.application.journal import standing
from nextpair.application.own_games import BY_WORDS, GameScore, own_games
from nextpair.application.shot_jottings import FILE_DEVICE, LOG, NotedShot, noted_shots
from nextpair.application.store import Store
from nextpair.domain.bowler import Hand
from nextpair.domain.errors import InvalidValueError, Problem, require_text
from nextpair.domain.field_score import FieldScore
from nextpair.domain.format import Counting
from nextpair.domain.jotting import Jotting, JottingKind, Kept, Receipt

LONGEST_TEXT = 200
"""Of what is told of a score in words."""


@dataclass(frozen=True, slots=True)
class FieldRow:
    """Somebody's games in order, None for one that nobody wrote down, and their sum with what is
    added to them."""

    name: str
    games: tuple[int | None, ...]
    handicap: int
    total: int


@dataclass(frozen=True, slots=True)
class Scores:
    """Everything that was scored at an event: `known` are everybody's games, those of the bowler
    as they were bowled; and what does not add up."""

    bowler: tuple[GameScore, ...]
    field: tuple[FieldRow, ...]
    known: tuple[FieldScore, ...]
    problems: tuple[Problem, ...]


def scores_of(
    log: Sequence[Kept], bowler_name: str, counting: Counting = Counting.TRADITIONAL
) -> Scores:
    """The scores of a log. The bowler's games come from shots, or where those do not finish one,
    from the game that was written down. A finished game stands in the field's table too, whatever
    score was written down for it."""
    shots, problems = noted_shots(log)
    told = [*problems]
    written = {(one.name, one.game): one for one in field_scores(log, told)}
    own = [one for one in written.values() if one.name == bowler_name]
    games = own_games(shots, own, counting, told)
    known = with_own_games(written.values(), bowler_name, games, told)
    return Scores(games, field_table(known), known, tuple(told))


def with_own_games(
    written: Iterable[FieldScore],
    bowler_name: str,
    games: Iterable[GameScore],
    problems: list[Problem],
) -> tuple[FieldScore, ...]:
    """Everybody's scores, the bowler's finished games as they were bowled; what was written down
    otherwise goes to the problems."""
    known = {(one.name, one.game): one for one in written}
    for game in games:
        if game.total is None:
            continue
        said = known.setdefault(
            (bowler_name, game.game), FieldScore(bowler_name, game.game, game.total)
        )
        if said.score != game.total:
            place, by = f"game {game.game} of {bowler_name}", BY_WORDS[game.source]
            problems.append(
                Problem(LOG, place, f"score {said.score}", f"{game.total}, by its {by}")
            )
            known[bowler_name, game.game] = replace(said, score=game.total, balls="")
    return tuple(known.values())


def known_of_files(
    shots: Sequence[NotedShot], scores: Sequence[FieldScore], bowler_name: str, counting: Counting
) -> tuple[FieldScore, ...]:
    """Everybody's scores of files, the bowler's finished games as their shots say."""
    own = [score for score in scores if score.name == bowler_name]
    return with_own_games(scores, bowler_name, own_games(shots, own, counting, []), [])


def others_scored(scores: Iterable[FieldScore], bowler_name: str) -> bool:
    """Whether anybody else's score is known."""
    return any(score.name != bowler_name for score in scores)


def known_scores(
    log: Sequence[Kept], bowler_name: str, counting: Counting = Counting.TRADITIONAL
) -> tuple[FieldScore, ...]:
    """Everybody's scores, with those of the bowler's own finished games."""
    return scores_of(log, bowler_name, counting).known


def field_scores(log: Iterable[Kept], problems: list[Problem]) -> tuple[FieldScore, ...]:
    """What a log says of the field; the last one said of a bowler's game is the one that counts.
    What is no score goes to the problems."""
    log = tuple(log)
    seq_of = {kept.jotting.id: kept.seq for kept in log}
    said = [jotting for _, jotting in standing(log) if jotting.kind is JottingKind.SCORE]
    scores: dict[tuple[str, int], FieldScore] = {}
    for jotting in sorted(said, key=lambda one: seq_of[one.id]):
        try:
            score = score_of(jotting.payload)
        except InvalidValueError as wrong:
            place = f"score {jotting.id}: {wrong.field}"
            problems.append(Problem(LOG, place, str(wrong.found)[:60], wrong.allowed))
        else:
            scores[score.name, score.game] = score
    return tuple(scores.values())


def field_table(scores: Iterable[FieldScore]) -> tuple[FieldRow, ...]:
    """Everybody's games, highest total first."""
    of: dict[str, dict[int, FieldScore]] = {}
    for score in scores:
        of.setdefault(score.name, {})[score.game] = score
    rows = [
        FieldRow(
            name=name,
            games=tuple(
                games[game].score if game in games else None for game in range(1, max(games) + 1)
            ),
            handicap=sum(score.handicap for score in games.values()),
            total=sum(score.total for score in games.values()),
        )
        for name, games in of.items()
    ]
    return tuple(sorted(rows, key=lambda row: (-row.total, row.name)))


def score_of(payload: Mapping[str, Any]) -> FieldScore:
    """The score of a payload. Raises InvalidValueError."""
    name = payload.get("name")
    if not isinstance(name, str):
        raise InvalidValueError("name", name, "a name")
    handicap, average, hand = (payload.get(key) for key in ("handicap", "average", "hand"))
    if hand is not None and hand not in set(Hand):
        raise InvalidValueError("hand", hand, " or ".join(Hand))
    return FieldScore(
        name=normalize("NFC", name.strip()),
        game=_whole("game", payload.get("game")),
        score=_whole("score", payload.get("score")),
        handicap=0 if handicap is None else _whole("handicap", handicap),
        squad=_text("squad", payload),
        hand=None if hand is None else Hand(hand),
        pair=_text("pair", payload),
        average=None if average is None else _whole("average", average),
        balls=_text("balls", payload),
    )


def payload_of(score: FieldScore) -> dict[str, Any]:
    """The payload of a score; what nobody knows of it is left out."""
    facts = {key: value for key, value in asdict(score).items() if value not in ("", None)}
    return facts | ({"hand": score.hand.value} if score.hand is not None else {})


def take_in_scores(
    store: Store, account: UUID, event: UUID, scores: Sequence[FieldScore]
) -> tuple[Receipt, ...]:
    """Add scores to an event's log; what stands there already, the same, is passed over."""
    here = set(field_scores(store.log(account, event), []))
    new = [score for score in scores if score not in here]
    return store.append(account, [_jotting(event, score) for score in new])


def _jotting(event: UUID, score: FieldScore) -> Jotting:
    return Jotting(uuid4(), event, FILE_DEVICE, 1, JottingKind.SCORE, payload_of(score))


def _whole(key: str, value: Any) -> int:
    if isinstance(value, float) and value.is_integer():
        value = int(value)
    if not isinstance(value, int) or isinstance(value, bool):
        raise InvalidValueError(key, value, "a whole number")
    return value


def _text(key: str, payload: Mapping[str, Any]) -> str:
    value = payload.get(key)
    if value is None:
        return ""
    if not isinstance(value, str):
        raise InvalidValueError(key, value, "a text")
    require_text(key, value, 0, LONGEST_TEXT)
    return value.strip()
