"""python -m service.workshop.benchmarking.servers NAME PORT: one of the servers to compare with."""

from __future__ import annotations

import sys


def main(name: str, port: int) -> None:
    """Import what this server needs, and nothing else, and run it until it is stopped."""
    if name == "constant":
        from service.workshop.benchmarking import constant

        constant.serve(port)
    elif name == "pydantic_echo":
        from service.workshop.benchmarking import pydantic_echo

        pydantic_echo.serve(port)
    else:
        from service.workshop.benchmarking import baselines

        baselines.serve(name, port)


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]))
