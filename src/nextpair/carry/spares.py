"""Making a leave: how often, and what is left when it is missed, by where the ball comes in.

One pin is geometry: it falls to a ball whose path comes closer than their two radii. More pins
were rolled at, with those pins only (carry.rolls), and what was left is smoothed over the place
and angle of the path. The place counts from the front of the leave, where outcomes change least
with angle. All is in a right-hander's frame; a leave and its mirror image share their rolls.

A leave that nobody rolled at has no odds. Larger leaves that hold its pins were tried in its place
and say nothing of it: their other pins knock over what the ball cannot reach.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache, cached_property
from importlib.resources import files
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from nextpair.carry.deck import FloatArray
from nextpair.carry.leave_paths import offset_of_place, place_boards, touches
from nextpair.carry.rolls import MIRRORED_LEAVES, Rolls
from nextpair.domain.errors import require, require_within
from nextpair.scoring.leaves import FULL_RACK, leave_text, mirrored_leave, pin_count

IntArray = NDArray[np.int64]

PLACE_NODES_BOARDS = np.arange(-25.0, 25.125, 0.25)
ANGLE_NODES_DEG = np.arange(-3.0, 8.5, 0.5)
"""Where smoothed chances are kept: read linearly between nodes, beyond them at the edge."""
FINEST = 1e-3
"""Boards and degrees to which the shipped rolls are rounded."""
LONE_ROLL_WEIGHT = 0.05
"""Weight of a leave's mean beside its rolls where widths are compared: keeps one roll from being
taken for certain."""
TRIED_PLACES_BOARDS = (0.15, 0.25, 0.35, 0.5, 0.7, 1.0)
TRIED_ANGLES_DEG = (0.7, 1.0, 1.5, 2.0, 3.0, 5.0)


@dataclass(frozen=True, slots=True)
class Width:
    """Standard deviations of the smoothing, the same for all leaves."""

    place_boards: float
    angle_deg: float


@dataclass(frozen=True, slots=True, eq=False)
class LeaveRolls:
    """n rolls at one leave: where each path passed its front, and what was left; arrays (n,)."""

    place_boards: FloatArray
    angle_deg: FloatArray
    standing: IntArray

    def mirrored(self) -> LeaveRolls:
        """The same rolls at the leave's mirror image."""
        return LeaveRolls(-self.place_boards, -self.angle_deg, MIRRORED_LEAVES[self.standing])

    def joined(self, more: LeaveRolls) -> LeaveRolls:
        """These rolls and others at the same leave."""
        return LeaveRolls(
            np.concatenate([self.place_boards, more.place_boards]),
            np.concatenate([self.angle_deg, more.angle_deg]),
            np.concatenate([self.standing, more.standing]),
        )

    def in_reach(self, leave: int) -> LeaveRolls:
        """Those that touched a pin by geometry; of the others it is known what they leave."""
        offset = offset_of_place(leave, self.place_boards, self.angle_deg)
        hit = touches(leave, offset, self.angle_deg)
        return LeaveRolls(self.place_boards[hit], self.angle_deg[hit], self.standing[hit])


class SinglePin:
    """Odds of a lone pin, exact. `outcomes` are the bit masks of what is left, 0 (made) first."""

    def __init__(self, leave: int) -> None:
        self.leave = leave
        self.outcomes = (0, leave)

    def made(self, offset_boards: ArrayLike, angle_deg: ArrayLike) -> FloatArray:
        """1 where a ball takes the pin, 0 where it does not or (NaN) never comes."""
        return touches(self.leave, offset_boards, angle_deg).astype(float)

    def made_and_taken(self, offset_boards: ArrayLike, angle_deg: ArrayLike) -> FloatArray:
        """Chance made, and mean pins taken: common shape of the arguments + (2,)."""
        made = self.made(offset_boards, angle_deg)
        return np.stack([made, made], axis=-1)

    def left(self, offset_boards: ArrayLike, angle_deg: ArrayLike) -> FloatArray:
        """Chance of each outcome: common shape of the arguments + (2,)."""
        made = self.made(offset_boards, angle_deg)
        return np.stack([made, 1.0 - made], axis=-1)


class RolledLeave:
    """Odds of a leave of two pins or more, smoothed from rolls at it.

    Where it is its own mirror image each roll counts twice, its image in the second half of them.
    """

    def __init__(self, leave: int, rolls: LeaveRolls, width: Width) -> None:
        self.leave = leave
        self.even = mirrored_leave(leave) == leave
        reached = rolls.in_reach(leave)
        self.rolls = reached.joined(reached.mirrored()) if self.even else reached
        self.width = width
        found = np.unique(self.rolls.standing).tolist()
        self.outcomes = (0, *sorted({leave, *found} - {0}))

    def made(self, offset_boards: ArrayLike, angle_deg: ArrayLike) -> FloatArray:
        """Chance that nothing stays, in the common shape of the arguments; 0 for NaN."""
        return self.made_and_taken(offset_boards, angle_deg)[..., 0]

    def made_and_taken(self, offset_boards: ArrayLike, angle_deg: ArrayLike) -> FloatArray:
        """Chance made, and mean pins taken: common shape of the arguments + (2,); 0 for NaN."""
        return self._read(self._main_nodes, offset_boards, angle_deg)

    def left(self, offset_boards: ArrayLike, angle_deg: ArrayLike) -> FloatArray:
        """Chance of each outcome: common shape of the arguments + (len(outcomes),)."""
        told = self._read(self._left_nodes, offset_boards, angle_deg)
        told[..., self.outcomes.index(self.leave)] += 1.0 - told.sum(axis=-1)
        return told

    @cached_property
    def _main_nodes(self) -> FloatArray:
        taken = pin_count(self.leave) - np.bitwise_count(self.rolls.standing)
        return self._means(np.stack([self.rolls.standing == 0, taken], axis=1).astype(float))

    @cached_property
    def _left_nodes(self) -> FloatArray:
        return self._means((self.rolls.standing[:, np.newaxis] == self.outcomes).astype(float))

    def _means(self, values: FloatArray) -> FloatArray:
        """Smoothed means (places, angles, k) of values (rolls, k); 0 where no pin is touched."""
        by_place = _kernel(PLACE_NODES_BOARDS, self.rolls.place_boards, self.width.place_boards)
        by_angle = _kernel(ANGLE_NODES_DEG, self.rolls.angle_deg, self.width.angle_deg)
        total = by_place @ by_angle.T
        place, angle = np.meshgrid(PLACE_NODES_BOARDS, ANGLE_NODES_DEG, indexing="ij")
        reached = touches(self.leave, offset_of_place(self.leave, place, angle), angle)
        known = reached & (total > np.finfo(float).tiny)
        scale = np.where(known, 1.0 / np.where(known, total, 1.0), 0.0)
        means = []
        for value in values.T:
            some = value != 0.0
            means.append((by_place[:, some] * value[some]) @ by_angle[:, some].T * scale)
        return np.stack(means, axis=-1)

    def _read(
        self, nodes: FloatArray, offset_boards: ArrayLike, angle_deg: ArrayLike
    ) -> FloatArray:
        """Bilinear reading of nodes (places, angles, k): common shape of the arguments + (k,)."""
        place, angle = np.broadcast_arrays(
            place_boards(self.leave, offset_boards, angle_deg), np.asarray(angle_deg, float)
        )
        came = np.isfinite(place)
        i, u = _cell(PLACE_NODES_BOARDS, place[came])
        j, v = _cell(ANGLE_NODES_DEG, angle[came])
        node = i * len(ANGLE_NODES_DEG) + j
        flat = nodes.reshape(-1, nodes.shape[-1])
        low = (1.0 - v) * flat.take(node, 0) + v * flat.take(node + 1, 0)
        node += len(ANGLE_NODES_DEG)
        high = (1.0 - v) * flat.take(node, 0) + v * flat.take(node + 1, 0)
        read = np.zeros((*place.shape, nodes.shape[-1]))
        read[came] = (1.0 - u) * low + u * high
        return read


LeaveOdds = SinglePin | RolledLeave


def sampling_error(odds: LeaveOdds, offset_boards: ArrayLike, angle_deg: ArrayLike) -> float:
    """Standard error of the mean of `odds.made` over some balls; 0 for a single pin.

    Source: closed form: binomial, of as many rolls as weigh on that mean, (sum w)^2 / sum w^2,
    with one added that was made and one that was not. A roll and its image are one.
    """
    here = touches(odds.leave, offset_boards, angle_deg)
    if isinstance(odds, SinglePin) or not here.any() or not len(odds.rolls.standing):
        return 0.0
    place, angle = np.broadcast_arrays(
        place_boards(odds.leave, offset_boards, angle_deg), np.asarray(angle_deg, float)
    )
    weights = _weights(odds.rolls, odds.width, place[here], angle[here])
    weights /= np.maximum(weights.sum(axis=1, keepdims=True), np.finfo(float).tiny)
    of_each = weights.sum(axis=0)
    if odds.even:
        of_each = of_each.reshape(2, -1).sum(axis=0)
    rolls = here.sum() ** 2 / float((of_each**2).sum())
    mean = float(odds.made(offset_boards, angle_deg)[here].mean())
    chance = (mean * rolls + 1.0) / (rolls + 2.0)
    return float(np.sqrt(chance * (1.0 - chance) / rolls) * here.mean())


@dataclass(frozen=True, slots=True, eq=False)
class SpareBook:
    """All rolls at leaves, the width over which they are smoothed, and how they were rolled."""

    rolls: dict[int, LeaveRolls]
    """By leave; of a leave and its mirror image the smaller mask."""
    width: Width
    settings: dict[str, Any]

    def of(self, leave: int) -> LeaveOdds:
        """Odds of one leave.

        Raises InvalidValueError for a leave without pins, or one that nobody rolled at.
        """
        require_within("leave", leave, 1, FULL_RACK, "a mask of one to ten pins")
        if pin_count(leave) == 1:
            return SinglePin(leave)
        require(self.holds(leave), "leave", leave_text(leave), _allowed(self, leave))
        image = mirrored_leave(leave)
        rolls = self.rolls[min(leave, image)]
        return RolledLeave(leave, rolls.mirrored() if image < leave else rolls, self.width)

    def holds(self, leave: int) -> bool:
        """Whether a leave has odds."""
        return pin_count(leave) == 1 or min(leave, mirrored_leave(leave)) in self.rolls

    @property
    def leaves(self) -> tuple[int, ...]:
        """Every leave of two pins or more that has odds."""
        return tuple(sorted({*self.rolls, *map(mirrored_leave, self.rolls)}))


def _allowed(book: SpareBook, leave: int) -> str:
    """What may stand there instead: leaves that were rolled at, most alike first."""
    alike = sorted(book.leaves, key=lambda each: ((each ^ leave).bit_count(), each))[:3]
    return f"a leave that was rolled at; most like it: {', '.join(map(leave_text, alike))}"


def spare_book(rolls: Rolls, width: Width, settings: dict[str, Any]) -> SpareBook:
    """Rolls sorted by leave, mirror images brought together."""
    by_leave: dict[int, LeaveRolls] = {}
    for leave in np.unique(rolls.spotted).tolist():
        at = rolls.spotted == leave
        offset, angle = rolls.offset_boards[at], rolls.angle_deg[at]
        place = place_boards(leave, offset, angle)
        found = LeaveRolls(place, angle, rolls.standing[at].astype(np.int64))
        kept = min(leave, mirrored_leave(leave))
        found = found if kept == leave else found.mirrored()
        by_leave[kept] = by_leave[kept].joined(found) if kept in by_leave else found
    return SpareBook(by_leave, width, settings)


@cache
def leave_odds(leave: int) -> LeaveOdds:
    """Odds of one leave by what ships with the program; refuses what `SpareBook.of` refuses."""
    return shipped_spares().of(leave)


@cache
def shipped_spares() -> SpareBook:
    """The rolls at leaves that ship with the program."""
    return load_spares(Path(str(files("nextpair.carry"))) / "data" / "spares.npz")


def write_spares(
    path: Path, rolls: Rolls, settings: dict[str, Any], width: Width | None = None
) -> None:
    """Write rolls at leaves as the file that ships with the program.

    `settings` say how they were rolled. Without a `width` the best one is found, which takes a
    while. Rolls at single pins are left out. Raises InvalidValueError where nothing is left.
    """
    several = np.bitwise_count(rolls.spotted) > 1
    require(bool(several.any()), "rolls", len(several), "rolls at leaves of two pins or more")
    kept = rolls.taken(several)
    chosen = width or best_width(spare_book(kept, Width(1.0, 1.0), {}))
    order = np.lexsort((kept.offset_boards, kept.spotted))
    told = settings | {
        "rolls": len(order),
        "width_place_boards": chosen.place_boards,
        "width_angle_deg": chosen.angle_deg,
    }
    np.savez_compressed(
        path,
        offset=np.rint(kept.offset_boards[order] / FINEST).astype(np.int16),
        angle=np.rint(kept.angle_deg[order] / FINEST).astype(np.int16),
        spotted=kept.spotted[order].astype(np.uint16),
        standing=kept.standing[order].astype(np.uint16),
        settings=np.array(json.dumps(told)),
    )


def load_spares(path: Path) -> SpareBook:
    """What `write_spares` wrote."""
    with np.load(path) as shipped:
        settings = json.loads(str(shipped["settings"]))
        unkept = np.full(len(shipped["offset"]), np.nan)
        rolls = Rolls(
            offset_boards=shipped["offset"] * FINEST,
            angle_deg=shipped["angle"] * FINEST,
            speed_mps=unkept,
            ball_kg=unkept,
            roll_share=unkept,
            side_rotation_radps=unkept,
            spotted=shipped["spotted"],
            standing=shipped["standing"],
            exit_x_m=unkept,
        )
    width = Width(settings["width_place_boards"], settings["width_angle_deg"])
    return spare_book(rolls, width, settings)


def best_width(book: SpareBook) -> Width:
    """The smoothing under which each roll is best foreseen from the others, all leaves together.

    Source: closed form, leave-one-out likelihood of made or missed.
    """
    tried = [Width(place, angle) for place in TRIED_PLACES_BOARDS for angle in TRIED_ANGLES_DEG]
    likelihoods = [
        sum(
            _left_out_likelihood(rolls.in_reach(leave), each)
            for leave, rolls in book.rolls.items()
        )
        for each in tried
    ]
    return tried[int(np.argmax(likelihoods))]


def _left_out_likelihood(rolls: LeaveRolls, width: Width) -> float:
    weights = _weights(rolls, width, rolls.place_boards, rolls.angle_deg)
    np.fill_diagonal(weights, 0.0)
    made = rolls.standing == 0
    mean = (made.sum() + 0.5) / (len(made) + 1.0)
    foreseen = weights @ made + LONE_ROLL_WEIGHT * mean
    chance = foreseen / (weights.sum(axis=1) + LONE_ROLL_WEIGHT)
    return float(np.log(np.where(made, chance, 1.0 - chance)).sum())


def _weights(
    rolls: LeaveRolls, width: Width, place: FloatArray, angle_deg: FloatArray
) -> FloatArray:
    """Weight of each roll at each of some places: (places, rolls)."""
    by_place = _kernel(place, rolls.place_boards, width.place_boards)
    return by_place * _kernel(angle_deg, rolls.angle_deg, width.angle_deg)


def _kernel(at: FloatArray, rolled: FloatArray, deviation: float) -> FloatArray:
    return np.asarray(np.exp(-0.5 * ((at[:, np.newaxis] - rolled) / deviation) ** 2))


def _cell(nodes: FloatArray, values: FloatArray) -> tuple[IntArray, FloatArray]:
    """Lower node and share of the upper one (..., 1) of finite values, clamped to the nodes."""
    along = np.clip((values - nodes[0]) / (nodes[1] - nodes[0]), 0, len(nodes) - 1)
    lower = np.minimum(along.astype(np.int64), len(nodes) - 2)
    return lower, (along - lower)[..., np.newaxis]
