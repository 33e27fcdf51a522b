"""What a page must know before anything else."""

from __future__ import annotations

from fastapi import APIRouter, Request

from nextpair import __version__
from nextpair.application.accounts import NotSignedInError
from nextpair.application.model_version import model_version
from nextpair.web.visitor import Here, visitor
from nextpair.web.wire import Status, told_account

router = APIRouter(tags=["status"])


@router.get("/status")
def status(request: Request, home: Here) -> Status:
    """What runs here, and whether somebody is signed in."""
    try:
        account = told_account(visitor(request, home))
    except NotSignedInError:
        account = None
    return Status(
        version=__version__,
        model_version=model_version(),
        needs_sign_in=home.address.needs_sign_in,
        account=account,
        warm=home.is_warm,
        secure=home.address.secure,
        home=home.address.at_home,
    )
