"""Who may read what, on the command line."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing, contextmanager
from typing import TYPE_CHECKING, Annotated

import typer

from nextpair.cli.options import takes
from nextpair.domain.errors import InvalidValueError

if TYPE_CHECKING:
    from uuid import UUID

    from nextpair.application.store import Store

Reader = Annotated[str, typer.Argument(metavar="NAME", help="The account that is to read.")]
OneEvent = Annotated[
    str | None,
    typer.Argument(metavar="EVENT", help="The event, by name or id; left out, all of them."),
]
LinkedEvent = Annotated[str, typer.Argument(metavar="EVENT", help="The event, by name or id.")]
Whose = Annotated[
    str | None, typer.Option("--account", metavar="NAME", help="Whose; left out, yours at home.")
]
Days = Annotated[int, typer.Option("--days", metavar="N", help="How long it lasts, 1 to 30.")]
ServedAt = Annotated[
    str, typer.Option("--at", metavar="URL", help="Address under which the server is reached.")
]

share = typer.Typer(name="share", help="Say who may read your events.")


@share.command("list")
@takes("data_dir", "store", "debug")
def listed(ctx: typer.Context, whose: Whose = None) -> str:
    """List who may read what, and links for guests."""
    from nextpair.application.clock import now_utc
    from nextpair.domain.record import Kind

    with _shelf(ctx, whose) as (store, owner):
        events = {one.id: one.name for one in store.records(owner, Kind.EVENT)}
        shares, links = store.shares(owner), store.guest_links(owner, now_utc())
        names = {one.reader: store.account(one.reader).name for one in shares}
    told = [
        f"{names[one.reader]} reads {'all events' if one.event is None else events[one.event]}, "
        f"since {one.since:%Y-%m-%d}\n"
        for one in shares
    ]
    told += [
        f"a guest's link reads the sheet of {events[one.event]}, made {one.made_at:%Y-%m-%d}, "
        f"until {one.expires_at:%Y-%m-%d %H:%M} UTC\n"
        for one in links
    ]
    return "".join(told) or "Nobody else may read anything.\n"


@share.command()
@takes("data_dir", "store", "debug")
def add(ctx: typer.Context, reader: Reader, event: OneEvent = None, whose: Whose = None) -> str:
    """Let an account read one event, or all of them."""
    from nextpair.application.clock import now_utc
    from nextpair.application.sharing import share_with

    with _shelf(ctx, whose) as (store, owner):
        id, what = _event(store, owner, event)
        _, account = share_with(store, owner, reader, id, now_utc())
        return f"{account.name} may read {what}.\n"


@share.command()
@takes("data_dir", "store", "debug")
def stop(ctx: typer.Context, reader: Reader, event: OneEvent = None, whose: Whose = None) -> str:
    """Let an account read that no more."""
    from nextpair.application.accounts import account_named

    with _shelf(ctx, whose) as (store, owner):
        id, what = _event(store, owner, event)
        account = account_named(store, reader)
        if not store.drop_share(owner, account.id, id):
            raise InvalidValueError("share", f"{account.name}, {what}", "what is shared")
        return f"{account.name} may not read {what} any more, unless by another share.\n"


@share.command()
@takes("data_dir", "store", "debug")
def link(
    ctx: typer.Context, event: LinkedEvent, at: ServedAt, days: Days = 7, whose: Whose = None
) -> str:
    """Make a link that shows a guest one sheet."""
    from nextpair.application.clock import now_utc
    from nextpair.application.events import find_event
    from nextpair.application.sharing import make_guest_link
    from nextpair.application.store import NotKeptError
    from nextpair.web.address import Address

    address = Address(reached_at=at)
    with _shelf(ctx, whose) as (store, owner):
        record = find_event(store, owner, event)
        try:
            secret, made = make_guest_link(store, owner, record.id, days, now_utc())
        except NotKeptError as error:
            found = f"none of {record.name}"
            raise InvalidValueError("sheet", found, "one that `nextpair serve` made") from error
    until = f"{made.expires_at:%Y-%m-%d %H:%M} UTC"
    return f"{address.url(f'/guest/{secret}')}\nWhoever has it reads the sheet, until {until}.\n"


@share.command()
@takes("data_dir", "store", "debug")
def unlink(ctx: typer.Context, event: LinkedEvent, whose: Whose = None) -> str:
    """End every guest's link to an event."""
    from nextpair.application.clock import now_utc
    from nextpair.application.events import find_event

    with _shelf(ctx, whose) as (store, owner):
        record = find_event(store, owner, event)
        found = [one for one in store.guest_links(owner, now_utc()) if one.event == record.id]
        for one in found:
            store.drop_guest_link(owner, one.digest)
    return f"Links to {record.name} that lead nowhere now: {len(found)}.\n"


@contextmanager
def _shelf(ctx: typer.Context, whose: str | None) -> Iterator[tuple[Store, UUID]]:
    """The store, and the account whose things are shared."""
    from nextpair.application.accounts import HOME, account_named

    with closing(ctx.obj.program().store()) as store:
        yield store, account_named(store, whose or HOME).id


def _event(store: Store, owner: UUID, called: str | None) -> tuple[UUID | None, str]:
    """The id of an event and its name; none for all of them."""
    from nextpair.application.events import find_event

    if called is None:
        return None, "all events"
    record = find_event(store, owner, called)
    return record.id, record.name
