"""Scores of games, worked out from the rule book's words alone, with nothing of the program.

Rolls are pins of balls in the order bowled. A game may be under way.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

TEN = 10


def frames_of(rolls: Sequence[int], fill_balls: bool = True) -> list[list[int]]:
    """Rolls parted into frames."""
    frames: list[list[int]] = []
    left = list(rolls)
    while left:
        if len(frames) == TEN - 1 and fill_balls:
            return [*frames, left]
        size = 1 if left[0] == TEN else 2
        frames.append(left[:size])
        left = left[size:]
    return frames


def is_over(rolls: Sequence[int], fill_balls: bool = True) -> bool:
    """Whether ten frames have had their balls."""
    frames = frames_of(rolls, fill_balls)
    if len(frames) < TEN:
        return False
    last = frames[-1]
    if fill_balls and (last[0] == TEN or sum(last[:2]) == TEN):
        return len(last) == 3
    return last[0] == TEN or len(last) == 2


def standing(rolls: Sequence[int], fill_balls: bool = True) -> int:
    """Pins that face the next ball."""
    frames = frames_of(rolls, fill_balls)
    if not frames or (len(frames) < TEN and (frames[-1][0] == TEN or len(frames[-1]) == 2)):
        return TEN
    down = 0
    for pins in frames[-1]:
        down = (down + pins) % TEN
    return TEN - down


def plain_score(rolls: Sequence[int]) -> int:
    """Score of a game that is over."""
    total, at = 0, 0
    for _ in range(TEN):
        if rolls[at] == TEN:
            total += TEN + rolls[at + 1] + rolls[at + 2]
            at += 1
        elif rolls[at] + rolls[at + 1] == TEN:
            total += TEN + rolls[at + 2]
            at += 2
        else:
            total += rolls[at] + rolls[at + 1]
            at += 2
    return total


def plain_current_frame_score(rolls: Sequence[int]) -> int:
    """Score by the current frame of a game that is over."""
    total = 0
    for frame in frames_of(rolls, fill_balls=False):
        if frame[0] == TEN:
            total += 30
        elif sum(frame) == TEN:
            total += TEN + frame[0]
        else:
            total += sum(frame)
    return total


def continuations(rolls: Sequence[int], fill_balls: bool = True) -> Iterator[tuple[int, ...]]:
    """Every way a game under way can end, as all its rolls."""
    if is_over(rolls, fill_balls):
        yield tuple(rolls)
        return
    for pins in range(standing(rolls, fill_balls) + 1):
        yield from continuations((*rolls, pins), fill_balls)
