"""What can be told of a screen by looking at it: codes in it, rules of accessible pages, and its
picture, kept for people under build/screens.
"""

from __future__ import annotations

import base64
from typing import Any

import numpy as np
import zxingcpp
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import BrowserContext, Page

from source_tree import ROOT

SCREENS = ROOT / "build" / "screens"
WEBCAM_WIDTH_PX = 640
GREY_PIXELS = """async ([picture, width]) => {
  const answer = await fetch(`data:image/png;base64,${picture}`);
  const image = await createImageBitmap(await answer.blob());
  const height = Math.round(image.height * width / image.width);
  const canvas = new OffscreenCanvas(width, height);
  const pen = canvas.getContext("2d");
  pen.imageSmoothingQuality = "high";
  pen.drawImage(image, 0, 0, width, height);
  const dots = pen.getImageData(0, 0, width, height).data;
  let grey = "";
  for (let i = 0; i < dots.length; i += 4) {
    grey += String.fromCharCode((dots[i] + dots[i + 1] + dots[i + 2]) / 3);
  }
  return {width, height, grey: btoa(grey)};
}"""


def keep_picture(page: Page, name: str) -> None:
    """Write the whole screen to build/screens."""
    SCREENS.mkdir(parents=True, exist_ok=True)
    page.screenshot(path=SCREENS / f"{name}.png", full_page=True, scale="css")


def breaches(page: Page) -> list[str]:
    """Every rule of axe that the page breaks, with the first few places."""
    found = Axe().run(page).response["violations"]
    return [
        f"{rule['id']}: {rule['help']}: {[node['html'][:160] for node in rule['nodes'][:4]]}"
        for rule in found
    ]


def sideways_px(page: Page) -> int:
    """How far the page can be scrolled sideways."""
    wide: int = page.evaluate(
        "document.scrollingElement.scrollWidth - document.scrollingElement.clientWidth"
    )
    return wide


def grey_picture(page: Page, blank: BrowserContext) -> dict[str, Any]:
    """What a laptop's camera sees of a phone's screen: width, height, and in base64 a grey byte a
    pixel, as the API takes it."""
    picture = base64.b64encode(page.screenshot()).decode()
    darkroom = blank.new_page()
    try:
        seen: dict[str, Any] = darkroom.evaluate(GREY_PIXELS, [picture, WEBCAM_WIDTH_PX])
    finally:
        darkroom.close()
    return seen


def codes(seen: dict[str, Any]) -> list[str]:
    """The texts of the QR codes in a picture."""
    dots = np.frombuffer(base64.b64decode(seen["grey"]), np.uint8).reshape(
        seen["height"], seen["width"]
    )
    return [
        code.text for code in zxingcpp.read_barcodes(dots, formats=zxingcpp.BarcodeFormat.QRCode)
    ]
