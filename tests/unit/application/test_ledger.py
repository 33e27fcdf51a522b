"""The ledger against sums worked out by hand, and what it keeps to itself."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from uuid import uuid4

from hypothesis import given
from hypothesis import strategies as st

from event_folder import DEMO
from nextpair.application.events import take_in_event
from nextpair.application.ledger import kept_ledger, money_of_event, season_ledger
from nextpair.application.store import Account
from nextpair.domain.ledger import LedgerLine
from nextpair.domain.money import Brackets, Money, SidePot
from nextpair.domain.record import Draft, Kind
from nextpair.domain.standing import Prospects
from nextpair.files import FilePapers, load_event
from nextpair.store.memory import MemoryStore

D = Decimal
PLANNED = Money(
    entry_fee=D("95.00"),
    currency="EUR",
    expenses=(("travel", D("48.00")), ("practice", D("12.35"))),
    entries=84,
    prizes=(D(500), D(250), D("179.35"), D(100)),
    side_pots=(
        SidePot("high_game", D("4.00"), 40, (0.6, 0.4), per="game"),
        SidePot("high_series", D("6.00"), 30, (1.0,), count=0),
    ),
    brackets=Brackets(D("5.00"), 8, (D(25), D(10)), 0),
)
OVER = replace(
    PLANNED,
    spent=(("travel", D("51.30")), ("parking", D("7.00"))),
    winnings=(("prize", D("240.00")), ("side_pots", D("18.00"))),
)


def event(money=PLANNED, home=None, side_pots=True, **more):
    loaded = load_event(DEMO / "event.toml")
    bowler = replace(loaded.bowler, home_currency=home, side_pots=side_pots)
    return replace(loaded, money=money, bowler=bowler, games=6, **more)


def test_a_planned_event_costs_what_its_parts_do():
    ledger = money_of_event(event())
    # 95.00 + 48.00 + 12.35 + 6 games at 4.00; neither series pot nor bracket is entered.
    assert ledger.costs == (
        LedgerLine("entry_fee", D("95.00"), None),
        LedgerLine("travel", D("48.00"), None),
        LedgerLine("practice", D("12.35"), None),
        LedgerLine("side_pots", D("24.00"), None),
    )
    assert (ledger.planned_cost, ledger.cost) == (D("179.35"), D("179.35"))
    assert (ledger.won, ledger.result, ledger.is_over) == (None, None, False)


def test_an_event_that_is_over_cost_what_was_paid():
    ledger = money_of_event(event(OVER))
    # 95.00 + 51.30 + 12.35 + 24.00 + 7.00 = 189.65; 258.00 won.
    assert (ledger.planned_cost, ledger.cost) == (D("179.35"), D("189.65"))
    assert (ledger.won, ledger.result) == (D("258.00"), D("68.35"))
    assert LedgerLine("parking", D(0), D("7.00")) in ledger.costs
    assert LedgerLine("practice", D("12.35"), D("12.35")) in ledger.costs


def test_a_game_costs_its_share_to_the_last_digit():
    ledger = money_of_event(event(replace(PLANNED, expenses=(("travel", D("0.01")),))))
    assert ledger.cost == D("119.01")
    assert ledger.cost_per_game == D("119.01") / 6 == D("19.835")


def test_the_place_that_pays_the_event_is_the_last_that_does():
    even = money_of_event(event()).break_even
    # The third prize is just what the event costs; the first pays it twice, with 141.30 left.
    assert (even.prize, even.place, even.events_paid_by_winning) == (D("179.35"), 3, 2)
    dear = money_of_event(event(replace(PLANNED, entry_fee=D(600)))).break_even
    assert (dear.place, dear.events_paid_by_winning) == (None, 0)
    free = money_of_event(event(Money())).break_even
    assert (free.prize, free.place, free.events_paid_by_winning) == (D(0), None, None)


def test_what_the_field_promises_is_told_where_it_is_known():
    prospects = Prospects(
        stages=(),
        cash_chance=0.4,
        win_chance=0.05,
        place_interval_80=(2, 40),
        expected_prize=D("61.25"),
        prize_sd=D("110.00"),
        currency="EUR",
        prize_chances=((D(500), 0.05), (D(250), 0.1), (D("179.35"), 0.05), (D(100), 0.2)),
    )
    ledger = money_of_event(event(), prospects)
    assert ledger.expected.result == D("61.25") - D("179.35")
    assert abs(ledger.break_even.chance - 0.2) < 1e-12
    assert money_of_event(event(OVER), prospects).expected is None


def test_side_pots_appear_nowhere_where_the_bowler_wants_none():
    told = repr(money_of_event(event(OVER, side_pots=False)))
    assert "side_pots" not in told
    assert "brackets" not in told
    # 95.00 + 51.30 + 12.35 + 7.00; 240.00 won.
    assert "cost=Decimal('165.65')" in told
    assert "won=Decimal('240.00')" in told


def season():
    swedish = replace(
        PLANNED, currency="SEK", rate=D("0.0897"), side_pots=(), winnings=(("prize", D("0")),)
    )
    return [
        event(OVER, home="EUR", name="Second", date=date(2026, 5, 2)),
        event(swedish, home="EUR", name="First", date=date(2026, 3, 1)),
        event(PLANNED, home="EUR", name="Third", date=date(2026, 9, 9)),
        event(replace(PLANNED, currency="DKK"), home="EUR", name="Fourth", date=date(2026, 10, 1)),
    ]


def test_a_season_adds_up_by_currency_and_at_home():
    ledger = season_ledger(season())
    assert [one.event for one in ledger.events] == ["First", "Second", "Third", "Fourth"]
    assert [total.currency for total in ledger.totals] == ["SEK", "EUR", "DKK"]
    euros = ledger.totals[1]
    assert (euros.over.events, euros.over.cost, euros.over.result) == (1, D("189.65"), D("68.35"))
    assert (euros.to_come.events, euros.to_come.cost) == (1, D("179.35"))
    assert euros.to_come.result == 0
    # 95.00 + 48.00 + 12.35 = 155.35 SEK at 0.0897 = 13.934895 EUR, with 189.65.
    assert ledger.home.over.cost == D("203.584895")
    assert ledger.home.over.result == D("68.35") - D("13.934895")
    assert ledger.home.over.cost_per_game == D("203.584895") / 12
    assert ledger.without_rate == ("Fourth",)
    travel = next(line for line in ledger.home.costs if line.kind == "travel")
    assert travel.planned == 2 * D("48.00") + D("48.00") * D("0.0897")
    assert travel.actual == D("51.30") + D("48.00") * D("0.0897")


def test_a_season_of_one_currency_needs_no_home():
    ledger = season_ledger([event(), event(OVER)])
    assert ledger.home is None
    assert ledger.without_rate == ()
    assert len(ledger.totals) == 1


def test_no_events_are_no_season():
    assert season_ledger([]).totals == ()


@given(st.lists(st.integers(0, 10**9), max_size=8))
def test_sums_are_exact(thousandths):
    expenses = tuple((f"cost {n}", D(one) / 1000) for n, one in enumerate(thousandths))
    ledger = money_of_event(event(replace(PLANNED, expenses=expenses)))
    assert int(ledger.cost * 1000) == sum(thousandths) + 119_000


def test_the_ledger_of_what_is_kept_passes_over_what_is_not_in_order():
    store, papers = MemoryStore(), FilePapers()
    owner = uuid4()
    store.add_account(Account(owner, "home", None))
    files = {path.name: path.read_text("utf-8") for path in DEMO.iterdir() if path.is_file()}
    record = take_in_event(store, papers, owner, files)
    broken = {**record.document, "name": "Broken", "bowler_name": "Nobody Here"}
    store.save(owner, Draft(uuid4(), Kind.EVENT, "Broken", broken, record.links), None)
    ledger = kept_ledger(store, papers, owner)
    assert [one.event for one in ledger.events] == ["Samphire Scratch Singles"]
    assert ledger.left_out == ("Broken",)
