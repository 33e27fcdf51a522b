"""The book of houses on the command line."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from nextpair.cli.options import AsJson, takes
from nextpair.cli.output import require_writable, write_files
from nextpair.cli.session import Session, watched
from nextpair.domain.errors import require

if TYPE_CHECKING:
    from collections.abc import Iterable
    from uuid import UUID

    from nextpair.application.house_search import Wanted
    from nextpair.application.store import Store

Called = Annotated[
    str | None,
    typer.Argument(metavar="NAME", help="The house's name, or its id; left out, all of them."),
]
Search = Annotated[
    str, typer.Option("--search", metavar="WORDS", help="Houses of which these are written.")
]
Surface = Annotated[
    str, typer.Option("--surface", metavar="BED", help="wood, overlay or synthetic.")
]
Approached = Annotated[
    str, typer.Option("--approach", metavar="FEEL", help="tacky, medium or slick.")
]
Pins = Annotated[str, typer.Option("--pinfall", metavar="PINS", help="free or string.")]
Lanes = Annotated[
    int, typer.Option("--lanes", metavar="N", min=0, help="Houses with so many lanes or more.")
]
Met = Annotated[
    str, typer.Option("--pattern", metavar="WORDS", help="Houses where such a pattern was met.")
]
VisitOf = Annotated[
    str | None,
    typer.Option(
        "--visit", metavar="EVENT", help="Write the visit of an event that is kept into the book."
    ),
]
Accept = Annotated[
    bool, typer.Option("--accept", help="Put the friction that was learned into the house's file.")
]
ShareFile = Annotated[
    Path | None,
    typer.Option("--share", metavar="FILE.toml", help="Write the house for others, to a file."),
]
TakeInFile = Annotated[
    Path | None,
    typer.Option("--take-in", metavar="FILE.toml", help="Keep a house that was shared."),
]


LOOKED_UP_BY = ("--search", "--surface", "--approach", "--pinfall", "--lanes", "--pattern")
APART = {
    "NAME": LOOKED_UP_BY,
    "--take-in": ("NAME", "--visit", "--share", "--accept", *LOOKED_UP_BY),
    "--visit": ("NAME", *LOOKED_UP_BY),
    "--share": ("--accept", "--json", *LOOKED_UP_BY),
}
"""What each does not go with: it would be passed over in silence."""


@takes("data_dir", "store", "seed", "threads", "colour", "debug")
def house(
    ctx: typer.Context,
    name: Called = None,
    search: Search = "",
    surface: Surface = "",
    approach: Approached = "",
    pinfall: Pins = "",
    lanes: Lanes = 0,
    pattern: Met = "",
    visit: VisitOf = None,
    accept: Accept = False,
    share: ShareFile = None,
    take_in: TakeInFile = None,
    as_json: AsJson = False,
) -> str:
    """Look houses up: lanes, visits, and what those taught."""
    from nextpair.application.accounts import home_account
    from nextpair.application.house_search import find_house

    session: Session = ctx.obj
    looked_up_by = (search, surface, approach, pinfall, lanes, pattern)
    _apart(
        zip(LOOKED_UP_BY, looked_up_by, strict=True),
        (("NAME", name), ("--take-in", take_in), ("--visit", visit)),
        (("--share", share), ("--accept", accept), ("--json", as_json)),
    )
    with closing(session.program().store()) as store:
        account = home_account(store).id
        if take_in is not None:
            return _take_in(session, store, account, take_in, as_json)
        if share is not None:
            require_writable(share)
        if visit is not None:
            name = str(_keep_visit(session, store, account, visit))
        if name is None:
            for option, is_given in (("--share", share is not None), ("--accept", accept)):
                require(not is_given, option, "no NAME", "the name of a house beside it")
            wanted = _wanted(*looked_up_by)
            return _list(session, store, account, wanted, as_json)
        id = find_house(store, account, name).id
        if share is not None:
            return _share(session, store, account, id, share)
        return _book(session, store, account, id, accept, as_json)


def _apart(*named: Iterable[tuple[str, object]]) -> None:
    """Refuse two things that do not go together."""
    given = {option for options in named for option, value in options if value}
    for option, others in APART.items():
        for other in others:
            require(not given >= {option, other}, other, f"{option} too", "one of them")


def _list(session: Session, store: Store, account: UUID, wanted: Wanted, as_json: bool) -> str:
    from nextpair.application.house_search import Wanted, houses_found
    from nextpair.reports.house_json import houses_document, render_json
    from nextpair.reports.house_text import render_houses_text

    cards = houses_found(store, session.program().papers(), account, wanted)
    if as_json:
        return render_json(houses_document(cards))
    return render_houses_text(cards, wanted != Wanted(), **session.page())


def _book(
    session: Session, store: Store, account: UUID, id: UUID, accept: bool, as_json: bool
) -> str:
    from nextpair.application.house_book import accept_friction, book_of
    from nextpair.reports.house_json import book_document, render_json
    from nextpair.reports.house_text import render_house_text

    papers = session.program().papers()
    book = book_of(store, papers, account, id)
    if accept:
        accept_friction(store, papers, account, book.record, book.friction)
        book = book_of(store, papers, account, id)
    if as_json:
        return render_json(book_document(book))
    return render_house_text(book, **session.page())


def _keep_visit(session: Session, store: Store, account: UUID, called: str) -> UUID:
    """Keep the visit of an event, read from its log where that was not done; its house."""
    from nextpair.application.events import find_event
    from nextpair.application.house_book import keep_visit
    from nextpair.bootstrap.event_visits import event_visit

    program = session.program()
    event = find_event(store, account, called).id
    with watched() as progress:
        house, drafted = event_visit(program, store, account, event, progress)
    keep_visit(store, account, house, drafted)
    return house


def _share(session: Session, store: Store, account: UUID, id: UUID, file: Path) -> str:
    from nextpair.application.house_sharing import shared_house

    text = shared_house(store, session.program().papers(), account, id)
    write_files({file: text.encode()})
    return f"wrote {file}\n"


def _take_in(session: Session, store: Store, account: UUID, file: Path, as_json: bool) -> str:
    from nextpair.application.house_sharing import take_in_house
    from nextpair.reports.house_json import render_json, taken_document
    from nextpair.reports.house_text import taken_words

    program = session.program()
    document, visits = program.load_shared_house(file)
    taken = take_in_house(store, program.papers(), account, document, visits)
    return render_json(taken_document(taken)) if as_json else taken_words(taken)


def _wanted(
    search: str, surface: str, approach: str, pinfall: str, lanes: int, pattern: str
) -> Wanted:
    from nextpair.application.house_search import Wanted, chosen
    from nextpair.domain.house import Approach, LaneSurface, Pinfall

    return Wanted(
        text=search,
        surface=chosen(LaneSurface, "surface", surface),
        approach=chosen(Approach, "approach", approach),
        pinfall=chosen(Pinfall, "pinfall", pinfall),
        least_lanes=lanes,
        pattern=pattern,
    )
