"""The service never opens a connection, a child process or a file to write, whatever it is asked.

The interpreter's own audit events (PEP 578) are watched in a process of its own while every route is called.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

TOP = Path(__file__).parents[2]
WATCHED = r"""
import json, sys
from pathlib import Path
seen = []
samples = [json.loads(file.read_text()) for file in Path("samples/procedures").glob("*.json")]
FORBIDDEN = {"socket.connect", "socket.getaddrinfo", "socket.gethostbyname", "socket.bind", "socket.sendto",
             "subprocess.Popen", "os.system", "os.exec", "os.posix_spawn", "os.remove", "os.rename", "os.mkdir",
             "shutil.rmtree", "tempfile.mkstemp", "tempfile.mkdtemp", "urllib.Request", "ftplib.connect"}
import service.report.drawing  # the drawing library keeps a cache of fonts, made when it is first imported
from service.app import create_app
from service.wire.warm import typical_visit, warm_up
app = create_app()
warm_up()
client = app.test_client()
visit = typical_visit()
saturation = {"refrigerant": "R-410A", "points": [{"pressure": 118}]}
def watch(event, arguments):
    writes = event == "open" and isinstance(arguments[1], str) and set(arguments[1]) & set("wax+")
    if event in FORBIDDEN or writes:
        seen.append(f"{event} {arguments[:2]}")
sys.addaudithook(watch)
statuses = {}
for rule in app.url_map.iter_rules():
    path = rule.rule
    for part, value in (("designation", "R-32"), ("code", "request.not-found"), ("name", "docs.css")):
        path = path.replace(f"<{part}>", value)
    for method in sorted(rule.methods & {"GET", "POST"}):
        bodies = [visit, saturation, {"before": visit, "after": visit}, *samples]
        for body in ([None] if method == "GET" else bodies):
            for accept in ("*/*", "text/html"):
                content = "application/x-ndjson" if path == "/v1/batch" else "application/json"
                data = None if body is None else json.dumps(body) + "\n"
                answer = client.open(path, method=method, data=data, content_type=content if data else None,
                                     headers={"Accept": accept})
                answer.get_data()
                statuses.setdefault(f"{method} {path}", set()).add(answer.status_code)
print(json.dumps({"seen": seen, "statuses": {key: sorted(value) for key, value in statuses.items()}}))
"""


def test_no_connection_no_process_no_file() -> None:
    done = subprocess.run(
        [sys.executable, "-c", WATCHED], capture_output=True, text=True, timeout=120, check=False, cwd=TOP
    )
    assert done.returncode == 0, done.stderr[-3000:]
    found = json.loads(done.stdout.splitlines()[-1])
    assert found["seen"] == []
    silent = [route for route, statuses in found["statuses"].items() if 200 not in statuses]
    assert silent == [], "routes that this test did not get an answer from"
    assert not [route for route, statuses in found["statuses"].items() if max(statuses) >= 500]
