"""A small back office: keeps visits in SQLite, posts them reading by reading, books from `outcome`.

python samples/back_office/office.py [http://127.0.0.1:8650] [8652] [visits.sqlite]

It knows the service by its contract alone: what can be read comes from GET /v1/readings, what is booked from the
outcome of POST /v1/assessment. The service keeps nothing; the visit document lives here.
"""

from __future__ import annotations

import json
import sqlite3
import sys
from itertools import pairwise
from typing import Any

import requests
from flask import Flask, Response, abort, g, redirect, render_template, request, url_for

TABLES = """
CREATE TABLE IF NOT EXISTS visits (
    id INTEGER PRIMARY KEY, reference TEXT NOT NULL, document TEXT NOT NULL, outcome TEXT, holds TEXT,
    next_readings TEXT, edition TEXT
);
CREATE TABLE IF NOT EXISTS bookings (
    visit INTEGER PRIMARY KEY REFERENCES visits (id), urgency TEXT, disposition TEXT, run_permission TEXT,
    parts TEXT, certificates TEXT, minutes_low REAL, minutes_high REAL
);
"""
LANGUAGES = ("en", "es")
MOST_VALUE = 200


def create(service: str, database: str) -> Flask:
    """The office in front of a service; database: path of the SQLite file."""
    app = Flask(__name__)
    app.config.update(SERVICE=service, DATABASE=database)
    with sqlite3.connect(database) as connection:
        connection.executescript(TABLES)
    app.teardown_appcontext(_close)
    app.add_url_rule("/", "board", board)
    app.add_url_rule("/visits", "open_visit", open_visit, methods=["POST"])
    app.add_url_rule("/visits/<int:number>", "show_visit", show_visit)
    app.add_url_rule("/visits/<int:number>/readings", "add_reading", add_reading, methods=["POST"])
    app.add_url_rule("/visits/<int:number>/<any('note','customer-page'):page>", "show_page", show_page)
    app.add_template_filter(json.loads, "parsed")
    return app


def board() -> str:
    """Every visit with what is booked, the most urgent first."""
    rows = _database().execute(
        "SELECT * FROM visits LEFT JOIN bookings ON visit = id ORDER BY CASE urgency WHEN 'now' THEN 0 "
        "WHEN 'same_day' THEN 1 WHEN 'next_day' THEN 2 ELSE 3 END, id"
    )
    return render_template("board.html", visits=rows.fetchall())


def open_visit() -> Response:
    """A new visit with its reference alone; it is assessed at once, so that it stands on the board."""
    reference = request.form["reference"].strip()[:64] or abort(400)
    cursor = _database().execute(
        "INSERT INTO visits (reference, document) VALUES (?, ?)", (reference, json.dumps({"reference": reference}))
    )
    number = int(cursor.lastrowid or 0)
    _assess(number, {"reference": reference})
    return redirect(url_for("show_visit", number=number))


def show_visit(number: int) -> str:
    """One visit: what stops the work, what to read next, and a form for one reading."""
    visit, rows = _visit(number), _catalogue(_language())
    chosen = request.args.get("pointer", "")
    return render_template(
        "visit.html",
        visit=visit,
        rows=rows,
        row=next((row for row in rows if row["pointer"] == chosen), None),
        language=_language(),
        refusal=request.args.get("refusal"),
    )


def add_reading(number: int) -> Response:
    """Put one reading into the document and assess it anew; a refused one changes nothing."""
    visit, pointer = _visit(number), request.form["pointer"]
    row = next((item for item in _catalogue("en") if item["pointer"] == pointer), None) or abort(400)
    document = json.loads(visit["document"])
    put(document, pointer, typed(row, request.form.getlist("value")))
    refusal = _assess(number, document)
    target = {"number": number, "language": _language()}
    if refusal:
        target |= {"pointer": pointer, "refusal": refusal}
    return redirect(url_for("show_visit", **target))


def show_page(number: int, page: str) -> Response:
    """The job note or the customer's page, as the service wrote it."""
    answer = _post(f"/v1/{page}", json.loads(_visit(number)["document"]), "text/html")
    kept = ("Content-Type", "Content-Language", "Content-Security-Policy")
    headers = {name: answer.headers[name] for name in kept if name in answer.headers}
    return Response(answer.content, answer.status_code, headers)


def typed(row: dict[str, Any], given: list[str]) -> Any:
    """What a form's field holds, as the catalogue says that it is answered."""
    text, kind = (given[0] if given else "")[:MOST_VALUE], row["answer"]
    if kind == "yes_no":
        return text == "yes"
    if kind == "choices":
        return given
    if kind == "resistance":
        return {"over_limit": True} if text.upper() == "OL" else {"ohms": _number(text)}
    if kind == "insulation":
        return {"over_limit": True} if text.upper() == "OL" else {"megohms": _number(text)}
    if kind in ("number", "whole_number"):
        return _number(text)
    return text


def _number(text: str) -> Any:
    """A number where the text is one; otherwise the text, so that the service says what is wrong with it."""
    try:
        value = float(text)
    except ValueError:
        return text
    return int(value) if value.is_integer() else value


def put(document: dict[str, Any], pointer: str, value: Any) -> None:
    """Set a member of a document by its JSON Pointer; objects and the first item of a list are made on the way."""
    names = pointer.split("/")[1:]
    at: Any = document
    for name, following in pairwise(names):
        if isinstance(at, list):
            while len(at) <= int(name):
                at.append({})
            at = at[int(name)]
        else:
            at = at.setdefault(name, [] if following.isdecimal() else {})
    at[names[-1]] = value


def _assess(number: int, document: dict[str, Any]) -> str | None:
    """Store the document with what came of it, and book; the reason where it was refused."""
    answer = _post("/v1/assessment?size=short", document, "application/json")
    body = answer.json()
    if answer.status_code != 200:
        return str(body["detail"])
    database, outcome = _database(), body["outcome"]
    database.execute(
        "UPDATE visits SET document = ?, outcome = ?, holds = ?, next_readings = ?, edition = ? WHERE id = ?",
        (
            *(json.dumps(item) for item in (document, outcome, body["holds"], body["next_readings"])),
            body["provenance"]["edition"],
            number,
        ),
    )
    database.execute(
        "INSERT OR REPLACE INTO bookings VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        (
            number,
            outcome["urgency"],
            outcome["disposition"],
            outcome["run_permission"],
            json.dumps([part["code"] for part in outcome["parts"]]),
            json.dumps(outcome["certificates"]),
            outcome["minutes"]["low"],
            outcome["minutes"]["high"],
        ),
    )
    database.commit()
    return None


def _post(path: str, document: dict[str, Any], accept: str) -> requests.Response:
    from flask import current_app

    headers = {"Accept": accept, "Accept-Language": _language()}
    return requests.post(current_app.config["SERVICE"] + path, json=document, headers=headers, timeout=20)


def _catalogue(language: str) -> list[dict[str, Any]]:
    from flask import current_app

    address = current_app.config["SERVICE"] + "/v1/readings"
    answer = requests.get(address, headers={"Accept-Language": language}, timeout=20)
    rows: list[dict[str, Any]] = answer.json()["readings"]
    return [row for row in rows if row["answer"] not in ("list", "numbers")]


def _language() -> str:
    given = request.values.get("language", LANGUAGES[0])
    return given if given in LANGUAGES else LANGUAGES[0]


def _visit(number: int) -> sqlite3.Row:
    row = (
        _database()
        .execute("SELECT * FROM visits LEFT JOIN bookings ON visit = id WHERE id = ?", (number,))
        .fetchone()
    )
    found: sqlite3.Row = row or abort(404)
    return found


def _database() -> sqlite3.Connection:
    from flask import current_app

    if "database" not in g:
        g.database = sqlite3.connect(current_app.config["DATABASE"])
        g.database.row_factory = sqlite3.Row
    connection: sqlite3.Connection = g.database
    return connection


def _close(_: BaseException | None) -> None:
    connection = g.pop("database", None)
    if connection is not None:
        connection.close()


if __name__ == "__main__":
    from werkzeug.serving import make_server

    arguments = [*sys.argv[1:], *("http://127.0.0.1:8650", "8652", "visits.sqlite")[len(sys.argv) - 1 :]]
    server = make_server("127.0.0.1", int(arguments[1]), create(arguments[0], arguments[2]), threaded=True)
    print(f"http://127.0.0.1:{server.server_port}/", flush=True)
    server.serve_forever()
