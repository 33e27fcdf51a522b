"""A made-up proof."""

from __future__ import annotations

from nextpair.domain.proof import ContenderCard, PairKindCard, Proof, ProofFigure

REGRET = ProofFigure("regret", 4.0, 1.0, 7.0, 12, less_is_better=True)


def a_proof() -> Proof:
    kind = PairKindCard(
        kind="all",
        games=12,
        contenders=(ContenderCard("planner", 186.24, REGRET),),
        gains=(ProofFigure("over: rule of 31", 7.1, None, None, 12),),
    )
    return Proof(
        model_version="abc",
        seed=7,
        events=2,
        worlds=3,
        games=12,
        figures=(
            ProofFigure("gain over the rule", 7.1, 2.0, 12.2, 12, must=5.0, aim=12.0),
            ProofFigure("bag loss", 2.4, 2.1, 2.7, 12, must=2.0, less_is_better=True),
            ProofFigure(
                "within the interval", 79.6, None, None, 12, "percent", 8.0, 3.0, nominal=80.0
            ),
        ),
        kinds=(kind,),
    )
