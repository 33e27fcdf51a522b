"""The packing list of an event on the command line."""

from __future__ import annotations

import json
from collections.abc import Sequence
from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from nextpair.cli.options import AsJson, EventFile, takes
from nextpair.cli.session import Session, watched
from nextpair.domain.errors import InvalidValueError, require

if TYPE_CHECKING:
    from nextpair.application.packing_at_home import PackedBy
    from nextpair.bootstrap import Program
    from nextpair.domain.event import Event
    from nextpair.domain.sheet import BagItem

EVENT_TO_KEEP = "an event that is kept; nextpair import takes it in"

MissingItems = Annotated[
    list[str] | None,
    typer.Option(
        "--missing", metavar="ITEM", help="Write down what was not there, for the next list."
    ),
]
KitName = Annotated[
    str | None, typer.Option("--kit", metavar="NAME", help="The kept kit to pack by.")
]
WithPrivate = Annotated[
    bool, typer.Option("--private", help="Show what you strap and watch in your own words.")
]


@takes("seed", "threads", "cache_dir", "store", "data_dir", "colour", "debug")
def pack(
    ctx: typer.Context,
    event: EventFile,
    as_json: AsJson = False,
    missing: MissingItems = None,
    kit: KitName = None,
    private: WithPrivate = False,
) -> str:
    """List what to take to an event, how many of each, and why."""
    from nextpair.reports.packing_json import render_packing_json
    from nextpair.reports.packing_text import render_packing_text

    session: Session = ctx.obj
    program = session.program()
    loaded = program.load_event(event)
    if missing:
        _note(program, loaded, missing)
        told = {"event": loaded.name, "missing": missing}
        noted = f"noted: missing at {loaded.name}: {', '.join(missing)}\n"
        return json.dumps(told, ensure_ascii=False) + "\n" if as_json else noted
    packed = kept_for_packing(program, loaded, kit)
    bag = _kept_bag(program, event, loaded)
    if bag is None:
        with watched() as progress:
            bag = program.plan(loaded, session.settings.seed, progress).bag
    packing = packed.list_of(loaded, bag)
    shown = packing if private else packing.for_others
    return render_packing_json(shown) if as_json else render_packing_text(shown, **session.page())


def kept_for_packing(program: Program, event: Event, kit: str | None = None) -> PackedBy:
    """What is kept at home that the packing list of an event goes by. Raises InvalidValueError for
    a kit that is not kept."""
    from nextpair.application.accounts import home_account
    from nextpair.application.packing_at_home import NOTHING_KEPT, packed_by

    store = program.kept_store()
    if store is None:
        require(kit is None, "kit", kit, "none: no kit is kept")
        return NOTHING_KEPT
    with closing(store):
        return packed_by(store, program.papers(), home_account(store).id, event, kit)


def _kept_bag(program: Program, path: Path, event: Event) -> tuple[BagItem, ...] | None:
    """The bag of the newest sheet that is kept, where it is of the event as its file has it."""
    from nextpair.application.accounts import home_account
    from nextpair.application.events import kept_as
    from nextpair.application.jobs import inputs_of, is_stale
    from nextpair.domain.sheet import Sheet
    from nextpair.files.results import result_of

    store = program.kept_store()
    if store is None:
        return None
    with closing(store):
        account = home_account(store).id
        id = kept_as(store, account, event)
        kept = None if id is None else store.computed(account, id, "sheet")
    if kept is None or is_stale(kept, inputs_of(program.load_folder(path).bundle, "sheet")):
        return None
    return result_of(Sheet, kept.document).bag


def _note(program: Program, event: Event, items: Sequence[str]) -> None:
    """Write down that things were not there. Raises InvalidValueError where the event is not
    kept."""
    from nextpair.application.accounts import home_account
    from nextpair.application.events import kept_as
    from nextpair.application.missing import note_missing

    store = program.kept_store(writes=True)
    if store is None:
        raise InvalidValueError("event", event.name, EVENT_TO_KEEP)
    with closing(store):
        account = home_account(store).id
        id = kept_as(store, account, event)
        if id is None:
            raise InvalidValueError("event", event.name, EVENT_TO_KEEP)
        note_missing(store, account, event, id, items)
