"""GET /openapi.json."""

from service.app import create_app
from service.settings import Settings
from service.workshop.specification.document import DOCUMENT


def test_the_committed_bytes_are_served_with_an_etag():
    client = create_app().test_client()
    response = client.get("/openapi.json")
    assert response.status_code == 200
    assert response.mimetype == "application/json"
    assert response.get_data() == DOCUMENT.read_bytes()
    again = client.get("/openapi.json", headers={"If-None-Match": response.headers["ETag"]})
    assert again.status_code == 304
    assert again.get_data() == b""


def test_it_asks_for_no_key_while_everything_else_does():
    client = create_app(Settings(api_keys=frozenset({"platform:" + "0" * 64}))).test_client()
    assert client.get("/openapi.json").status_code == 200
    assert client.get("/v1/refrigerants").status_code == 401
