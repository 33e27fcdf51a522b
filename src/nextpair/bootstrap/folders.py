"""Where each system keeps a user's files."""

from __future__ import annotations

import os
import sys
from pathlib import Path


def user_cache_folder() -> Path:
    """Where this system keeps what a program can make again."""
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA", Path.home() / "AppData" / "Local")) / "nextpair"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Caches" / "nextpair"
    return Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache") / "nextpair"


def user_data_folder() -> Path:
    """Where this system keeps what a user must not lose."""
    if sys.platform == "win32":
        return Path(os.environ.get("APPDATA", Path.home() / "AppData" / "Roaming")) / "nextpair"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "nextpair"
    return Path(os.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share") / "nextpair"
