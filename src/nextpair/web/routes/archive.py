"""Everything at once: an account's archive, and a copy of the whole store."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

from fastapi import APIRouter
from fastapi.responses import FileResponse, Response
from pydantic import BaseModel
from starlette.background import BackgroundTask

from nextpair.application.archive import archive_of, unpack
from nextpair.web.errors import NotAllowedError
from nextpair.web.visitor import Here, Visitor
from nextpair.web.wire import Json, JsonIn

router = APIRouter(tags=["archive"])
LARGEST_BODY_BYTES = 64_000_000
MEDIA_TYPE = "application/vnd.sqlite3"


class Unpacked(BaseModel):
    """What became of an archive: what was new, what was here already the same, and how many
    jottings stayed as they are here."""

    stored: int
    same: int
    conflicts: int


@router.get("/archive")
def archive(home: Here, account: Visitor) -> Json:
    """Everything of the account, private things too: records with their versions, and logs."""
    return archive_of(home.store, account.id)


@router.post("/archive", max_body_size=LARGEST_BODY_BYTES)
def take_in(body: JsonIn, home: Here, account: Visitor) -> Unpacked:
    """Take in what an archive has and the account has not."""
    told = unpack(home.store, account.id, body)
    return Unpacked(stored=told.stored, same=told.same, conflicts=len(told.conflicts))


@router.get("/backup", response_class=FileResponse)
def backup(home: Here, _account: Visitor) -> Response:
    """A copy of the whole store, for its owner at home."""
    if home.address.needs_sign_in:
        raise NotAllowedError("a backup of everybody's things, which is made at home alone")
    folder = Path(tempfile.mkdtemp(prefix="nextpair-"))
    remove = BackgroundTask(shutil.rmtree, folder, ignore_errors=True)
    try:
        home.program.back_up(folder / "backup")
    except BaseException:
        shutil.rmtree(folder, ignore_errors=True)
        raise
    return FileResponse(
        folder / "backup", media_type=MEDIA_TYPE, filename="nextpair.sqlite3", background=remove
    )
