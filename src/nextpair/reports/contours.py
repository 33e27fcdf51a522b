"""Regions of a map that hold at least a given value, as closed outlines."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from math import hypot

Point = tuple[float, float]
Outline = list[Point]
_Edge = tuple[str, int, int]

_BELOW, _RIGHT, _ABOVE, _LEFT = range(4)
_SEGMENTS: dict[int, tuple[tuple[int, int], ...]] = {
    1: ((_BELOW, _LEFT),),
    2: ((_RIGHT, _BELOW),),
    3: ((_RIGHT, _LEFT),),
    4: ((_ABOVE, _RIGHT),),
    6: ((_ABOVE, _BELOW),),
    7: ((_ABOVE, _LEFT),),
    8: ((_LEFT, _ABOVE),),
    9: ((_BELOW, _ABOVE),),
    11: ((_RIGHT, _ABOVE),),
    12: ((_LEFT, _RIGHT),),
    13: ((_BELOW, _RIGHT),),
    14: ((_LEFT, _BELOW),),
}
"""Which sides of a square an outline joins, by the corners that are inside (1 lower left, 2 lower
right, 4 upper right, 8 upper left), with the inside on its left."""
_SADDLES: dict[tuple[int, bool], tuple[tuple[int, int], ...]] = {
    (5, True): ((_ABOVE, _LEFT), (_BELOW, _RIGHT)),
    (5, False): ((_BELOW, _LEFT), (_ABOVE, _RIGHT)),
    (10, True): ((_LEFT, _BELOW), (_RIGHT, _ABOVE)),
    (10, False): ((_RIGHT, _BELOW), (_LEFT, _ABOVE)),
}
"""The same where two opposite corners are inside: joined through the middle, or not."""


def outlines(
    values: Sequence[Sequence[float]], xs: Sequence[float], ys: Sequence[float], level: float
) -> list[Outline]:
    """Closed outlines around everything at or above `level`; holes turn the other way round.

    values : rows of values, values[row][column] at (xs[column], ys[row]); the map ends at its
        outermost values, and outlines run along its edge there.
    """
    padded, pad_xs, pad_ys = _padded(values, xs, ys, level)
    following = _segments(padded, level)
    found: list[Outline] = []
    while following:
        start, edge = following.popitem()
        outline = [_crossing(start, padded, pad_xs, pad_ys, level)]
        while edge != start:
            outline.append(_crossing(edge, padded, pad_xs, pad_ys, level))
            edge = following.pop(edge)
        found.append(outline)
    return found


def simplified(outline: Outline, tolerance: float) -> Outline:
    """A closed outline with every point left out that lies within `tolerance` of what stays."""
    if len(outline) < 4:
        return outline
    far = max(range(len(outline)), key=lambda i: _gap(outline[i], outline[0], outline[0]))
    first = _thinned(outline[: far + 1], tolerance)
    second = _thinned([*outline[far:], outline[0]], tolerance)
    return first[:-1] + second[:-1]


def _padded(
    values: Sequence[Sequence[float]], xs: Sequence[float], ys: Sequence[float], level: float
) -> tuple[list[list[float]], list[float], list[float]]:
    """The map with a ring below the level laid on its own edge, so that every outline closes."""
    outside = level - 1.0
    ring = [outside] * (len(xs) + 2)
    rows = [ring, *([outside, *row, outside] for row in values), ring]
    return rows, [xs[0], *xs, xs[-1]], [ys[0], *ys, ys[-1]]


def _segments(rows: list[list[float]], level: float) -> dict[_Edge, _Edge]:
    following: dict[_Edge, _Edge] = {}
    inside = [[value >= level for value in row] for row in rows]
    for row, (lower, upper) in enumerate(itertools.pairwise(inside)):
        for column in range(len(lower) - 1):
            corners = (
                lower[column] + 2 * lower[column + 1] + 4 * upper[column + 1] + 8 * upper[column]
            )
            if corners in (0, 15):
                continue
            if corners in (5, 10):
                square = [*rows[row][column : column + 2], *rows[row + 1][column : column + 2]]
                joins = _SADDLES[corners, sum(square) / 4 >= level]
            else:
                joins = _SEGMENTS[corners]
            for start, end in joins:
                following[_edge(start, row, column)] = _edge(end, row, column)
    return following


def _edge(side: int, row: int, column: int) -> _Edge:
    if side == _BELOW:
        return "across", row, column
    if side == _ABOVE:
        return "across", row + 1, column
    return "along", row, column + (side == _RIGHT)


def _crossing(
    edge: _Edge, rows: list[list[float]], xs: list[float], ys: list[float], level: float
) -> Point:
    way, row, column = edge
    to_row, to_column = (row, column + 1) if way == "across" else (row + 1, column)
    start, end = rows[row][column], rows[to_row][to_column]
    share = (level - start) / (end - start)
    return (
        xs[column] + share * (xs[to_column] - xs[column]),
        ys[row] + share * (ys[to_row] - ys[row]),
    )


def _thinned(points: Outline, tolerance: float) -> Outline:
    """Ramer-Douglas-Peucker: keep the ends, and the farthest point where it is far enough."""
    if len(points) < 3:
        return points
    gaps = [_gap(point, points[0], points[-1]) for point in points[1:-1]]
    farthest = max(range(len(gaps)), key=gaps.__getitem__)
    if gaps[farthest] <= tolerance:
        return [points[0], points[-1]]
    split = farthest + 1
    return _thinned(points[: split + 1], tolerance)[:-1] + _thinned(points[split:], tolerance)


def _gap(point: Point, start: Point, end: Point) -> float:
    """Distance of a point from the line through two others, or from both where they are one."""
    along = (end[0] - start[0], end[1] - start[1])
    length = hypot(*along)
    off = (point[0] - start[0], point[1] - start[1])
    if length == 0.0:
        return hypot(*off)
    return abs(along[0] * off[1] - along[1] * off[0]) / length
