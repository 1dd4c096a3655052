"""What the service is compared with: small Flask applications as anybody would write them, under gunicorn threads.

echo: reads a JSON body with a fast JSON provider and answers 1.5 kB; the unit F of all ratios.
properties: the same saturation endpoint written plainly: Flask's own JSON, a marshmallow schema, calls to the
property library, the same answer. The library is imported here, and nowhere else at run time, because it is
what is measured.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import orjson
from flask import Flask, Response, request
from flask.json.provider import JSONProvider
from gunicorn.app.base import BaseApplication

from service.library.provenance import written_provenance
from service.results.saturation import SaturationRequest
from service.results.units import writer
from service.schemas.documents import load_explained
from service.schemas.dump import dump_units
from service.workshop.benchmarking.processes import HOST

THREADS = 4
ANSWER_BYTES = 1500
FLUIDS = {"R-410A": "R410A", "R-454B": "HEOS::R32[0.8292]&R1234yf[0.1708]"}
"""R-410A as the library's own pseudo-pure fluid; R-454B as the mixture of 82.92 mol % R-32 that it is."""


class FastProvider(JSONProvider):
    """Flask's JSON by a fast library."""

    def dumps(self, obj: Any, **_: Any) -> str:
        """Write."""
        return orjson.dumps(obj).decode()

    def loads(self, s: str | bytes, **_: Any) -> Any:
        """Read."""
        return orjson.loads(s)

    def response(self, *args: Any, **members: Any) -> Any:
        """Answer the bytes as they come from the library."""
        made = Response(mimetype="application/json")
        made.set_data(orjson.dumps(self._prepare_response_obj(args, members)))
        return made


class _Threads(BaseApplication):  # type: ignore[misc]
    """One worker of a few threads, without an access log."""

    def __init__(self, application: Flask, port: int) -> None:
        self._application, self._port = application, port
        super().__init__()

    def load_config(self) -> None:
        """Set what differs from the defaults."""
        self.cfg.set("bind", f"{HOST}:{self._port}")
        self.cfg.set("worker_class", "gthread")
        self.cfg.set("threads", THREADS)
        self.cfg.set("control_socket_disable", True)
        self.cfg.set("loglevel", "error")

    def load(self) -> Flask:
        """The application."""
        return self._application


def serve(name: str, port: int) -> None:
    """Run a baseline by its name until it is stopped."""
    app = Flask(__name__)
    _ROUTES[name](app)
    _Threads(app, port).run()


def _echo(app: Flask) -> None:
    app.json = FastProvider(app)

    @app.post("/echo")
    def echo() -> Any:
        body = request.get_json()
        return {"echo": body, "more": "x" * (ANSWER_BYTES - len(request.data) - 24)}


def _properties(app: Flask) -> None:
    from CoolProp.CoolProp import PropsSI

    @app.post("/v1/saturation")
    def saturation() -> Any:
        asked = load_explained(SaturationRequest, request.get_json())
        fluid, said = FLUIDS[asked.refrigerant], writer("temperature", asked.units, asked.site_pressure)
        gauge = writer("pressure", asked.units, asked.site_pressure)
        points = [
            {
                "pressure": gauge(point.pressure),
                "bubble_temperature": said(PropsSI("T", "P", point.pressure, "Q", 0, fluid)),
                "dew_temperature": said(PropsSI("T", "P", point.pressure, "Q", 1, fluid)),
            }
            for point in asked.points
            if point.pressure is not None
        ]
        units = dump_units(asked.units)
        return {
            "refrigerant": asked.refrigerant,
            "points": points,
            "units": units,
            "provenance": written_provenance(),
        }


_ROUTES: dict[str, Callable[[Flask], None]] = {"echo": _echo, "properties": _properties}
