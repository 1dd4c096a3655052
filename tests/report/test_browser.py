"""The job note in headless Chromium: nothing is blocked, nothing overflows, it prints on one sheet."""

import base64
import http.server
import re
import subprocess
import threading
from contextlib import contextmanager

import numpy as np
import pytest
from flask import Response
from matplotlib.image import imread

from tests.pages.conftest import CHROMIUM, FLAGS
from tests.report.conftest import LOW_CHARGE

pytestmark = [
    pytest.mark.skipif(CHROMIUM is None, reason="chromium is not installed (apt-get install chromium)"),
    pytest.mark.uncovered,
]
QUIET = (
    "--headless",
    *FLAGS,
    "--hide-scrollbars",
    "--enable-logging=stderr",
)


@contextmanager
def page_of(response):
    """Serve one answer with its own headers, and give its address."""

    class Handler(http.server.BaseHTTPRequestHandler):
        def do_GET(self):
            found = self.path == "/note"
            self.send_response(200 if found else 404)
            for name in ("Content-Type", "Content-Security-Policy", "X-Content-Type-Options"):
                self.send_header(name, response.headers[name])
            self.end_headers()
            self.wfile.write(response.data if found else b"")

        def log_message(self, *arguments):
            pass

    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_port}/note"
    finally:
        server.shutdown()
        server.server_close()


def browse(folder, address, *arguments):
    """Run the browser once; returns what it wrote to its console."""
    command = [CHROMIUM, *QUIET, f"--user-data-dir={folder}/profile", *arguments, address]
    return subprocess.run(command, capture_output=True, timeout=120, check=True).stderr.decode()


@pytest.fixture(params=["en", "es"])
def note(job_note, request):
    """The job note of the low-charge visit."""
    return job_note(LOW_CHARGE, request.param)


@pytest.mark.parametrize("width", [500, 1100])
def test_the_page_fits_the_width_and_nothing_is_blocked(note, tmp_path, width):
    picture = tmp_path / "screen.png"
    with page_of(note) as address:
        console = browse(tmp_path, address, f"--window-size={width},3000", f"--screenshot={picture}")
    assert not re.search(r"Content Security Policy|Refused to", console)
    pixels = imread(picture)[..., :3]
    assert pixels.shape[1] == width
    dark = pixels.mean(axis=2) < 0.5
    assert 0.01 < dark.mean() < 0.3  # neither blank nor black
    assert not dark[:, -8:].any()  # nothing reaches the edge: no line is cut off
    assert dark[:, : width // 2].any(axis=1).sum() > 500


def test_the_pictures_are_drawn(note, tmp_path):
    """With blank drawings of the same size the page has fewer dark pixels; the difference is the drawings."""
    with_pictures, without = tmp_path / "with.png", tmp_path / "without.png"
    blank = base64.b64encode(b'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>')
    bare = Response(re.sub(rb"(svg\+xml;base64,)[^\"]+", rb"\1" + blank, note.data), headers=note.headers)
    for response, picture in ((note, with_pictures), (bare, without)):
        with page_of(response) as address:
            browse(tmp_path, address, "--window-size=700,3000", f"--screenshot={picture}")
    dark = [float((imread(picture)[..., :3].mean(axis=2) < 0.5).sum()) for picture in (with_pictures, without)]
    assert np.subtract(*dark) > 3000


def test_the_note_prints_on_few_sheets_with_the_customers_own(note, tmp_path):
    """Nine points and more, a table and two drawings: three sheets for the technician, one for the customer."""
    sheet = tmp_path / "note.pdf"
    with page_of(note) as address:
        browse(tmp_path, address, "--no-pdf-header-footer", f"--print-to-pdf={sheet}")
    assert len(re.findall(rb"/Type /Page\b", sheet.read_bytes())) in (2, 3, 4)
