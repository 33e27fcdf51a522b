"""Shots of whole games, as a log has them, made of what stood after each ball."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from uuid import UUID

from nextpair.application.shot_jottings import NotedShot
from nextpair.domain.shot_log import LoggedShot
from nextpair.scoring.leaves import parse_leave, standing_pins

LANES = (13, 14)


def logged_frame(game: int, frame: int, stood: Iterable[str], **seen: object) -> list[NotedShot]:
    """Shots of one frame: what stood after each ball, `""` for nothing, `"?"` where nobody looked,
    `"F"` for a foul."""
    return [
        NotedShot(_shot(game, frame, delivery, after, **seen), foul=after == "F")
        for delivery, after in enumerate(stood, start=1)
    ]


def logged_game(game: int, frames: Sequence[Sequence[str]], **seen: object) -> list[NotedShot]:
    """Shots of the frames of one game."""
    return [
        noted
        for frame, stood in enumerate(frames, start=1)
        for noted in logged_frame(game, frame, stood, **seen)
    ]


def _shot(game: int, frame: int, delivery: int, after: str, **seen: object) -> LoggedShot:
    told: dict[str, object] = {"lane": LANES[(frame + 1) % 2], "ball": "Kestrel"}
    pins = None if after in ("?", "F") else frozenset(standing_pins(parse_leave(after)))
    return LoggedShot(
        id=UUID(int=game * 10_000 + frame * 10 + delivery),
        time="",
        game=game,
        frame=frame,
        delivery=delivery,
        standing_after=pins,
        **(told | seen),  # type: ignore[arg-type]
    )
