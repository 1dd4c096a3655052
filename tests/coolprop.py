"""CoolProp, the reference library, loaded by the first test that asks it.

That takes four seconds of processor: a process that runs other tests, and the fast path, need not wait for it.
"""

from typing import Any


def props_si(*given: Any) -> float:
    """A property of a fluid in SI units: CoolProp's PropsSI."""
    from CoolProp.CoolProp import PropsSI

    return float(PropsSI(*given))
