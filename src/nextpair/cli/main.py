"""The command line: `nextpair`. Exit codes: 0 done, 2 the input is wrong, 1 our fault, 130 Ctrl+C.

A command returns what it has to say, and this module prints it. Nothing heavy is imported here or
by the commands' modules, so that help is quick.
"""

from __future__ import annotations

import errno
import io
import os
import sys
import traceback
from collections.abc import Callable, Sequence
from contextlib import suppress
from typing import Annotated, Any, NoReturn

import typer
from typer.main import get_command

from nextpair import __version__
from nextpair.application.interruption import interrupt_again
from nextpair.application.model_version import model_version
from nextpair.application.settings import Settings, settings_table
from nextpair.bootstrap import Program, write_fault
from nextpair.cli.account import account
from nextpair.cli.batch import batch
from nextpair.cli.carry import carry
from nextpair.cli.debrief import debrief
from nextpair.cli.doctor import doctor
from nextpair.cli.events import export_event, import_event
from nextpair.cli.house import house
from nextpair.cli.keep import archive, backup, restore, unpack
from nextpair.cli.ledger import ledger
from nextpair.cli.pack import pack
from nextpair.cli.pattern import conditions, film, patterns, similar
from nextpair.cli.pocket import pocket, site
from nextpair.cli.proof import proof
from nextpair.cli.read import read
from nextpair.cli.recap import recap
from nextpair.cli.score import score
from nextpair.cli.season import season
from nextpair.cli.serve import serve
from nextpair.cli.session import Session
from nextpair.cli.share import share
from nextpair.cli.sheet import bag, demo, sheet
from nextpair.cli.shot import path
from nextpair.cli.spare import spares
from nextpair.cli.standing import standing
from nextpair.cli.trust import trust
from nextpair.domain.errors import InputRefusedError, InvalidValueError
from nextpair.reports.refusal import on_screen, one_line
from nextpair.reports.wording import sentence

DONE, OUR_FAULT, WRONG_INPUT, STOPPED = 0, 1, 2, 130
"""Exit codes; the last is what shells give to a program that Ctrl+C ended."""

SHORT_ENOUGH = "a path as short as this system asks for"
USAGE_ERROR: Any = next(
    kind for kind in typer.BadParameter.__mro__ if kind.__name__ == "ClickException"
)
"""What the command-line library raises for a command line that it does not understand."""

_DEBUG = settings_table()["debug"]

app = typer.Typer(
    name="nextpair",
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    # The library's own switch would load its whole validation before every command's help.
    add_help_option=False,
    context_settings={"help_option_names": ["--help"]},
)
for _command in (
    demo, sheet, bag, film, patterns, similar, conditions, path, carry, spares, score, read,
    debrief, standing, house, ledger, season, recap, pack, pocket, site, proof, batch, serve,
    backup, restore, archive, unpack, doctor,
):  # fmt: skip
    app.command()(_command)
app.command("import")(import_event)
app.command("export")(export_event)
for _group in (account, share, trust):
    app.add_typer(_group)


@app.callback(invoke_without_command=True)
def nextpair(
    ctx: typer.Context,
    debug: Annotated[bool, typer.Option(_DEBUG.flag, help=_DEBUG.help)] = False,
    version: Annotated[bool, typer.Option("--version", help="Print the version.")] = False,
    help: Annotated[bool, typer.Option("--help", help="Show this message.")] = False,
) -> None:
    """Plan a ten-pin tournament: every pair of lanes as it will be when you get there."""
    session: Session = ctx.obj
    session.debug = debug
    if version:
        typer.echo(f"nextpair {__version__}, model {model_version()}")
    elif help or ctx.invoked_subcommand is None:
        typer.echo(ctx.get_help())
    else:
        return
    raise typer.Exit


def run(arguments: Sequence[str] | None = None) -> NoReturn:
    """Run the command line and end the process."""
    sys.unraisablehook = interrupt_again
    sys.exit(exit_code(sys.argv[1:] if arguments is None else arguments))


def exit_code(arguments: Sequence[str], assemble: Callable[[Settings], Program] = Program) -> int:
    """Run one command; every error becomes lines on standard error and an exit code."""
    session = Session(assemble)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
    try:
        # Not by the library's own `main`, which keeps Ctrl+C to itself.
        with get_command(app).make_context("nextpair", list(arguments), obj=session) as context:
            sys.stdout.write(on_screen(context.command.invoke(context)))
            sys.stdout.flush()
    except typer.Exit as ended:
        return ended.exit_code
    except KeyboardInterrupt:
        typer.echo("nextpair: stopped by Ctrl+C", err=True)
        return STOPPED
    except InputRefusedError as error:
        return _refused(*(str(problem) for problem in error.problems))
    except InvalidValueError as error:
        return _refused(str(error))
    except USAGE_ERROR as error:
        return _refused(_usage_words(error))
    except BrokenPipeError:
        # The reader has seen enough; without this Python complains once more as it ends.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except Exception as error:
        if isinstance(error, OSError) and error.errno == errno.ENAMETOOLONG:
            return _refused(str(InvalidValueError("path", error.filename, SHORT_ENOUGH)))
        return _our_fault(error, session, _command_of(arguments))
    return DONE


def _usage_words(error: Any) -> str:
    """What the command-line library says, without its own jargon, and whose help to read."""
    told = " ".join(error.format_message().split()).replace(" Value error,", "")
    asked = getattr(error, "ctx", None)
    return f"{sentence(told)} See {asked.command_path if asked else 'nextpair'} --help."


def _command_of(arguments: Sequence[str]) -> str:
    """Which command it was, without anything else that was typed."""
    known = {command.name or command.callback.__name__ for command in app.registered_commands}  # type: ignore[union-attr]
    known |= {group.typer_instance.info.name for group in app.registered_groups}  # type: ignore[union-attr]
    return next((word for word in arguments if word in known), "nextpair")


def _refused(*lines: str) -> int:
    for line in lines:
        typer.echo(f"nextpair: {one_line(line)}", err=True)
    return WRONG_INPUT


def _our_fault(error: Exception, session: Session, command: str) -> int:
    written = None
    with suppress(InvalidValueError):  # the settings themselves may be the fault
        written = write_fault(session.settings, command, error)
    if session.shows_traces:
        traceback.print_exception(error)
        return OUR_FAULT
    kept = f" Where it happened is in {written}." if written else ""
    typer.echo(
        f"nextpair: our fault, not yours: {type(error).__name__}: {one_line(str(error))}. "
        f"Run it again with --debug for the whole trace, and please report it.{kept}",
        err=True,
    )
    return OUR_FAULT
