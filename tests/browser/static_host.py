"""A plain host of static files, as anybody's web space is: it knows nothing of the program."""

from __future__ import annotations

import threading
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path


class _Files(SimpleHTTPRequestHandler):
    def log_message(self, *_words: object) -> None:
        """Says nothing."""


class StaticHost:
    """Serves a folder on the loopback until it is closed."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._server = ThreadingHTTPServer(
            ("127.0.0.1", 0), partial(_Files, directory=str(folder))
        )
        self._server.daemon_threads = True
        self.port: int = self._server.server_address[1]
        self.url = f"http://127.0.0.1:{self.port}"
        self._serving = threading.Thread(target=self._server.serve_forever, args=(0.05,))
        self._serving.start()

    def close(self) -> None:
        """Stop, as a host that is gone."""
        self._server.shutdown()
        self._serving.join()
        self._server.server_close()
