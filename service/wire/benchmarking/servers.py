"""python -m service.wire.benchmarking.servers NAME PORT: one of the servers that the service is compared with."""

from __future__ import annotations

import sys
from importlib import import_module


def main(name: str, port: int) -> None:
    """Import what this server needs, and nothing else, and run it until it is stopped."""
    package = "service.wire.benchmarking"
    if name in ("echo", "properties"):
        import_module(f"{package}.baselines").serve(name, port)
    else:
        import_module(f"{package}.{name}").serve(port)


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]))
