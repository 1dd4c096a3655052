"""Request and computed members of the evacuation and its hold test."""

from typing import Any

from service.results.computed import quantity
from service.results.declare import choice, member, part, parts
from service.results.procedures.request import ProcedureRequest
from service.results.procedures.rests_on import RestsOn
from service.results.quantity import Quantity
from service.results.record import Record
from service.results.visit.ranges import minutes, temperature
from service.results.visit.site import Instruments


def vacuum(description: str) -> Any:
    """An absolute pressure on a vacuum gauge, 0 to 120 kPa."""
    return member("vacuum", description, low=0.0, high=120e3)


class VacuumSample(Record):
    """One reading of the vacuum gauge with the pump valved off."""

    minutes: float | None = minutes("Minutes since the pump was valved off.")
    vacuum: float | None = vacuum("Absolute pressure on the vacuum gauge.")


class EvacuationRequest(ProcedureRequest):
    """Is the circuit dry and tight?"""

    instruments: Instruments = part(Instruments, "Resolution and range of the vacuum gauge.")
    samples: tuple[VacuumSample, ...] = parts(VacuumSample, "Readings with the pump valved off.", 500)
    target_vacuum: float | None = vacuum("Vacuum to be held; 500 micron when absent.")
    hold_minutes: float | None = minutes("How long it must be held; 10 minutes when absent.")
    ambient_temperature: float | None = temperature("Temperature at the coldest part of the circuit.")
    volume: float | None = member("volume", "Inside volume of the circuit.", low=1e-6, high=100.0)


class EvacuationComputed(Record):
    """What the rise of the vacuum says."""

    curve: str | None = choice("Shape of the rise.", "tight", "leak", "moisture", "undecided")
    rise_rate: Quantity | None = quantity("vacuum_rate", "Mean rise over the readings.")
    plateau: Quantity | None = quantity("vacuum", "Level at which the rise ends, where the readings show one.")
    water_boiling_temperature: Quantity | None = quantity(
        "temperature", "Water boils, or ice sublimes, at this temperature at the last reading."
    )
    water_state: str | None = choice("What the last reading takes water from.", "liquid", "ice")
    leak_rate: Quantity | None = quantity(
        "gas_flow", "Leak rate of the known volume, pressure times volume per time."
    )
    minutes_to_decide: Quantity | None = quantity("minutes", "How much longer to read before a call.")
    rests_on: tuple[RestsOn, ...] = parts(RestsOn, "What tight rests on; empty where nothing passed.", 40)
