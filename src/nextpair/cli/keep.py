"""What is kept, on the command line: copied, put back, written out and taken in."""

from __future__ import annotations

import json
from contextlib import closing
from pathlib import Path
from typing import Annotated, Any

import typer

from nextpair.cli.options import takes
from nextpair.cli.output import write_files
from nextpair.cli.session import Session
from nextpair.domain.errors import InvalidValueError, require

BackupFile = Annotated[Path, typer.Argument(metavar="FILE", help="The copy of the store.")]
RestoredFile = Annotated[
    Path | None, typer.Argument(metavar="[FILE]", help="The copy of the store.")
]
Last = Annotated[bool, typer.Option("--last", help="The newest sound daily backup.")]
ArchiveFile = Annotated[Path, typer.Argument(metavar="FILE", help="The archive, as JSON.")]
Whose = Annotated[
    str | None, typer.Option("--account", metavar="NAME", help="Whose; left out, yours at home.")
]


@takes("data_dir", "store", "debug")
def backup(ctx: typer.Context, file: BackupFile) -> str:
    """Copy the whole store into a file."""
    session: Session = ctx.obj
    session.program().back_up(file)
    return f"{file} is a copy of the whole store.\n"


@takes("data_dir", "store", "debug")
def restore(ctx: typer.Context, file: RestoredFile = None, last: Last = False) -> str:
    """Put a backup in the store's place."""
    session: Session = ctx.obj
    program = session.program()
    if last and file is not None:
        raise InvalidValueError("--last", str(file), "either a file or the last daily backup")
    if file is None:
        newest = program.last_backup()
        if not last:
            raise InvalidValueError("FILE", None, f"a backup, or --last for {newest}")
        file = newest
    aside = program.restore(file)
    kept = f"; the one before is {aside}" if aside else ""
    return f"{program.store_place()} is the store of {file} now{kept}.\n"


@takes("data_dir", "store", "debug")
def archive(ctx: typer.Context, file: ArchiveFile, whose: Whose = None) -> str:
    """Write all of an account's records and logs."""
    from nextpair.application.accounts import HOME, account_named
    from nextpair.application.archive import archive_of

    session: Session = ctx.obj
    with closing(session.program().store()) as store:
        everything = archive_of(store, account_named(store, whose or HOME).id)
    write_files({file: json.dumps(everything, ensure_ascii=False).encode()}, private=True)
    versions, jottings = len(everything["records"]), len(everything["jottings"])
    return f"{file} holds {versions} versions of records and {jottings} jottings.\n"


@takes("data_dir", "store", "debug")
def unpack(ctx: typer.Context, file: ArchiveFile, whose: Whose = None) -> str:
    """Take an archive into the store; twice is once."""
    from nextpair.application.accounts import HOME, account_named
    from nextpair.application.archive import unpack

    session: Session = ctx.obj
    told = _json(file)
    with closing(session.program().store()) as store:
        unpacked = unpack(store, account_named(store, whose or HOME).id, told)
    conflicts = "".join(
        f"jotting {id} is another one here, which stays\n" for id in unpacked.conflicts
    )
    return f"{unpacked.stored} new, {unpacked.same} here already.\n{conflicts}"


def _json(file: Path) -> Any:
    allowed = "an archive of nextpair"
    is_ordinary = file.is_file() or file.is_dir() or not file.exists()
    require(is_ordinary, str(file), "not an ordinary file", allowed)
    try:
        return json.loads(file.read_bytes())
    except OSError as error:
        raise InvalidValueError(str(file), error.strerror, "a file that can be read") from error
    except ValueError as error:
        raise InvalidValueError(str(file), str(error), allowed) from error
    except RecursionError as error:
        raise InvalidValueError(str(file), "lists within lists without end", allowed) from error
