"""The part of a saturation answer that is kept for its units is always that of the units that were asked in."""

from __future__ import annotations

from itertools import product

import pytest
from flask.testing import FlaskClient

from service.library.provenance import written_provenance
from service.wire.routes import saturation

CHOICES = list(product(("degF", "degC"), ("psig", "kPa", "bar")))


@pytest.mark.parametrize("most", [2, saturation.MOST_RESTS])
def test_units_and_provenance_are_of_this_request(
    client: FlaskClient, monkeypatch: pytest.MonkeyPatch, most: int
) -> None:
    monkeypatch.setattr(saturation, "MOST_RESTS", most)
    monkeypatch.setattr(saturation, "_RESTS", {})
    for temperature, pressure in [*CHOICES, *reversed(CHOICES)]:
        units = {"temperature": temperature, "pressure": pressure}
        posted = {"units": units, "refrigerant": "R-410A", "points": [{"temperature": 10.0}]}
        answer = client.post("/v1/saturation", json=posted).json
        assert list(answer) == ["refrigerant", "points", "units", "provenance"]
        assert units.items() <= answer["units"].items()
        assert answer["provenance"] == written_provenance()
        assert len(saturation._RESTS) <= most
