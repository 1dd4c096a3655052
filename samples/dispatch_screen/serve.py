"""Serves the dispatch screen, and passes /v1/... on to the service, as the platform's own back end would.

python samples/dispatch_screen/serve.py [http://127.0.0.1:8650] [8651]
"""

from __future__ import annotations

import sys
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import requests

HERE = Path(__file__).parent
MOST_BYTES = 65536
PASSED_ON = ("Content-Type", "Accept-Language")


class Screen(SimpleHTTPRequestHandler):
    """Files of this folder and of ../visits; /v1/... goes to the service."""

    def __init__(self, *arguments: object, service: str) -> None:
        self.service = service
        super().__init__(*arguments, directory=str(HERE))  # type: ignore[arg-type]

    def translate_path(self, path: str) -> str:
        """/visits/<file> lies beside this folder."""
        if path.startswith("/visits/"):
            return str(HERE.parent / "visits" / Path(path).name)
        return super().translate_path(path)

    def do_POST(self) -> None:
        """Pass a request on, and its answer back."""
        length = int(self.headers.get("Content-Length", "0"))
        if not self.path.startswith("/v1/") or length > MOST_BYTES:
            self.send_error(404)
            return
        body = self.rfile.read(length)
        self._pass_on(requests.post(self.service + self.path, body, headers=self._headers(), timeout=10))

    def do_GET(self) -> None:
        """The code lists come from the service, everything else from this folder."""
        if self.path.startswith("/v1/"):
            self._pass_on(requests.get(self.service + self.path, headers=self._headers(), timeout=10))
        else:
            super().do_GET()

    def _headers(self) -> dict[str, str]:
        return {name: self.headers[name] for name in PASSED_ON if name in self.headers}

    def _pass_on(self, answer: requests.Response) -> None:
        self.send_response(answer.status_code)
        self.send_header("Content-Type", answer.headers["Content-Type"])
        self.send_header("Content-Length", str(len(answer.content)))
        self.end_headers()
        self.wfile.write(answer.content)


def main(service: str, port: int) -> None:
    """Serve until stopped."""
    server = ThreadingHTTPServer(("127.0.0.1", port), partial(Screen, service=service))
    print(f"http://127.0.0.1:{server.server_port}/", flush=True)
    server.serve_forever()


if __name__ == "__main__":
    given = sys.argv[1:]
    main(given[0] if given else "http://127.0.0.1:8650", int(given[1]) if given[1:] else 8651)
