"""Codes in a camera's picture: a phone's log held up to the laptop."""

from __future__ import annotations

import base64
import binascii
from threading import BoundedSemaphore
from typing import Annotated

from fastapi import APIRouter
from pydantic import BaseModel, BeforeValidator, Field

from nextpair.domain.errors import InvalidValueError, require
from nextpair.web.visitor import Visitor
from nextpair.web.wire import Wire, as_number

router = APIRouter(tags=["codes"])
MOST_PIXELS = 4_000_000
LARGEST_BODY_BYTES = 6_000_000
ONE_AT_A_TIME = BoundedSemaphore(1)
Side = Annotated[int, Field(ge=16, le=4096), BeforeValidator(as_number)]


class Picture(Wire):
    """A picture in shades of grey: one byte a pixel, row by row, in base64."""

    width: Side
    height: Side
    grey: str


class Codes(BaseModel):
    texts: list[str]


@router.post("/codes", max_body_size=LARGEST_BODY_BYTES)
def codes(body: Picture, _account: Visitor) -> Codes:
    """The texts of the QR codes in a picture."""
    import numpy as np
    import zxingcpp

    try:
        pixels = base64.b64decode(body.grey, validate=True)
    except (binascii.Error, ValueError):
        raise InvalidValueError("grey", "other text", "base64") from None
    size = body.width * body.height
    require(size <= MOST_PIXELS, "width", body.width, f"up to {MOST_PIXELS:,} pixels in all")
    require(len(pixels) == size, "grey", f"{len(pixels)} bytes", f"{size}, one a pixel")
    picture = np.frombuffer(pixels, np.uint8).reshape(body.height, body.width)
    with ONE_AT_A_TIME:
        found = zxingcpp.read_barcodes(
            picture, formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
        )
    return Codes(texts=[code.text for code in found])
