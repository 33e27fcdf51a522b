"""The bowler's score sheet, made of the shots of a log, and the field's table of scores."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any
from uuid import UUID, uuid4

from nextpair.application.journal import standing
from nextpair.application.shot_jottings import FILE_DEVICE, LOG, NotedShot, noted_shots
from nextpair.application.store import Store
from nextpair.domain.bowler import Hand
from nextpair.domain.errors import InvalidValueError, Problem, require, require_text
from nextpair.domain.field_score import FieldScore
from nextpair.domain.jotting import Jotting, JottingKind, Kept, Receipt
from nextpair.domain.shot_log import PRACTICE
from nextpair.scoring.frames import Game, delivery_between
from nextpair.scoring.leaves import FULL_RACK, pin_bit
from nextpair.scoring.notation import marks

LONGEST_TEXT = 200
"""Of what is told of a score in words."""


@dataclass(frozen=True, slots=True)
class FrameScore:
    """A frame as it is written: its balls, and the score after it once that is known."""

    marks: tuple[str, ...]
    total: int | None


@dataclass(frozen=True, slots=True)
class GameScore:
    """A game of the bowler's: `total` once it is over, `so_far` as far as it is known, and the
    most that it can still become."""

    game: int
    frames: tuple[FrameScore, ...]
    total: int | None
    so_far: int
    max_possible: int


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
    """Everything that was scored at an event, and what does not add up."""

    bowler: tuple[GameScore, ...]
    field: tuple[FieldRow, ...]
    problems: tuple[Problem, ...]


def scores_of(log: Sequence[Kept], bowler_name: str) -> Scores:
    """The scores of a log. The bowler's finished games stand in the field's table too, unless
    their score was written down."""
    shots, problems = noted_shots(log)
    told = [*problems]
    games = tuple(_games(shots, told))
    written = {(one.name, one.game): one for one in field_scores(log, told)}
    for game in games:
        if game.total is None:
            continue
        own = written.setdefault(
            (bowler_name, game.game), FieldScore(bowler_name, game.game, game.total)
        )
        if own.score != game.total:
            place = f"game {game.game} of {bowler_name}"
            told.append(Problem(LOG, place, f"score {own.score}", f"{game.total}, by its shots"))
    return Scores(games, field_table(written.values()), tuple(told))


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
        name=name.strip(),
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


def _games(shots: Sequence[NotedShot], problems: list[Problem]) -> Iterator[GameScore]:
    for number in sorted({noted.shot.game for noted in shots} - {PRACTICE}):
        of_game = {
            noted.place[1:]: noted for noted in reversed(shots) if noted.shot.game == number
        }
        game = _game(number, of_game, problems)
        known = [total for total in game.running_scores if total is not None]
        yield GameScore(
            game=number,
            frames=tuple(
                FrameScore(marks(frame), total)
                for frame, total in zip(game.frames, game.running_scores, strict=True)
            ),
            total=game.score,
            so_far=known[-1] if known else 0,
            max_possible=game.highest_possible,
        )


def _game(
    number: int, shots: Mapping[tuple[int, int], NotedShot], problems: list[Problem]
) -> Game:
    """The game of its shots, as far as they follow one another and somebody looked."""
    game, standing_now = Game(), FULL_RACK
    for (frame, delivery), noted in sorted(shots.items()):
        under_way = game.frame_under_way
        expected = (len(game.frames) + (not under_way), len(under_way) + 1)
        place = f"game {number}, frame {frame}, delivery {delivery}"
        try:
            require(
                (frame, delivery) == expected, "place", _named(frame, delivery), _named(*expected)
            )
            before, after = _masks(noted, standing_now)
            game = game.with_ball(delivery_between(before, after, noted.foul))
        except InvalidValueError as wrong:
            problems.append(
                Problem(LOG, f"{place}: {wrong.field}", str(wrong.found), wrong.allowed)
            )
            break
        left = before if noted.foul else after
        standing_now = left if game.frame_under_way and left else FULL_RACK
    return game


def _masks(noted: NotedShot, standing_now: int) -> tuple[int, int]:
    """Pins before and after a ball; what stands in a frame is what the ball before it left."""
    shot = noted.shot
    if shot.standing_before is not None:
        before = sum(pin_bit(pin) for pin in shot.standing_before)
        require(
            before == standing_now,
            "standing_before",
            sorted(shot.standing_before),
            "what the ball before it left",
        )
    if noted.foul:
        return standing_now, standing_now
    if shot.standing_after is None:
        raise InvalidValueError("standing_after", "nothing", "the pins that stood")
    return standing_now, sum(pin_bit(pin) for pin in shot.standing_after)


def _named(frame: int, delivery: int) -> str:
    return f"frame {frame}, delivery {delivery}"


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
