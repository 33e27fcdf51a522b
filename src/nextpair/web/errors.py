"""Every error as {"problems": [...]}, whatever raised it."""

from __future__ import annotations

import logging
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse
from starlette.exceptions import HTTPException

from nextpair.application.accounts import NotSignedInError
from nextpair.application.store import (
    FullStoreError,
    NeededError,
    NotKeptError,
    StaleError,
    StoreFailedError,
)
from nextpair.domain.errors import InputRefusedError, InvalidValueError, NextpairError, Problem
from nextpair.files.intake import shown
from nextpair.reports.refusal import LONGEST_PART, one_line
from nextpair.web.refusal_words import allowed_words
from nextpair.web.wire import Problems, told_record

SEEN_PARTS = ("path", "query")
"""Parts of a request that its address shows."""
EMPTY = "an empty text"
MALFORMED, NOT_SIGNED_IN, FORBIDDEN, NOT_FOUND = 400, 401, 403, 404
CLASH, TOO_LARGE, REFUSED, TOO_MANY = 409, 413, 422, 429
UNAVAILABLE, NO_ROOM = 503, 507
"""RFC 9110 15.6.4 and RFC 4918 11.5. A phone keeps what it sent, and sends it again later."""

log = logging.getLogger("nextpair.web")

RESPONSES: dict[int | str, dict[str, Any]] = {
    MALFORMED: {"model": Problems, "description": "not JSON, or not of the form asked for"},
    NOT_SIGNED_IN: {"model": Problems, "description": "sign in first"},
    FORBIDDEN: {"model": Problems, "description": "not from there, or not by you"},
    NOT_FOUND: {"model": Problems, "description": "nothing of that id is kept for you"},
    CLASH: {"model": Problems, "description": "saved by somebody else since, or needed"},
    TOO_LARGE: {"model": Problems, "description": "more than is taken at once"},
    REFUSED: {"model": Problems, "description": "understood, and not allowed"},
    TOO_MANY: {"model": Problems, "description": "too many in a short time"},
    UNAVAILABLE: {"model": Problems, "description": "the store is damaged or held up"},
    NO_ROOM: {"model": Problems, "description": "no room left on the store's disk"},
}
BESIDE_A_STREAM: dict[int | str, dict[str, Any]] = {
    status: {
        "description": told["description"],
        "content": {"application/json": {"schema": {"$ref": "#/components/schemas/Problems"}}},
    }
    for status, told in RESPONSES.items()
}
"""The same for a route that answers with a stream, and with problems as all others do."""


class TooManyError(NextpairError):
    """Asked too often; `wait_s` says for how long to wait."""

    def __init__(self, wait_s: float) -> None:
        super().__init__("too many tries")
        self.wait_s = wait_s


class NotAllowedError(NextpairError):
    """Known who asks, and not allowed."""


def problem_document(place: str, found: str, allowed: str) -> dict[str, Any]:
    """One problem as an error says it."""
    return {"problems": [_told(Problem("", place, found, allowed))]}


def answer_errors(api: FastAPI) -> None:
    """Make an application answer with problems."""
    api.add_exception_handler(NextpairError, _refused)
    api.add_exception_handler(RequestValidationError, _malformed)
    api.add_exception_handler(HTTPException, _http)
    api.add_exception_handler(Exception, _fault)


def problems_of(error: NextpairError) -> list[dict[str, Any]]:
    """What an error says, as problems."""
    if isinstance(error, InputRefusedError):
        return [_told(problem) for problem in error.problems]
    if isinstance(error, InvalidValueError):
        found = "nothing" if error.found is None else str(error.found)
        return [_told(Problem("", error.field, found, error.allowed))]
    return [_told(Problem("", "request", str(error), "something else"))]


def _told(problem: Problem) -> dict[str, Any]:
    place, found, allowed = (
        one_line(part, LONGEST_PART) or EMPTY
        for part in (problem.place, problem.found, problem.allowed)
    )
    words = f"{place}: found {found}, allowed: {allowed}"
    file = one_line(problem.file, LONGEST_PART)
    return {
        "file": file,
        "place": place,
        "found": found,
        "allowed": allowed,
        "words": f"{file}: {words}" if file else words,
    }


async def _refused(request: Request, error: Exception) -> JSONResponse:
    headers: dict[str, str] = {}
    if not isinstance(error, NextpairError):
        raise error
    content: dict[str, Any] = {"problems": problems_of(error)}
    status = REFUSED
    if isinstance(error, NotKeptError):
        status = NOT_FOUND
    elif isinstance(error, StaleError):
        status = CLASH
        content["current"] = told_record(error.current).model_dump(mode="json")
    elif isinstance(error, NeededError):
        status = CLASH
    elif isinstance(error, NotSignedInError):
        status = NOT_SIGNED_IN
        content = problem_document(str(error), "none that lets you in", "sign in first")
    elif isinstance(error, NotAllowedError):
        status = FORBIDDEN
    elif isinstance(error, StoreFailedError):
        status = NO_ROOM if isinstance(error, FullStoreError) else UNAVAILABLE
        log.error("%s", error)
        if not request.app.state.home.address.at_home:
            content = problem_document("store", "one that fails", "ask whoever runs nextpair")
    elif isinstance(error, TooManyError):
        status = TOO_MANY
        headers["Retry-After"] = str(max(1, round(error.wait_s)))
        content = problem_document("tries", "too many", f"again in {error.wait_s:.0f} s")
    return JSONResponse(content, status, headers)


async def _malformed(_request: Request, error: Exception) -> JSONResponse:
    """A body or parameter of another form: JSON that cannot be read is 400, else 422."""
    if not isinstance(error, RequestValidationError):
        raise error
    kinds = {one["type"] for one in error.errors()}
    if "json_invalid" in kinds:
        return JSONResponse(problem_document("body", "no JSON", "JSON"), MALFORMED)
    problems = [
        _told(Problem("", _place(one["loc"]), _found(one), allowed_words(one)))
        for one in error.errors()
    ]
    return JSONResponse({"problems": problems}, REFUSED)


def _place(location: tuple[int | str, ...]) -> str:
    steps = [str(step) for step in location[1:]]
    return ".".join(steps) or str(location[0])


def _found(error: dict[str, Any]) -> str:
    """What was found: of a path or a query as it is written, of a body only its kind."""
    found = error.get("input")
    is_seen = error["loc"][0] in SEEN_PARTS and isinstance(found, str)
    return shown(found) if is_seen else _shown(found)


def _shown(found: object) -> str:
    """What kind of thing was found: never what it says, which may be a password."""
    kinds = {bool: "true or false", int: "a number", float: "a number", str: "text"}
    return kinds.get(type(found), "an object" if isinstance(found, dict) else "something else")


async def _fault(_request: Request, _error: Exception) -> JSONResponse:
    return JSONResponse(problem_document("server", "a fault of ours", "please report it"), 500)


async def _http(_request: Request, error: Exception) -> JSONResponse:
    if not isinstance(error, HTTPException):
        raise error
    content = problem_document("request", str(error.status_code), str(error.detail))
    return JSONResponse(content, error.status_code, error.headers)
