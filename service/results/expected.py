"""What a sound unit would read here and now; the same names as the readings, each with a 90 % range."""

from typing import Any, ClassVar

from service.results.declare import member, part, sent
from service.results.record import Record, field


class RangeOf(Record):
    """A 90% range with its likeliest value.

    In SI of `kind`.
    """

    SCHEMA: ClassVar[str] = "Range"
    low: float = field(metadata=sent("number", "Lower end in `unit`.", said="written"))
    likely: float = field(metadata=sent("number", "Likeliest value in `unit`.", said="written", last=True))
    high: float = field(metadata=sent("number", "Upper end in `unit`.", said="written"))
    kind: str
    unit: ClassVar[str] = field(metadata=sent("text", "Unit code.", said="unit", last=True))


def expected(kind: str, description: str) -> Any:
    """An expected reading: low, high, likely and unit."""
    return member("range", description, choices=(kind,))


class ExpectedRunning(Record):
    """Expected running readings."""

    suction_pressure: RangeOf | None = expected("pressure", "Suction pressure.")
    liquid_pressure: RangeOf | None = expected("pressure", "Liquid pressure.")
    suction_line_temperature: RangeOf | None = expected("temperature", "Suction line.")
    liquid_line_temperature: RangeOf | None = expected("temperature", "Liquid line.")
    discharge_line_temperature: RangeOf | None = expected("temperature", "Discharge line.")
    drier_temperature_drop: RangeOf | None = expected("temperature_difference", "Liquid line across the drier.")


class ExpectedAir(Record):
    """Expected air readings."""

    supply_dry_bulb: RangeOf | None = expected("temperature", "Supply air.")
    supply_wet_bulb: RangeOf | None = expected("temperature", "Supply air wet bulb.")
    condenser_leaving_dry_bulb: RangeOf | None = expected("temperature", "Air leaving the condenser.")
    airflow: RangeOf | None = expected("airflow", "Indoor airflow, where the rated capacity is known.")


class ExpectedCurrents(Record):
    """Expected currents."""

    compressor_amps: RangeOf | None = expected("amps", "Compressor amps, where RLA is known.")


class ExpectedElectrical(Record):
    """Expected electrical readings."""

    currents: ExpectedCurrents = part(ExpectedCurrents, "Currents.")


class ExpectedStanding(Record):
    """Expected standing pressure."""

    pressure: RangeOf | None = expected("pressure", "Standing pressure at the outdoor temperature.")


class ExpectedReadings(Record):
    """Expected readings, nested like the visit document."""

    running: ExpectedRunning = part(ExpectedRunning, "Running readings.")
    air: ExpectedAir = part(ExpectedAir, "Air readings.")
    standing: ExpectedStanding = part(ExpectedStanding, "Unit off.")
    electrical: ExpectedElectrical = part(ExpectedElectrical, "Electrical readings.")


class LossComputed(Record):
    """What the leading fault costs, as ratios to the same unit when sound; simulated."""

    capacity_ratio: RangeOf | None = expected("ratio", "Cooling capacity over that of the sound unit.")
    power_ratio: RangeOf | None = expected("ratio", "Power drawn over that of the sound unit.")
    efficiency_ratio: RangeOf | None = expected("ratio", "Efficiency over that of the sound unit.")


class ExpectedComputed(Record):
    """Answer of POST /v1/expected."""

    expected: ExpectedReadings = part(ExpectedReadings, "A unit without a fault, in today's weather.")
    after_repair: ExpectedReadings = part(
        ExpectedReadings, "This unit once the leading fault is repaired, in the same weather."
    )
    loss: LossComputed = part(LossComputed, "What the leading fault costs.")
