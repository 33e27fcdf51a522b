"""A debrief made by hand, of the bundled event, for whatever shows one."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

from nextpair.domain.belief import Estimate, Finding
from nextpair.domain.debrief import (
    Debrief,
    DebriefFinding,
    FieldTold,
    GameAccount,
    LaneTold,
    LateMove,
    PracticeTold,
    SpareTold,
)
from nextpair.domain.ledger import BreakEven, EventLedger, LedgerLine
from nextpair.domain.lesson import Change, ChangeKind, Lesson
from nextpair.domain.sheet import LineCard

LINE = LineCard(24.5, 31.0, 17.2, 2.4, 9.1, 42.5, 12.6, 17.6)
SINGLE_PINS = DebriefFinding(
    key="spares: single-pin",
    words="Single pins were missed more often than your own chances say.",
    evidence=("11 of 17 made, 14.6 were to be expected", "6 of them were the 10 pin"),
    cost_pins_per_game=6.4,
    sure_probability=0.93,
    change=Change(ChangeKind.DRILL, "Twenty 10 pins before each practice, ten of them cold."),
)
SURFACE = DebriefFinding(
    key="surface: Slate Weir",
    words="The Slate Weir read too early on every pair.",
    evidence=("entry 1.4 boards high on 21 of 30 first balls", "1000 grit where 2000 was planned"),
    cost_pins_per_game=4.1,
    sure_probability=0.84,
    change=Change(
        ChangeKind.SURFACE, "Take the Slate Weir to 2000.", ball="Slate Weir", surface_grit=2000
    ),
)
HOUSE_NOTE = DebriefFinding(
    key="house: lane 14",
    words="Lane 14 hooked more than its neighbour all day.",
    evidence=("0.8 board earlier, 90 % sure",),
    cost_pins_per_game=None,
    sure_probability=0.9,
    change=Change(
        ChangeKind.HOUSE_NOTE, "Lane 14 is drier than 13.", house="Quernstone Lanes", lane=14
    ),
)

A_LESSON = Lesson(
    SURFACE.key, SURFACE.words, SURFACE.change, "Earlier Open", date(2026, 9, 12), accepted=True
)


def a_game(game: int, score: int, **parts: float | None) -> GameAccount:
    """A game whose parts add up: what is left over of score and plan is carry, or where nobody
    saw the balls come in both together."""
    told: dict[str, float | None] = {
        "lane_pins": -6.0, "release_pins": -1.5, "choice_pins": -4.0, "strays_pins": 2.0,
        "spares_pins": -9.0, **parts,
    }  # fmt: skip
    planned = 204.5
    rest = score - planned - sum(value for value in told.values() if value is not None)
    seen = told["strays_pins"] is not None
    return GameAccount(
        game=game,
        pair=f"{11 + 2 * game}-{12 + 2 * game}",
        score=score,
        planned_score=planned,
        lane_pins=float(told["lane_pins"] or 0.0),
        release_pins=float(told["release_pins"] or 0.0),
        choice_pins=float(told["choice_pins"] or 0.0),
        strays_pins=told["strays_pins"],
        carry_pins=rest if seen else None,
        strays_and_carry_pins=None if seen else rest,
        spares_pins=float(told["spares_pins"] or 0.0),
        best_score=209.0,
        regret_pins=11.0 if game == 2 else 3.5,
        ball="Slate Weir",
        best_ball="Dunlin Flock",
        best_surface_grit=2000,
        best_line=LINE,
        best_right_line=LINE,
        words=f"Game {game}: the spares cost most.",
    )


GAMES = (a_game(1, 198), a_game(2, 176), a_game(3, 221, strays_pins=None))
FRICTION = Finding(
    name="friction",
    unit="% of planned",
    words="more friction than planned",
    planned=Estimate(100.0, 7.0, 91.0, 109.0),
    found=Estimate(108.0, 3.0, 104.2, 111.8),
    more_probability=0.99,
)
SPEED = Finding(
    name="speed",
    unit="mph",
    words="slower than usual",
    planned=Estimate(17.4, 0.2, 17.1, 17.7),
    found=Estimate(17.1, 0.1, 17.0, 17.2),
    more_probability=0.07,
)
MONEY = EventLedger(
    event="Samphire Scratch Singles",
    date="2026-10-17",
    currency="EUR",
    home_currency=None,
    rate=None,
    games=3,
    is_over=True,
    costs=(LedgerLine("entry", Decimal("95.00"), Decimal("95.00")),),
    winnings=(LedgerLine("prize", Decimal("0.00"), Decimal("240.37")),),
    planned_cost=Decimal("95.00"),
    cost=Decimal("95.00"),
    cost_per_game=Decimal("31.67"),
    won=Decimal("240.37"),
    result=Decimal("145.37"),
    home_cost=None,
    home_result=None,
    break_even=BreakEven(Decimal("95.00"), 9, 3),
)


def a_debrief() -> Debrief:
    """Three games, one of them with balls that nobody saw come in."""
    return Debrief(
        event="Samphire Scratch Singles",
        bowler="Maren Tolvane",
        date=date(2026, 10, 17),
        house="Quernstone Lanes",
        patterns=("Long Samphire 42",),
        model_version="0123456789ab",
        seed=7,
        shots=52,
        games=GAMES,
        lanes=(
            LaneTold("13-14", (1,), (FRICTION,), "13-14 had more friction than planned."),
            LaneTold("15-16", (2, 3), (FRICTION,), "15-16 was about as planned."),
        ),
        release=(SPEED,),
        spares=(
            SpareTold("all", 17, 26, 20.4, 0.08),
            SpareTold("single-pin", 11, 17, 14.6, 0.03),
            SpareTold("split", 1, 2, 0.4, 0.98),
        ),
        late_moves=(
            LateMove(2, 15, 4, 7, 3, 5.2, "Lane 15 asked for a move in frame 4."),
            LateMove(3, 16, 6, None, 5, 3.1, "Lane 16 asked for a move in frame 6."),
        ),
        practice=PracticeTold(
            9,
            6,
            (13, 14),
            ("Slate Weir",),
            0.31,
            "9 shots took away 31 % of the doubt.",
        ),
        field=(FieldTold(1, 198, 190.2, 0.36), FieldTold(2, 176, 178.9, -0.13)),
        money=MONEY,
        findings=(SINGLE_PINS, SURFACE, HOUSE_NOTE),
        went_well=("Game 2 was low for the whole field: 179 on average.",),
        notes=("Game 3 was bowled without anybody seeing the balls come in.",),
        cautions=("What is written here cannot know how you felt.",),
    )


def without_findings() -> Debrief:
    """A debrief that found nothing worth saying."""
    return replace(a_debrief(), findings=(), late_moves=(), field=(), practice=None, money=None)
