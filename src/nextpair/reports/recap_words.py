"""What a recap says, the same in every form of it: text, page, picture and its alternative."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from nextpair.domain.ball import POLISHED
from nextpair.domain.bowler import Hand
from nextpair.domain.money import amount_words
from nextpair.domain.recap import Recap, RecapBall, RecapGame, RecapMoney, RecapPattern
from nextpair.reports.money_words import said
from nextpair.reports.wording import (
    counted,
    date_words,
    halves,
    pattern_words,
    said_board,
    sentence,
    sides,
    strings_words,
)

LEAST_MOVE_BOARDS = 0.5
"""Less is no move."""
MARK_BOARDS = 4.8
"""Width of a mark on the film."""
LEAST_TURN_PINS = 3.0
"""By which a field's mean must differ between the first game and the last to be told."""
FIELD_KEY = "Dots: the scores. Bars: what the field averaged in the same game."
LANES = {"all": "", "left": "Left lanes: ", "right": "Right lanes: "}
ORDINALS = {1: "st", 2: "nd", 3: "rd"}


def pins_words(pins: int) -> str:
    """'1,192'."""
    return f"{pins:,}"


def ordinal(number: int) -> str:
    """'1st', '12th', '42nd'."""
    teen = number % 100 in (11, 12, 13)
    return f"{number}{'th' if teen else ORDINALS.get(number % 10, 'th')}"


def place_words(recap: Recap) -> str:
    """'14th of 56', or '14th of 56 so far'; nothing where nobody else is known."""
    if recap.place is None:
        return ""
    return f"{ordinal(recap.place)} of {recap.field}{' so far' * is_under_way(recap)}"


def where_words(recap: Recap) -> str:
    """'17 October 2026, Quernstone Lanes'."""
    return f"{date_words(recap.date.isoformat())}, {recap.house}"


def in_short(recap: Recap) -> str:
    """All of it in one line, as a video's description takes it."""
    told = [
        f"{recap.bowler} bowled {pins_words(recap.total_pins)} in "
        f"{counted(len(recap.games), 'game')} at the {recap.event}, {recap.house}, "
        f"{date_words(recap.date.isoformat())}: average {recap.average_pins:.1f}, "
        f"high game {recap.high_game.score}"
    ]
    if recap.place is not None:
        told.append(place_words(recap))
    lengths = dict.fromkeys(f"{one.pattern.length_ft:.0f}" for one in recap.patterns)
    told.append(f"on {' and '.join(lengths)} ft of oil")
    return f"{', '.join(told)}."


def is_under_way(recap: Recap) -> bool:
    """Whether there are games to come."""
    return len(recap.games) < recap.games_of_event


def figures_told(recap: Recap) -> Iterator[tuple[str, str]]:
    """The numbers of the event, each with its label."""
    yield pins_words(recap.total_pins), f"pins in {counted(len(recap.games), 'game')}"
    yield f"{recap.average_pins:.1f}", "average"
    if recap.place is not None:
        yield ordinal(recap.place), f"of {recap.field}{' so far' * is_under_way(recap)}"
    yield str(recap.high_game.score), "high game"
    if (counts := recap.counts) is not None:
        yield f"{counts.strikes} of {counts.racks}", "strikes"
        yield f"{counts.spares} of {counts.spares_tried}", "spares"


def counts_words(recap: Recap) -> str:
    """Strikes and spares in a sentence; nothing where no frame is known."""
    counts = recap.counts
    if counts is None:
        return ""
    told = (
        f"{counted(counts.strikes, 'strike')} of {counts.racks} first balls, "
        f"{counted(counts.spares, 'spare')} of {counts.spares_tried} tried, "
        f"{counted(counts.opens, 'open frame')}"
    )
    if counts.longest_string > 1:
        told += f"; at most {counts.longest_string} strikes in a row"
    if counts.games < len(recap.games):
        told += f" (frames of {counted(counts.games, 'game')})"
    return f"{told}."


def handicap_words(recap: Recap) -> str:
    """What was added to the pins; nothing where nothing was."""
    if not recap.handicap_pins:
        return ""
    with_it = pins_words(recap.total_pins + recap.handicap_pins)
    return f"With {recap.handicap_pins} of handicap: {with_it}."


def strip_key(recap: Recap) -> str:
    """What the discs on the film are; nothing where there is none."""
    marked = [f"{game.game}" for game in marked_games(recap)]
    if not marked:
        return ""
    if len(marked) == 1:
        return f"Disc: where game {marked[0]} was played over the arrows."
    return f"Discs: where games {' and '.join(marked)} were played over the arrows."


def marked_games(recap: Recap) -> list[RecapGame]:
    """The first and the last game with a target; one alone where they lie on each other."""
    played = [game for game in recap.games if game.target_board is not None]
    ends = [*played[:1], *played[1:][-1:]]
    boards = [game.target_board or 0.0 for game in ends]
    return ends if len(ends) == 2 and abs(boards[0] - boards[1]) > MARK_BOARDS else ends[:1]


def surface_words(recap: Recap) -> str:
    """What the lanes are made of: 'synthetic lanes'."""
    return f"{recap.surface} lanes{strings_words(recap.pinfall)}"


def pattern_told(told: RecapPattern) -> str:
    """A pattern by name and numbers."""
    return f"{LANES[told.lanes]}{told.pattern.name}, {pattern_words(told.pattern)}"


def change_words(recap: Recap) -> Iterator[str]:
    """How the lanes and what was played on them went on from the first game to the last."""
    first, last = recap.games[0], recap.games[-1]
    if first is last:
        return
    if (move := _move_words(recap)) is not None:
        yield move
    balls = [game for game in recap.games if game.ball]
    if changes := [now for before, now in pairwise(balls) if now.ball != before.ball]:
        told = ", ".join(f"to {game.ball} in game {game.game}" for game in changes)
        yield f"The ball changed {told}."
    if first.field_pins is not None and last.field_pins is not None:
        turn = last.field_pins - first.field_pins
        went = f"from {first.field_pins:.0f} in game {first.game} to {last.field_pins:.0f}"
        if turn <= -LEAST_TURN_PINS:
            yield f"The field's average fell {went} in game {last.game}."
        elif turn >= LEAST_TURN_PINS:
            yield f"The field's average rose {went} in game {last.game}."
        else:
            yield f"The field averaged much the same in game {last.game} as in game {first.game}."


def _move_words(recap: Recap) -> str | None:
    played = [game for game in recap.games if game.target_board is not None]
    if len(played) < 2:
        return None
    first, last = (_own_board(game, recap.hand) for game in (played[0], played[-1]))
    moved, last_game = last - first, played[-1].game
    start = f"Over board {first:g} at the arrows in game {played[0].game}"
    if abs(moved) < LEAST_MOVE_BOARDS:
        return f"{start}, and still there in game {last_game}."
    inside, outside = sides(recap.hand)
    way = inside if moved > 0 else outside
    return (
        f"{start}, over board {last:g} in game {last_game}: {abs(moved):g} boards farther {way}."
    )


def _own_board(game: RecapGame, hand: str) -> float:
    """The target as it is said: to the half."""
    return float(halves(said_board(game.target_board or 0.0, hand)))


def edge_words(recap: Recap) -> str:
    """From where boards count, where any are told and that is not the usual edge."""
    told = any(game.target_board is not None for game in recap.games)
    return "Boards count from the left edge, as a left-hander counts." * (
        told and recap.hand == Hand.LEFT
    )


def ball_name(ball: RecapBall) -> str:
    """'Kestrel, solid at 2000' or 'Paper Moon, plastic, polished'."""
    link = ", " if ball.surface == POLISHED else " at "
    return f"{ball.ball}, {ball.cover}{link}{ball.surface}"


def use_words(ball: RecapBall, games: Sequence[RecapGame]) -> str:
    """What a ball was for: 'Games 1 to 3: 18 strikes of 31 first balls; 4 of 5 spares'."""
    told = []
    if ball.first_balls:
        used = [game.game for game, many in zip(games, ball.thrown, strict=True) if many]
        strikes = counted(ball.strikes, "strike")
        told.append(f"{_games_words(used)}: {strikes} of {ball.first_balls} first balls")
    if ball.spares_tried:
        many = f"{ball.spares} of {ball.spares_tried}"
        told.append(f"{many} spares" if told else f"Spares: {many} made")
    if not any(ball.thrown):
        reason = (
            f": {ball.purpose[:1].lower()}{ball.purpose[1:].rstrip('.')}" if ball.purpose else ""
        )
        told.append(f"Stayed in the bag{reason}")
    return "; ".join(told) or "Thrown where nobody noted the pins"


def _games_words(games: Sequence[int]) -> str:
    """'Game 2', 'Games 1 to 4' or 'Games 1, 2 and 5'."""
    if len(games) == 1:
        return f"Game {games[0]}"
    first, last = games[0], games[-1]
    if last - first == len(games) - 1:
        return f"Games {first} and {last}" if len(games) == 2 else f"Games {first} to {last}"
    return f"Games {', '.join(map(str, games[:-1]))} and {last}"


def money_told(money: RecapMoney) -> str:
    """What it cost and brought."""
    told = f"Cost {amount_words(money.cost, money.currency)}"
    if money.won is not None:
        told += f", won {amount_words(money.won, money.currency)}"
    if money.result is not None:
        told += f": {said(money.result, money.currency)} in the end"
    return f"{told}."


def picture_words(recap: Recap) -> str:
    """What the picture shows, for who does not see it."""
    games = ", ".join(_game_words(game) for game in recap.games)
    told = [in_short(recap), f"Games: {games}."]
    if words := counts_words(recap):
        told.append(words)
    told += [f"Lanes: {pattern_told(one)}." for one in recap.patterns]
    told += change_words(recap)
    if edge := edge_words(recap):
        told.append(edge)
    if recap.bag:
        bag = "; ".join(f"{ball_name(ball)}: {use_words(ball, recap.games)}" for ball in recap.bag)
        told.append(f"Bag: {bag}.")
    if recap.learned:
        told.append(f"Learned: {' '.join(map(sentence, recap.learned))}")
    if recap.money is not None:
        told.append(money_told(recap.money))
    return " ".join(told)


def _game_words(game: RecapGame) -> str:
    field = "" if game.field_pins is None else f" (field {game.field_pins:.0f})"
    return f"{game.score}{field}"
