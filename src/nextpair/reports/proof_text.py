"""The proof for a terminal: the figures, then who scored what on which kind of pair."""

from __future__ import annotations

from nextpair.domain.proof import PairKindCard, Proof, ProofFigure
from nextpair.reports.ink import Ink
from nextpair.reports.wording import counted

VERDICTS = {True: "met", False: "NOT met", None: ""}
HOW = (
    "Worlds are drawn from assumed spreads, some beyond what the planner itself doubts; "
    "docs/guide/proof.md tells them. Scores are expected ones, exact over the racks of the carry "
    "table. A planner that does well here has not yet done so on real lanes."
)


def render_proof_text(proof: Proof, columns: int = 80, *, colour: bool = False) -> str:
    """The proof as text."""
    page = Ink(columns, colour, label_columns=15)
    lines = [
        page.strong("The planner in simulated worlds"),
        f"{counted(proof.events, 'event')}, {counted(proof.worlds, 'world')}, "
        f"{counted(proof.games, 'game')}; seed {proof.seed}, model {proof.model_version}",
    ]
    lines += page.section("FIGURES, with 95 % intervals")
    for figure in proof.figures:
        lines += page.indented("  - ", 4, _figure_words(figure))
    for kind in proof.kinds:
        lines += page.section(f"PAIRS: {kind.kind}, {counted(kind.games, 'game')}")
        lines += _kind_lines(kind)
    lines += page.section("HOW TO READ IT")
    lines += page.indented("  - ", 4, HOW)
    return "\n".join(lines) + "\n"


def _figure_words(figure: ProofFigure) -> str:
    unit = " %" if figure.unit == "percent" else " pins a game"
    said = f"{figure.name}: {figure.value:.1f}{_interval(figure)}{unit}"
    if figure.must is None:
        return said
    bound = "at most" if figure.less_is_better else "at least"
    aim = "" if figure.aim is None else f", aim {figure.aim:g}"
    if figure.nominal is not None:
        bound = f"{figure.nominal:g} give or take"
    return f"{said}; {bound} {figure.must:g}{aim}: {VERDICTS[figure.met]}"


def _interval(figure: ProofFigure) -> str:
    if figure.low is None or figure.high is None:
        return ""
    return f" ({figure.low:.1f} to {figure.high:.1f})"


def _kind_lines(kind: PairKindCard) -> list[str]:
    width = max(len(card.name) for card in kind.contenders)
    lines = [f"  {'':{width}}   score   regret"]
    lines += [
        f"  {card.name:{width}}   {card.score:5.1f}   {card.regret.value:6.1f}"
        for card in kind.contenders
    ]
    lines += [
        f"  the planner's gain {gain.name}: {gain.value:+.1f}{_interval(gain)}"
        for gain in kind.gains
    ]
    return lines
