"""Scores of the bundled event, drawn from a field whose truth is known.

python tools/demo_scores.py

Writes src/nextpair/demo/scores.csv. The condition is hard: everybody scores some 20 pins under
their average. A first squad has bowled its six games, the bowler's own four of six, a third has
not bowled yet. Pair 21-22 takes 16 pins a game and left-handers score 8 more than their averages
promise. The bowler's own games are given, and each is written down ball by ball.
"""

from __future__ import annotations

from collections.abc import Iterator
from importlib.resources import as_file, files
from pathlib import Path

import numpy as np

from nextpair.domain.bowler import Hand
from nextpair.domain.event import Event, Pair
from nextpair.domain.field_score import FieldScore
from nextpair.files import load_event, scores_text
from nextpair.scoring.frames import Delivery, Game, balls_at_rack
from nextpair.scoring.notation import game_text
from nextpair.scoring.statistics import counts
from nextpair.scoring.unfinished import odds_of_counts

TARGET_FILE = Path(__file__).parents[1] / "src" / "nextpair" / "demo" / "scores.csv"
SEED = 16
OWN_SQUAD, EARLIER_SQUAD = "B", "A"
OWN_PINS = (176, 204, 185, 197)
MEAN_AVERAGE, BOWLER_SD_PINS, GAME_SD_PINS = 203.0, 13.0, 27.0
CONDITION_PINS, LEFT_PINS, PAIR_PINS = -20.0, 8.0, -16.0
HARD_PAIR = "21-22"
AVERAGE_ERROR_PINS = 5.0
AVERAGE_TOLD_SHARE = 0.9
EARLIER_NAMES = (
    "Abel Thornwick", "Berit Solhaug", "Cass Wetherby", "Dorte Almqvist", "Edwy Larkham",
    "Fenna Riddell", "Gower Pinnock", "Halla Brekke", "Isolde Marram", "Jonas Quillfeather",
    "Kerensa Vole", "Leif Underhaug", "Marit Osterlo", "Nial Cobbold", "Odile Fenwright",
    "Per Sandvane", "Quenby Stroud", "Runa Hallstad", "Sweyn Orchard", "Thora Millbank",
    "Ulf Garrowby", "Vesna Tarn", "Wilf Dunmore", "Xanthe Pell", "Yrsa Lindholt",
    "Zeb Castleton", "Alma Ridgeway", "Bram Oldacre",
)  # fmt: skip
LEFT_SHARE = 0.14


def main() -> None:
    """Draw the field and write it down."""
    with as_file(files("nextpair") / "demo") as folder:
        event = load_event(folder / "event.toml")
    rng = np.random.default_rng(SEED)
    starts = [entrant.pair for entrant in event.squad]
    hands = [Hand.LEFT if rng.random() < LEFT_SHARE else Hand.RIGHT for _ in EARLIER_NAMES]
    scores = [
        score
        for name, hand, start in zip(EARLIER_NAMES, hands, starts, strict=True)
        for score in bowled(event, EARLIER_SQUAD, name, hand, start, event.games, rng)
    ]
    for entrant in event.squad:
        if entrant.name == event.bowler_name:
            scores += own_games(event, rng)
        else:
            hand = entrant.likely_hand
            scores += bowled(
                event, OWN_SQUAD, entrant.name, hand, entrant.pair, len(OWN_PINS), rng
            )
    TARGET_FILE.write_text(scores_text(scores), "utf-8")
    print(f"wrote {TARGET_FILE}")


def bowled(
    event: Event, squad: str, name: str, hand: Hand, start: Pair, games: int,
    rng: np.random.Generator,
) -> Iterator[FieldScore]:  # fmt: skip
    """Somebody's games."""
    level = rng.normal(MEAN_AVERAGE, BOWLER_SD_PINS)
    average = round(level + AVERAGE_ERROR_PINS * rng.normal())
    told = average if rng.random() < AVERAGE_TOLD_SHARE else None
    for game in range(1, games + 1):
        pair = str(event.pair_in_game(start, game))
        mean = level + CONDITION_PINS + LEFT_PINS * (hand is Hand.LEFT)
        mean += PAIR_PINS * (pair == HARD_PAIR)
        pins = int(np.clip(round(rng.normal(mean, GAME_SD_PINS)), 0, 300))
        yield FieldScore(name, game, pins, 0, squad, hand, pair, told)


def own_games(event: Event, rng: np.random.Generator) -> Iterator[FieldScore]:
    """The bowler's games, each with balls that add up to it."""
    for game, pins in enumerate(OWN_PINS, start=1):
        pair = str(event.pair_in_game(event.start_pair, game))
        balls = game_text(game_of_score(pins, rng))
        yield FieldScore(
            event.bowler_name, game, pins, 0, OWN_SQUAD, event.bowler.hand, pair,
            int(event.bowler.average), balls,
        )  # fmt: skip


def game_of_score(pins: int, rng: np.random.Generator) -> Game:
    """A game with ordinary odds that comes to a score."""
    odds = odds_of_counts(counts([]))
    while True:
        game = Game()
        while not game.is_complete:
            rack = balls_at_rack(game.frame_under_way)
            row = np.array(odds.second[rack[0].pins] if rack else odds.first)
            game = game.with_ball(Delivery(int(rng.choice(len(row), p=row / row.sum()))))
        if game.score == pins:
            return game


if __name__ == "__main__":
    main()
