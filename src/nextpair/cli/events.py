"""Events between files and the store, on the command line."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path
from typing import Annotated

import typer

from nextpair.cli.options import EventFile, takes
from nextpair.cli.output import write_files
from nextpair.cli.session import Session

KeptEvent = Annotated[
    str, typer.Argument(metavar="EVENT", help="The event's name in the store, or its id.")
]
Folder = Annotated[
    Path, typer.Option("--out", metavar="DIR", help="Folder to write the event's files to.")
]
ForOthers = Annotated[
    bool,
    typer.Option("--for-others", help="Leave out money and what the bowler takes care of."),
]


@takes("data_dir", "store", "debug")
def import_event(ctx: typer.Context, event: EventFile) -> str:
    """Keep an event with everything it needs, its shots and scores."""
    from nextpair.application.accounts import home_account
    from nextpair.application.events import keep_event

    session: Session = ctx.obj
    program = session.program()
    brought = program.load_folder(event)
    with closing(program.store()) as store:
        record = keep_event(store, home_account(store).id, brought)
    return f"{record.name} is kept, as {record.id}.\n"


@takes("data_dir", "store", "debug")
def export_event(
    ctx: typer.Context, event: KeptEvent, out: Folder, others: ForOthers = False
) -> str:
    """Write the files of a kept event, its shots and scores."""
    from nextpair.application.accounts import home_account
    from nextpair.application.events import find_event, folder_of

    session: Session = ctx.obj
    papers = session.program().papers()
    with closing(session.program().store()) as store:
        account = home_account(store).id
        record = find_event(store, account, event)
        texts = folder_of(store, papers, account, record.id, others)
    write_files({out / name: text.encode() for name, text in texts.items()})
    return "".join(f"wrote {out / name}\n" for name in texts)
