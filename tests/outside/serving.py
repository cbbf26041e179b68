"""A small host for a published site: on this machine alone, packed with gzip as hosts do."""

from __future__ import annotations

import gzip
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread

PACKED = (".html", ".css", ".js", ".svg", ".xml", ".txt")
KEPT_FOR = (
    "max-age=31536000"  # a host may let readers keep files; how long is not the site's to say
)


@contextmanager
def hosted(folder: Path) -> Iterator[str]:
    """The address of a folder for as long as it is asked for, `http://localhost:8000/`."""
    with ThreadingHTTPServer(("127.0.0.1", 0), partial(_Host, directory=str(folder))) as server:
        Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://localhost:{server.server_port}/"
        server.shutdown()


class _Host(SimpleHTTPRequestHandler):
    protocol_version = "HTTP/1.1"

    def do_GET(self) -> None:
        """Answers with the file, else with the site's page for what is not there."""
        path = Path(self.translate_path(self.path))
        file = path / "index.html" if path.is_dir() else path
        self._answer(file, 200) if file.is_file() else self._nothing()

    def _nothing(self) -> None:
        lost = Path(self.directory) / "404.html"
        if lost.is_file():
            self._answer(lost, 404)
        else:
            self.send_error(404)

    def _answer(self, file: Path, status: int) -> None:
        data = file.read_bytes()
        self.send_response(status)
        self.send_header("Content-Type", self.guess_type(str(file)))
        if file.suffix in PACKED:
            data = gzip.compress(data)
            self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Length", str(len(data)))
        self.send_header("Cache-Control", KEPT_FOR)
        self.end_headers()
        self.wfile.write(data)

    def log_message(self, *_: object) -> None:
        """Says nothing."""
