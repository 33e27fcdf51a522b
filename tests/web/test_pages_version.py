"""The built pages are of the program that serves them."""

from __future__ import annotations

import pytest

from nextpair import __version__
from source_tree import ROOT

STATIC = ROOT / "src" / "nextpair" / "web" / "static"


@pytest.mark.parametrize("page", ["lanes/assets/index-*.js", "single/single.js"])
def test_the_page_at_the_lanes_was_built_for_this_version(page):
    """A new version needs the pages built again: `make pages`."""
    (script,) = STATIC.glob(page)
    assert f"nextpair {__version__}" in script.read_text("utf-8")
