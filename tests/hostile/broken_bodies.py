"""Bodies that break on their way: every one is the client's mistake, whatever the parser makes of it.

Each is a head's framing and what follows it; the sources are RFC 9112 sections 6.3 (length), 7.1 (chunks), 7.1.2
(trailers), 8 (incomplete messages) and RFC 9110 section 10.1.1 (expectations).
"""

from __future__ import annotations

import socket
import struct
from collections.abc import Iterator

from service.results.record import Record
from tests.wire.serving import PATIENCE

BODY = b'{"refrigerant":"R-410A","points":[{"pressure":118}]}'
CHUNKED = b"Transfer-Encoding: chunked\r\n"
LENGTH = b"Content-Length: %d\r\n" % len(BODY)
HALF = BODY[:20]


def chunk(data: bytes) -> bytes:
    """One chunk of a chunked body."""
    return b"%x\r\n%s\r\n" % (len(data), data)


class Broken(Record):
    """A way of breaking a body: how it is framed, what is sent, and whether the client resets the connection."""

    name: str
    framing: bytes
    sent: bytes
    reset: bool = False


BROKEN: tuple[Broken, ...] = (
    Broken("a chunk size that is no number", CHUNKED, b"zz\r\n" + BODY + b"\r\n0\r\n\r\n"),
    Broken("a negative chunk size", CHUNKED, b"-5\r\nhello\r\n0\r\n\r\n"),
    Broken("a chunk size with a sign", CHUNKED, b"+34\r\n" + BODY + b"\r\n0\r\n\r\n"),
    Broken("a chunk size in C notation", CHUNKED, b"0x34\r\n" + BODY + b"\r\n0\r\n\r\n"),
    Broken("a chunk size with an underscore", CHUNKED, b"3_4\r\n" + BODY + b"\r\n0\r\n\r\n"),
    Broken("an empty chunk size", CHUNKED, b"\r\n" + BODY + b"\r\n0\r\n\r\n"),
    Broken("a chunk size of a thousand digits", CHUNKED, b"f" * 1000 + b"\r\n" + BODY + b"\r\n0\r\n\r\n"),
    Broken("a chunk size line that never ends", CHUNKED, b"3" * 20_000),
    Broken("a chunk shorter than its size", CHUNKED, b"99\r\n" + BODY + b"\r\n0\r\n\r\n"),
    Broken("a chunk longer than its size", CHUNKED, b"5\r\n" + BODY + b"\r\n0\r\n\r\n"),
    Broken("a chunk without its end", CHUNKED, b"34\r\n" + BODY + b"0\r\n\r\n"),
    Broken("a chunk extension that cannot be read", CHUNKED, b"34;=\x00\r\n" + BODY + b"\r\n0\r\n\r\n"),
    Broken("bytes that are no text as a chunk size", CHUNKED, b"\xff\xfe\r\n" + BODY + b"\r\n0\r\n\r\n"),
    Broken("a trailer that is no header", CHUNKED, chunk(BODY) + b"0\r\nno header at all\r\n\r\n"),
    Broken("a trailer with a forbidden byte", CHUNKED, chunk(BODY) + b"0\r\nX: a\x00b\r\n\r\n"),
    Broken("trailers without end", CHUNKED, chunk(BODY) + b"0\r\n" + b"X: y\r\n" * 20_000),
    Broken("a trailer with a bare line feed", CHUNKED, chunk(BODY) + b"0\r\nX: y\nZ: w\r\n\r\n"),
    Broken("chunks without the last one", CHUNKED, chunk(BODY)),
    Broken("chunks that end in a size", CHUNKED, chunk(HALF) + b"2"),
    Broken("a body shorter than its length", LENGTH, HALF),
    Broken("no body at all", LENGTH, b""),
    Broken("reset in the middle of a body", LENGTH, HALF, reset=True),
    Broken("reset in the middle of a chunk", CHUNKED, b"34\r\n" + HALF, reset=True),
    Broken("a length and chunks", LENGTH + CHUNKED, chunk(BODY) + b"0\r\n\r\n"),
    Broken("two lengths", LENGTH + b"Content-Length: 5\r\n", BODY),
    Broken("a length that is no number", b"Content-Length: many\r\n", BODY),
    Broken("a negative length", b"Content-Length: -1\r\n", BODY),
    Broken("chunked twice", CHUNKED + CHUNKED, chunk(BODY) + b"0\r\n\r\n"),
    Broken("a coding that is not last", b"Transfer-Encoding: chunked, gzip\r\n", chunk(BODY) + b"0\r\n\r\n"),
    Broken("an expectation that nobody meets", LENGTH + b"Expect: the-impossible\r\n", BODY),
    Broken("half a compressed stream", LENGTH + b"Content-Encoding: gzip\r\n", b"\x1f\x8b\x08\x00" + HALF),
    Broken("neither length nor chunks", b"", BODY),
)


def send(port: int, path: str, media_type: str, broken: Broken, request_id: str) -> bytes:
    """Send one broken body and read what is answered, until the other side closes; empty for none."""
    head = f"POST {path} HTTP/1.1\r\nHost: x\r\nContent-Type: {media_type}\r\nX-Request-Id: {request_id}\r\n"
    with socket.create_connection(("127.0.0.1", port), timeout=PATIENCE) as connection:
        try:
            if broken.reset:
                vanish(connection, head.encode() + broken.framing, broken.sent)
                return b""
            connection.sendall(head.encode() + broken.framing + b"\r\n" + broken.sent)
            connection.shutdown(socket.SHUT_WR)
            return b"".join(_received(connection))
        except OSError:
            return b""  # the server has closed, which is its right


def vanish(connection: socket.socket, head: bytes, part: bytes) -> None:
    """Send a head, wait until the server has read it and asks for the body, send a part of that, and reset.

    Reset at once, the server may find nothing but an error on the connection, as if nobody had asked anything.
    """
    connection.sendall(head + b"Expect: 100-continue\r\n\r\n")
    said = connection.recv(64)
    assert said.startswith(b"HTTP/1.1 100"), said
    connection.sendall(part)
    reset(connection)


def reset(connection: socket.socket) -> None:
    """Close with a reset instead of a farewell."""
    connection.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
    connection.close()


def _received(connection: socket.socket) -> Iterator[bytes]:
    while piece := connection.recv(65536):
        yield piece
