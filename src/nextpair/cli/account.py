"""Who can sign in to the web app, on the command line."""

from __future__ import annotations

import sys
from contextlib import closing
from typing import Annotated

import typer

from nextpair.cli.options import takes
from nextpair.domain.errors import InvalidValueError

Name = Annotated[str, typer.Argument(metavar="NAME", help="The account's name.")]
FromInput = Annotated[
    bool, typer.Option("--password-stdin", help="Take the password from standard input.")
]

account = typer.Typer(name="account", help="Say who can sign in to the web app.")


@account.command("list")
@takes("data_dir", "store", "debug")
def listed(ctx: typer.Context) -> str:
    """List who can sign in."""
    from nextpair.application.accounts import home_account

    with closing(ctx.obj.program().store()) as store:
        home_account(store)
        return "".join(
            f"{one.name}{'' if one.password_hash else '  (no password: at home only)'}\n"
            for one in store.accounts()
        )


@account.command()
@takes("data_dir", "store", "debug")
def add(ctx: typer.Context, name: Name, from_input: FromInput = False) -> str:
    """Let somebody have things of their own here."""
    from nextpair.application.accounts import add_account
    from nextpair.web.passwords import Argon2Hasher

    with closing(ctx.obj.program().store()) as store:
        added = add_account(store, name, _password(from_input), Argon2Hasher())
        return f"{added.name} can sign in.\n"


@account.command()
@takes("data_dir", "store", "debug")
def password(ctx: typer.Context, name: Name, from_input: FromInput = False) -> str:
    """Give an account another password."""
    from nextpair.application.accounts import set_password
    from nextpair.web.passwords import Argon2Hasher

    with closing(ctx.obj.program().store()) as store:
        changed = set_password(store, name, _password(from_input), Argon2Hasher())
        return f"{changed.name} signs in with the new password from now on.\n"


def _password(from_input: bool) -> str:
    if from_input:
        return sys.stdin.readline().rstrip("\r\n")
    if not sys.stdin.isatty():
        raise InvalidValueError("password", "no terminal to ask at", "--password-stdin")
    try:
        told: str = typer.prompt("Password", hide_input=True, confirmation_prompt=True, err=True)
    except typer.Abort as ended:
        if isinstance(ended.__context__, KeyboardInterrupt):
            raise KeyboardInterrupt from ended
        raise InvalidValueError("password", "the end of the input", "a password") from ended
    return told
