"""What is judged of a heat pump by the mode that it is asked for and by the mode that it runs in."""

from tests.laws.answers import Body, Document, codes, failing

# Checks whose limits hold of an indoor coil that evaporates (their own rows say so; physics of the two coils).
OF_COOLING = (
    "charge.undercharged",
    "charge.overcharged",
    "charge.superheat-",
    "charge.subcooling-",
    "charge.valve-superheat-",
    "running.condensing-high",
    "running.coil-freezing",
    "air.split-",
    "air.capacity-low",
    "compressor.ratio-high",
    "compressor.weak-pumping",
    "compressor.no-pressure-difference",
    "restriction.before-port",
    "readings.supply-warmer",
    "readings.suction-line-warmer",
    "readings.suction-above-liquid",
    "readings.condenser-air-colder",
    "readings.liquid-below-outdoor",
)


def no_check_of_cooling_judges_a_unit_that_heats(document: Document, body: Body) -> list[str]:
    """Asked to heat, or heating on a call for cooling: what holds in cooling says nothing of it."""
    asked = document.get("equipment", {}).get("mode") == "heating"
    shown = "mode.reversed" in codes(failing(body, "fail", "review"))
    if not asked and not shown:
        return []
    judged = failing(body, "fail", "review", "pass")
    found = [f"{item['code']} judges a unit in heating" for item in judged if item["code"].startswith(OF_COOLING)]
    moved = body.get("computed", {}).get("charge", {}).get("direction")
    return [*found, *([f"moves its charge: {moved}"] if moved else [])]
