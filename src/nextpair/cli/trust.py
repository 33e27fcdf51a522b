"""The certificate authority of one's own, on the command line."""

from __future__ import annotations

from pathlib import Path

import typer

from nextpair.cli.options import takes
from nextpair.cli.session import Session
from nextpair.domain.errors import InvalidValueError

trust = typer.Typer(name="trust", help="Show or delete your certificate authority.")


@trust.command()
@takes("data_dir", "debug")
def show(ctx: typer.Context) -> str:
    """Show where it lies and its fingerprint."""
    from nextpair.web.certificates import certificates

    folder = _folder(ctx)
    if not (folder / "ca.crt").is_file():
        raise InvalidValueError("certificate", str(folder), "made by: nextpair serve --tls")
    found = certificates(folder)
    return f"{found.authority}\nSHA-256 {found.fingerprint}\n"


@trust.command()
@takes("data_dir", "debug")
def remove(ctx: typer.Context) -> str:
    """Delete it with its key; phones that trust it trust nothing any more."""
    from nextpair.web.certificates import remove_certificates

    folder = _folder(ctx)
    if remove_certificates(folder):
        return f"Deleted {folder}. Remove the certificate from your phones too.\n"
    return "There is none.\n"


def _folder(ctx: typer.Context) -> Path:
    from nextpair.web.certificates import TLS_FOLDER

    session: Session = ctx.obj
    return session.program().data_folder() / TLS_FOLDER
