"""python -m service tables: the shipped property tables and the simulated population."""

import sys
from importlib.util import find_spec

NEEDED = ("CoolProp", "scipy")
EXTRA = "pip install 'air-conditioner-diagnosis[tables]'"


def main(arguments: list[str]) -> int:
    """Build what is asked for; 1 where the optional dependencies are missing."""
    lacking = [name for name in NEEDED if find_spec(name) is None]
    if lacking:
        print(f"tables needs {', '.join(lacking)}: {EXTRA}", file=sys.stderr)
        return 1
    from service.workshop.build import tables

    return tables.main(arguments)
