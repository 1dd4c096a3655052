"""What is drawn, over HTTP: asked of the helper, or taken from the last few that were drawn."""

from __future__ import annotations

import hashlib
import json
import time
from collections import OrderedDict
from typing import Any

from flask import Response

from service.wire import observe
from service.wire.failures import REQUEST_ID
from service.wire.heavy import Piece
from service.wire.helper import HELPER
from service.wire.load import COST
from service.wire.reading import request_object
from service.wire.responding import send

MOST_KEPT, MOST_KEPT_BYTES, KEPT_SECONDS = 32, 8 * 1024 * 1024, 300.0


class Kept:
    """The last few drawings by the digest of everything that they were drawn from.

    In memory, in one process, for five minutes at most: a page that is asked for again at once costs nothing.
    """

    def __init__(self) -> None:
        self._pieces: OrderedDict[bytes, tuple[float, Piece]] = OrderedDict()
        self._bytes = 0

    def find(self, digest: bytes) -> Piece | None:
        """The drawing, when it is still there."""
        while self._pieces and next(iter(self._pieces.values()))[0] < time.monotonic():
            self._drop()
        found = self._pieces.get(digest)
        return None if found is None else found[1]

    def keep(self, digest: bytes, piece: Piece) -> None:
        """Keep a drawing, and let go of the oldest when there are too many."""
        if digest in self._pieces:  # drawn twice at the same time
            return
        self._pieces[digest] = (time.monotonic() + KEPT_SECONDS, piece)
        self._bytes += len(piece.body)
        while len(self._pieces) > MOST_KEPT or self._bytes > MOST_KEPT_BYTES:
            self._drop()

    def _drop(self) -> None:
        _, (_, piece) = self._pieces.popitem(last=False)
        self._bytes -= len(piece.body)


KEPT = Kept()


def answer_drawn(kind: str, document: dict[str, Any], language: str, media_type: str) -> Response:
    """A drawing as an answer.

    Parameters
    ----------
    kind: `note` or `chart`. document: a visit document that was found acceptable. language: of its texts.

    Raises
    ------
    ProblemError: 503 when too much drawing is waiting.
    """
    environ = request_object().environ
    digest = hashlib.sha256(json.dumps([kind, language, document]).encode()).digest()
    piece = KEPT.find(digest)
    if piece is None:
        ((piece, seconds),) = HELPER.run(kind, document, language, environ.get(REQUEST_ID, "unknown"))
        environ[COST] = seconds
        KEPT.keep(digest, piece)
    observe.findings(piece.codes)
    response = send(piece.body, media_type, language=language)
    response.headers["Content-Security-Policy"] = piece.policy
    return response
