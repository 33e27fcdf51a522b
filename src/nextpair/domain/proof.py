"""The proof as a document: what plans are worth in simulated worlds, in pins a game."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ProofFigure:
    """One figure with its 95 % confidence interval, over `games` games; None where one event
    leaves no interval.

    `must` and `aim` are what it is held against: at most, where `less_is_better`; where there is a
    `nominal` value, how far from it at most.
    """

    name: str
    value: float
    low: float | None
    high: float | None
    games: int
    unit: str = "pins_per_game"
    must: float | None = None
    aim: float | None = None
    less_is_better: bool = False
    nominal: float | None = None

    @property
    def met(self) -> bool | None:
        """Whether the value reaches what it must; None where nothing is asked."""
        if self.must is None:
            return None
        if self.nominal is not None:
            return abs(self.value - self.nominal) <= self.must
        return self.value <= self.must if self.less_is_better else self.value >= self.must


@dataclass(frozen=True, slots=True)
class ContenderCard:
    """Expected score of somebody, and their regret against who knows the world, as means."""

    name: str
    score: float
    regret: ProofFigure


@dataclass(frozen=True, slots=True)
class PairKindCard:
    """The games on pairs of one kind."""

    kind: str
    games: int
    contenders: tuple[ContenderCard, ...]
    gains: tuple[ProofFigure, ...]
    """Of the planner over each of the others."""


@dataclass(frozen=True, slots=True)
class Proof:
    """The planner against others in simulated worlds."""

    model_version: str
    seed: int
    events: int
    worlds: int
    games: int
    figures: tuple[ProofFigure, ...]
    kinds: tuple[PairKindCard, ...]
    """All games first, then by who bowled on the pair before."""
