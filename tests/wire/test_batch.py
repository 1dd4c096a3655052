"""POST /v1/batch: newline-delimited JSON in and out, each line as the single call would answer it."""

import gc
import http.client
import json
import tracemalloc

import pytest

from service.wire.reading import BATCH_LIMIT
from tests.wire.serving import served

MEDIA_TYPE = "application/x-ndjson"
VISIT = {"complaint": {"symptoms": ["hums_no_start"]}, "equipment": {"refrigerant": "R-410A"}}


def post(client, body, **headers):
    return client.post("/v1/batch", data=body, headers={"Content-Type": MEDIA_TYPE, **headers})


def lines_of(response):
    assert response.status_code == 200
    assert response.content_type == MEDIA_TYPE
    return [json.loads(line) for line in response.data.splitlines()]


def batch_of(*documents):
    return "\n".join(json.dumps(document) for document in documents).encode()


@pytest.mark.parametrize("language", ["en", "es"])
def test_each_line_says_what_the_single_assessment_says(client, language):
    documents = [VISIT | {"reference": "first"}, {"site": {"elevation": 5280}}, VISIT]
    headers = {"Accept-Language": language}
    found = lines_of(post(client, batch_of(*documents), **headers))
    assert [item["line"] for item in found] == [1, 2, 3]
    assert [item.get("reference") for item in found] == ["first", None, None]
    for document, item in zip(documents, found, strict=True):
        assert item["assessment"] == client.post("/v1/assessment", json=document, headers=headers).get_json()


def test_one_bad_line_never_stops_the_rest(client):
    lines = [
        json.dumps(VISIT).encode(),
        b"{",
        json.dumps({"reference": "r", "running": {"suction_pressure": "118"}}).encode(),
        json.dumps({"equipment": {"refrigerant": "R-unheard"}}).encode(),
        json.dumps(VISIT).encode(),
    ]
    found = lines_of(post(client, b"\n".join(lines) + b"\n"))
    assert [item["status"] for item in found] == [200, 400, 422, 422, 200]
    assert found[2]["reference"] == "r"
    assert found[2]["problem"]["errors"][0]["pointer"] == "/running/suction_pressure"
    assert found[3]["problem"]["errors"][0]["pointer"] == "/equipment/refrigerant"
    assert found[4]["assessment"] == found[0]["assessment"]


def test_the_same_batch_gives_the_same_bytes(client):
    body = batch_of(VISIT, {}, VISIT)
    assert post(client, body).data == post(client, body).data


@pytest.mark.parametrize(
    ("body", "headers", "status"),
    [
        (b"", {}, 400),
        (b"{}", {"Content-Type": "text/plain"}, 415),
        (b"{}", {"Content-Encoding": "gzip"}, 415),
        (b"{}", {"Accept": "application/json"}, 406),
        (b"{}\n" * 1001, {}, 413),
        (b"{}" + b"\n" * 8_000_000, {}, 413),
        (b" " * (BATCH_LIMIT + 1), {}, 413),
    ],
)
def test_what_is_no_batch_is_refused_as_a_whole(client, body, headers, status):
    assert post(client, body, **headers).status_code == status


def test_memory_does_not_grow_with_the_number_of_lines(client):
    """What Python holds after twenty lines and after seventy, caches warm; between them are over 250 kB."""
    body = batch_of(*[VISIT] * 100)
    response = client.post("/v1/batch", data=body, headers={"Content-Type": MEDIA_TYPE}, buffered=False)
    held, sent, lines = [], [], 0
    marks = [20, 70]
    tracemalloc.start()
    try:
        for chunk in response.iter_encoded():
            lines += chunk.count(b"\n")
            sent.append(len(chunk))
            if marks and lines >= marks[0]:
                marks.pop(0)
                gc.collect()
                held.append((sum(sent), tracemalloc.get_traced_memory()[0]))
    finally:
        tracemalloc.stop()
        response.close()
    assert lines == 100
    (early, held_early), (late, held_late) = held
    assert late - early > 250_000
    assert held_late - held_early < 100_000


def test_lines_arrive_as_they_are_judged_over_http(tmp_path):
    """The first line is there long before the last: the answer is chunked, not collected."""
    body = batch_of(*[VISIT | {"reference": str(number)} for number in range(60)])
    with served(tmp_path) as running:
        connection = http.client.HTTPConnection("127.0.0.1", running.port, timeout=60)
        connection.request("POST", "/v1/batch", body, {"Content-Type": MEDIA_TYPE})
        response = connection.getresponse()
        assert response.getheader("Transfer-Encoding") == "chunked"
        assert json.loads(response.readline())["reference"] == "0"
        rest = [json.loads(line) for line in response.read().splitlines()]
        connection.close()
    assert [item["reference"] for item in rest] == [str(number) for number in range(1, 60)]


def test_findings_of_all_lines_are_counted(client, log_lines):
    log_lines()
    voltage = {"electrical": {"supply": {"idle_volts": 180}}, "equipment": {"nominal_voltage": "208_230"}}
    post(client, batch_of(voltage, VISIT)).data  # noqa: B018 - the answer is read, so that its lines are judged
    (line,) = log_lines()
    assert any(code.startswith("supply.") for code in line["findings"])
