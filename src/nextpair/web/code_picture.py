"""A QR code as a picture for a page: no script and no style in it."""

from __future__ import annotations

import io


def code_picture(text: str) -> str:
    """The QR code of a text, as SVG, with error correction of level M."""
    import segno

    page = io.BytesIO()
    segno.make(text, error="m", micro=False).save(page, kind="svg", scale=4, xmldecl=False)
    return page.getvalue().decode()
