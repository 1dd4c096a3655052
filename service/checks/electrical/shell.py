"""Is the compressor shell hot? A hot motor's overload may be open, and no open circuit counts yet."""

from service.knowledge.limit_codes import LimitCode
from service.knowledge.limits import limit
from service.results.finding import Finding, State
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.evidence_pointers import given
from service.verdicts.judge import below
from service.verdicts.report import report

RESETS: dict[str, LimitCode] = {
    "shortest": "windings.overload-reset-shortest",
    "usual": "windings.overload-reset-usual",
    "longest": "windings.overload-reset-longest",
}
HOT, COLD, UNKNOWN = "hot", "cold", "unknown"


def shell_state(visit: Visit) -> str:
    """hot, cold or unknown; where hand and thermometer disagree, the hotter counts."""
    touch, temperatures = visit.inspection.shell_touch, _temperatures(visit)
    cool = limit("windings.shell-cool").value
    if touch == "hot" or any(not below(value, cool) for value in temperatures):
        return HOT
    if not _long_enough_off(visit):
        return UNKNOWN
    return COLD if temperatures or touch == "cool" or _off_for_a_day(visit) else UNKNOWN


def shell_pointers(visit: Visit) -> tuple[str, ...]:
    """Pointers of what was read of the shell."""
    return given(visit.inspection, "/inspection", ("shell_touch", "shell_temperature")) + given(
        visit.electrical.windings, "/electrical/windings", ("winding_temperature", "minutes_off")
    )


def overload_open(evidence: tuple[str, ...], variant: str) -> Finding:
    """Windings open on a shell that is `hot` or `not-known` to be cold: wait, with how long it may take."""
    times = {name: Quantity(limit(code).value, "minutes") for name, code in RESETS.items()}
    code = "windings.overload-open-hot"
    return report(code, State.UNDECIDED, evidence, variant=variant, values=times)


def _temperatures(visit: Visit) -> tuple[float, ...]:
    read = (visit.inspection.shell_temperature, visit.electrical.windings.winding_temperature)
    return tuple(value for value in read if value is not None)


def _long_enough_off(visit: Visit) -> bool:
    # A locked rotor trips the overload within seconds, long before the shell gets warm.
    off = visit.electrical.windings.minutes_off
    return off is None or not below(off, limit("windings.overload-reset-shortest").value)


def _off_for_a_day(visit: Visit) -> bool:
    off = visit.electrical.windings.minutes_off
    return off is not None and not below(off, limit("windings.overload-reset-longest").value)
