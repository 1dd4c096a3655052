"""Request and computed members of the nitrogen pressure test."""

from service.results.computed import quantity
from service.results.declare import choice, member, part, parts
from service.results.procedures.request import ProcedureRequest
from service.results.procedures.rests_on import RestsOn
from service.results.quantity import Quantity
from service.results.record import Record
from service.results.visit.ranges import minutes, pressure, temperature
from service.results.visit.site import Instruments


class PressureSample(Record):
    """One reading of the shut-in test gas."""

    minutes: float | None = minutes("Minutes since the test began.")
    pressure: float | None = pressure("Test pressure.")
    temperature: float | None = temperature("Temperature of the pipework or the air around it, in the shade.")


class PressureTestRequest(ProcedureRequest):
    """Does the circuit hold nitrogen?"""

    instruments: Instruments = part(Instruments, "Accuracy of the instruments.")
    gas: str | None = member(
        "text", "Test gas: nitrogen, or nitrogen_hydrogen for the trade's non-flammable tracer mix.", length=40
    )
    samples: tuple[PressureSample, ...] = parts(PressureSample, "Readings of the shut-in gas; two or more.", 500)
    target_pressure: float | None = pressure("Pressure the test is meant to hold.")
    low_side_design_pressure: float | None = pressure("Low-side design (test) pressure of the nameplate.")
    high_side_design_pressure: float | None = pressure("High-side design (test) pressure of the nameplate.")
    tested_side: str | None = choice("What is under test; whole when absent.", "whole", "low", "high")


class PressureTestComputed(Record):
    """What the pressure test says."""

    expected_pressure: Quantity | None = quantity(
        "pressure", "The first pressure brought to the last temperature: what a tight circuit would show."
    )
    pressure_change: Quantity | None = quantity(
        "pressure_difference", "Last pressure less the expected one; negative when gas is lost."
    )
    leak_rate: Quantity | None = quantity("pressure_rate", "Pressure lost per hour, temperature taken out.")
    minutes_to_decide: Quantity | None = quantity(
        "minutes", "How much longer the test must run before these instruments can decide."
    )
    result: str | None = choice("Verdict.", "holds", "leaks", "undecided")
    rests_on: tuple[RestsOn, ...] = parts(RestsOn, "What holding rests on; empty where nothing passed.", 40)
