"""Games, whole and under way, by both countings: what the phone's score sheet is held to.

python tools/game_cases.py

Writes frontend/shared/game_cases.json: of each game its running scores, the highest and the
expected finish by its own odds, and its pace. frontend/shared/finish.test.ts asks the phone's
sums for the same.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from nextpair.domain.format import Counting
from nextpair.scoring.notation import parse_game
from nextpair.scoring.statistics import counts
from nextpair.scoring.unfinished import expected_finish, odds_of_counts, pace

TARGET_FILE = Path(__file__).parents[1] / "frontend" / "shared" / "game_cases.json"
GAMES = (
    "X",
    "7",
    "-",
    "F",
    "9 /",
    "X, X, X, X, X",
    "X, 7 /, 9 -, X, - 8, 8 /, F 6, X, X",
    "X, 7 /, 9 -, X, - 8, 8 /, F 6, X, X, X",
    "9 /, 9 /, 9 /, 9 /, 9",
    "8 1, 6 /, X, 7 2, F /, X, X, 4 3, 9 /",
    "8 1, 6 /, X, 7 2, F /, X, X, 4 3, 9 /, 9 /",
    "- -, - -, - -, - 1",
)
OF_ONE_COUNTING = {
    Counting.TRADITIONAL: (
        "X, X, X, X, X, X, X, X, X, X X",
        "X, X, X, X, X, X, X, X, X, X X X",
        "9 /, X, 8 /, X, X, 7 2, X, 9 -, 6 /, X 7",
        "X, 7 /, 9 -, X, - 8, 8 /, F 6, X, X, X 8 1",
        "8 1, 6 /, X, 7 2, F /, X, X, 4 3, 9 /, 9 / X",
    ),
    Counting.CURRENT_FRAME: (
        "X, X, X, X, X, X, X, X, X, X",
        "9 /, X, 8 /, X, X, 7 2, X, 9 -, 6 /, 8 1",
    ),
}


def main() -> None:
    """Score the games and write it all down."""
    lines = ",\n".join(json.dumps(one) for one in cases())
    TARGET_FILE.write_text(f"[\n{lines}\n]\n", "utf-8")
    print(f"wrote {TARGET_FILE}")


def cases() -> list[dict[str, Any]]:
    """Every game by each counting."""
    return [
        case(text, counting)
        for counting in Counting
        for text in (*GAMES, *OF_ONE_COUNTING[counting])
    ]


def case(text: str, counting: Counting) -> dict[str, Any]:
    """One game, and what is told of it."""
    game = parse_game(text, counting)
    return {
        "game": text,
        "counting": counting.value,
        "running": list(game.running_scores),
        "score": game.score,
        "highest": game.highest_possible,
        "expected": round(expected_finish(game, odds_of_counts(counts([game]))), 6),
        "pace": pace(game),
    }


if __name__ == "__main__":
    main()
