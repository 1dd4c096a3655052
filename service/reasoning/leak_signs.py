"""Signs of a leak that a nose, an eye or a sensor finds, without gauges."""

from service.results.visit import Visit


def leak_signs(visit: Visit) -> tuple[str, ...]:
    """Pointers of readings that speak of a leak."""
    signs = {
        "/complaint/symptoms": "refrigerant_smell_or_hiss" in visit.complaint.symptoms,
        "/inspection/oil_stains": bool(visit.inspection.oil_stains),
        "/electrical/control/leak_sensor": visit.electrical.control.leak_sensor == "open",
    }
    return tuple(pointer for pointer, seen in signs.items() if seen)
