"""Any event as documents, for hypothesis: every optional key there or not, either hand."""

from __future__ import annotations

import unicodedata
from typing import Any

from hypothesis import strategies as st

from nextpair.application.bundle import EarlierSquad, EventBundle

Document = dict[str, Any]
LANES = 40
OWN = "Ada Quill"
LIBRARY = ("library: Mill Race 35", "library:mill-race-35")


def numbers(low: float, high: float) -> st.SearchStrategy[float]:
    """Whole numbers and others, as JSON has them."""
    return st.one_of(
        st.floats(low, high, allow_subnormal=False), st.integers(int(low) + 1, int(high))
    )


def documents(
    needed: dict[str, st.SearchStrategy[Any]], optional: dict[str, st.SearchStrategy[Any]]
) -> st.SearchStrategy[Document]:
    return st.fixed_dictionaries(needed, optional=optional)


def _is_plain(text: str) -> bool:
    kinds = {unicodedata.category(character) for character in text}
    return bool(text.strip()) and not kinds & {"Cc", "Cs", "Zl", "Zp"}


names = st.one_of(
    st.sampled_from(["=1+1", 'Bo "Hook", Farr', "Ægir #7", "7", "true", "a\\b", "'"]),
    st.text(min_size=1, max_size=12).filter(_is_plain),
).map(str.strip)
amounts = st.integers(0, 10**9).map(lambda thousandths: thousandths / 1000)
grits = st.one_of(st.integers(360, 5000), st.just("polished"))
covers = st.sampled_from(["plastic", "urethane", "pearl", "hybrid", "solid"])
styles = st.sampled_from(["one-handed", "two-handed", "no-thumb"])
hands = st.sampled_from(["right", "left"])


@st.composite
def boards(draw: st.DrawFn, key: str, low: float, high: float) -> Document:
    distances = draw(st.lists(st.floats(0, 60), min_size=2, max_size=3, unique=True).map(sorted))
    row = st.lists(st.sampled_from([low, 0.1 * high, high, 0]), min_size=39, max_size=39)
    return {"distance_ft": distances, key: [draw(row) for _ in distances]}


lanes = st.lists(
    documents(
        {"number": st.integers(1, LANES)},
        {
            "tilt_in": st.floats(-0.2, 0.2),
            "friction": st.floats(0.5, 1.5),
            "heights": boards("height_in", -0.5, 0.5),
        },
    ),
    max_size=2,
    unique_by=lambda lane: lane["number"],
)
houses = documents(
    {"name": names, "lanes": st.just(LANES)},
    {
        "surface": st.sampled_from(["wood", "overlay", "synthetic"]),
        "surface_age_years": numbers(0, 80),
        "approach": st.sampled_from(["tacky", "medium", "slick"]),
        "pinfall": st.sampled_from(["free", "string"]),
        "lane_machine": names,
        "temperature_c": numbers(5, 40),
        "notes": st.lists(names, max_size=2),
        "lane": lanes,
    },
)
PASS_NEEDS = {
    "direction": st.just("forward"),
    "from_board": st.integers(1, 20),
    "to_board": st.integers(20, 39),
    "loads": st.integers(1, 60),
    "oil_ul": numbers(0.1, 200),
    "start_ft": st.floats(0, 8),
    "end_ft": numbers(12, 19),
}
tapers = {"taper_start_ft": st.floats(0, 2), "taper_end_ft": st.floats(0, 2)}
passes = st.lists(documents(PASS_NEEDS, tapers), min_size=1, max_size=3)
OF_PATTERN = {
    "viscosity_cp": numbers(5, 150),
    "shape": st.sampled_from(["flat", "crowned", "stepped", "house-like", "reversed"]),
    "description": names,
}
NEEDS_PATTERN = {"name": names, "length_ft": numbers(20, 60)}
patterns = st.one_of(
    documents(NEEDS_PATTERN | {"pass": passes}, OF_PATTERN | {"buff_ft": st.floats(0, 20)}),
    documents(NEEDS_PATTERN | {"film": boards("units", 0, 333)}, OF_PATTERN),
    st.sampled_from(LIBRARY),
)
spans = {
    "laydown_boards": st.tuples(numbers(1, 20), numbers(20, 39)),
    "launch_angle_deg": st.tuples(st.floats(-5, 0), st.floats(1, 10)),
    "speed_change_mph": st.tuples(st.floats(-4, 0), st.floats(0, 4)),
    "axis_rotation_change_deg": st.tuples(st.floats(-30, 0), st.floats(0, 30)),
}
bowlers = documents(
    {"name": names, "hand": hands, "average": numbers(50, 280)},
    {
        "style": styles,
        "speed_mph": numbers(15, 20),
        "rev_rate_rpm": numbers(100, 450),
        "axis_rotation_deg": numbers(-10, 120),
        "axis_tilt_deg": numbers(-10, 90),
        "pap_over_in": numbers(2, 7.5),
        "pap_up_in": numbers(-3, 3),
        "slide_to_laydown_boards": numbers(0, 15),
        "loft_in": numbers(0, 40),
        "side_pots": st.booleans(),
        "home_currency": st.just("NOK"),
        "scatter": documents(
            {},
            {
                "laydown_boards": st.floats(0, 5),
                "launch_angle_deg": st.floats(0, 3),
                "speed_mph": st.floats(0, 4),
                "rev_rate_rpm": numbers(0, 150),
            },
        ),
        "range": documents({}, {key: span.map(list) for key, span in spans.items()}),
        "care": documents({}, {"watch": st.lists(names, max_size=2)}),
    },
)
balls = documents(
    {"cover": covers},
    {
        "weight_lb": numbers(6, 16),
        "rg_in": st.floats(2.46, 2.74),
        "differential_in": st.floats(0.02, 0.06),
        "intermediate_in": st.floats(0, 0.01),
        "surface_grit": grits,
        "games_on_surface": numbers(0, 1000),
        "surface_by": st.sampled_from(["spinner", "hand"]),
        "grit_before": grits,
        "pin_to_pap_in": numbers(0, 6.75),
        "drilling_angle_deg": numbers(0, 180),
        "val_angle_deg": numbers(0, 90),
        "role": st.sampled_from(["strike", "spare"]),
        "top_weight_oz": numbers(-1, 1),
        "side_weight_oz": numbers(-1, 1),
        "finger_weight_oz": numbers(-1, 1),
    },
)
entrants = documents(
    {"pair": st.integers(0, LANES // 2 - 1).map(lambda n: f"{2 * n + 1}-{2 * n + 2}")},
    {
        "name": names,
        "hand": hands,
        "style": styles,
        "rev_rate_rpm": numbers(100, 450),
        "speed_mph": numbers(15, 20),
        "cover": covers,
    },
)
money = documents(
    {"entries": st.integers(50, 10_000)},
    {
        "entry_fee": amounts,
        "currency": st.just("SEK"),
        "rate": st.sampled_from([0.0897, 11, 1.000000001]),
        "expenses": st.dictionaries(names, amounts, max_size=2),
        "cut_to": st.integers(1, 50),
        "prizes": st.lists(amounts, max_size=3).map(lambda prizes: sorted(prizes, reverse=True)),
        "side_pots": st.lists(
            documents(
                {
                    "kind": names,
                    "fee": amounts,
                    "entries": st.integers(1, 100),
                    "pays": st.just([0.5, 0.3]),
                },
                {
                    "per": st.sampled_from(["game", "squad"]),
                    "handicap": st.booleans(),
                    "count": st.integers(0, 9),
                },
            ),
            max_size=2,
        ),
        "brackets": documents(
            {"fee": st.just(5.5), "size": st.just(8), "pays": st.just([25, 10.25])},
            {"count": st.integers(0, 9), "handicap": st.booleans()},
        ),
        "spent": st.dictionaries(names, amounts, max_size=2),
        "winnings": st.dictionaries(st.sampled_from(["prize", "other"]), amounts),
    },
)
terms = {
    "games": st.integers(1, 24),
    "practice_minutes": numbers(0, 120),
    "move_pairs": st.integers(-50, 50),
}
events = documents(
    {
        "name": names,
        "date": st.dates().map(str),
        "games": st.integers(1, 24),
        "bowler_name": st.just(OWN),
        "move_pairs": st.integers(-50, 50),
    },
    {
        "practice_minutes": numbers(0, 120),
        "ball_limit": st.integers(1, 50),
        "spare_balls": st.integers(0, 5),
        "surface_changes": st.sampled_from(["before", "any", "none"]),
        "counting": st.sampled_from(["traditional", "current-frame"]),
        "handicap": documents(
            {"base": st.integers(0, 300), "percent": st.integers(0, 200)},
            {"rounding": st.sampled_from(["down", "half-up"]), "most": st.integers(0, 300)},
        ),
        "money": money,
    },
)
stages = documents(
    {
        "kind": st.sampled_from(
            ["block", "round-robin", "single-elimination", "double-elimination", "step-ladder"]
        ),
        "entrants": st.integers(2, 50),
    },
    {
        "games": st.integers(1, 24),
        "pins": st.sampled_from(["carried", "reset"]),
        "win_bonus_pins": st.integers(0, 300),
        "tie_bonus_pins": st.integers(0, 300),
    },
)


@st.composite
def decided(draw: st.DrawFn) -> Document:
    """An event, with stages where there are entries for them; money may say the cut too."""
    event = draw(events)
    if "money" not in event:
        return event
    drawn = draw(st.lists(stages, max_size=3))
    if not drawn:
        return event
    event["stage"] = sorted(drawn, key=lambda stage: -stage["entrants"])
    if "cut_to" in event["money"]:
        event["money"]["cut_to"] = event["stage"][0]["entrants"]
    return event


def squads(own: Document | None) -> st.SearchStrategy[tuple[Document, ...]]:
    """Squads with everybody once; with `own`, the bowler's too."""
    others = st.lists(
        entrants, min_size=own is None, max_size=4, unique_by=lambda row: row.get("name", id(row))
    )
    return others.map(
        lambda rows: (
            tuple([own] if own else []) + tuple(row for row in rows if row.get("name") != OWN)
        )
    )


@st.composite
def bundles(draw: st.DrawFn) -> EventBundle:
    """Any event."""
    bowler = draw(bowlers)
    own = draw(entrants) | {"name": OWN, "hand": bowler["hand"]}
    squad = draw(squads(own))
    locker = [draw(balls) | {"name": name} for name in draw(st.sets(names, max_size=3))]
    strike = {"name": "Kestrel", "cover": "solid"}
    earlier = st.builds(
        EarlierSquad,
        documents({}, terms),
        st.one_of(st.just(squad), squads(None).filter(bool)),
        st.sampled_from(["squad", "early", ""]),
    )
    return EventBundle(
        event=draw(decided()),
        house=draw(houses),
        left_pattern=draw(patterns),
        right_pattern=draw(st.none() | patterns),
        bowler=bowler,
        locker=(strike, *(ball for ball in locker if ball["name"] != "Kestrel")),
        squad=squad,
        earlier=tuple(draw(st.lists(earlier, max_size=2))),
    )
