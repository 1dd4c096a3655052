"""What must hold for every visit: no crash, no NaN, no contradictory verdicts; units, altitude and direction."""

import math
import os

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.results.finding import State
from service.results.quantity import Quantity
from service.results.record import Record, fields
from service.results.refusal import Refusal
from service.results.units import TABLE, Units, from_si
from tests.checks.cooling.anything import any_document
from tests.checks.cooling.sweep import random_document
from tests.checks.cooling.visits import (
    changed,
    checked,
    kelvin,
    orifice_unit,
    psig,
    states,
    valve_unit,
    visit_of,
)

VISITS = int(os.environ.get("SWEEP_VISITS", "1000"))  # 10,000 take about half a minute
FAILED = {State.FAIL, State.REVIEW}
# Pairs that cannot both be true of one unit at one time.
OPPOSITES = [
    ("charge.superheat-high", "charge.superheat-low"),
    ("charge.valve-superheat-high", "charge.valve-superheat-low"),
    ("charge.subcooling-high", "charge.subcooling-low"),
    ("charge.undercharged", "charge.overcharged"),
    ("standing.liquid-lost", "standing.non-condensables"),
    ("air.split-high", "air.split-low"),
    ("air.airflow-sufficient", "air.airflow-high"),
    ("compressor.power-low", "compressor.power-high"),
    ("restriction.starved", "metering.overfed"),
    ("restriction.drier-drop", "readings.drier-outlet-warmer"),
    ("start-up.not-pumping", "start-up.rotor-locked"),
    ("start-up.not-pumping", "start-up.motor-idle"),
    ("start-up.not-pumping", "start-up.rotation"),
]


def numbers(item):
    """Every number of a result, however deep."""
    if isinstance(item, Quantity):
        yield item.value
        yield item.uncertainty or 0.0
    elif isinstance(item, Record):
        for field in fields(item):
            yield from numbers(getattr(item, field.name))


def complaints(document):
    """What is wrong with the verdicts on a document; nothing for a sound service."""
    found = checked(document)
    by_code = {}
    for item in found.findings:
        by_code.setdefault(item.code, set()).add(item.state)
        if not item.evidence:
            yield f"{item.code} without evidence"
    if not all(math.isfinite(number) for number in numbers(found.computed)):
        yield "a number that is none"
    for one, other in OPPOSITES:
        if by_code.get(one, set()) & FAILED and by_code.get(other, set()) & FAILED:
            yield f"{one} and {other}"
    yield from status_complaints(found.computed.charge, by_code)


def status_complaints(charge, by_code):
    """The status and the findings must say the same; a contradiction or a hazard never lets charge be changed."""
    failing = {code for code, how in by_code.items() if State.FAIL in how}
    if charge.status in ("undercharged", "overcharged") and f"charge.{charge.status}" not in failing:
        yield f"{charge.status} without its finding"
    if charge.status == "undecided" and failing & {"charge.undercharged", "charge.overcharged"}:
        yield "undecided and yet decided"
    if charge.status != "undecided" and any(code.startswith("readings.") for code in failing):
        yield "a verdict on readings that contradict"
    if (charge.direction is None) != (charge.status in ("undecided", None)):
        yield "a direction without a status"


def test_sweep_of_random_visits():
    wrong, refused = [], 0
    for seed in range(VISITS):
        document = random_document(seed)
        try:
            wrong += [(seed, complaint) for complaint in complaints(document)]
        except Refusal:
            refused += 1
    assert wrong == []
    assert refused < VISITS / 3


def test_whatever_the_document_accepts_is_answered():
    """Nonsense within the document's ranges is refused or judged: no crash, no NaN, no verdict against itself."""
    wrong, judged = [], 0
    for seed in range(VISITS // 2):
        try:
            wrong += [(seed, complaint) for complaint in complaints(any_document(seed))]
            judged += 1
        except Refusal:
            continue
    assert wrong == []
    assert judged > VISITS / 5


def test_the_sweep_meets_every_status():
    """A sweep in which nothing is ever decided would prove nothing."""
    met = {checked(random_document(seed)).computed.charge.status for seed in range(0, 300, 3)}
    assert met == {"undercharged", "correct", "overcharged", "undecided"}


@settings(max_examples=50, deadline=None)
@given(st.sampled_from(["R-22", "R-410A", "R-407C", "R-454B"]), st.floats(300, 330), st.floats(0.5, 20))
def test_more_pressure_at_one_temperature_never_lowers_subcooling(refrigerant, bubble, more):
    """More charge backs up liquid and raises the head: at a fixed line temperature subcooling can only grow."""
    document = valve_unit(refrigerant=refrigerant)
    low = document["running"]["liquid_pressure"] - 60.0 + (bubble - 300.0)
    results = [
        checked(changed(document, running={"liquid_pressure": at})).computed.running.subcooling.value
        for at in (low, low + more)
    ]
    assert results[1] > results[0]


@pytest.mark.parametrize("pressure", sorted(TABLE["pressure"]))
@pytest.mark.parametrize("temperature", sorted(TABLE["temperature"]))
@pytest.mark.parametrize("make", [valve_unit, orifice_unit])
def test_units_change_nothing(pressure, temperature, make):
    document = make(superheat=21.0, subcooling=3.0)
    units = Units(temperature=temperature, pressure=pressure)
    document["units"] = {"temperature": temperature, "pressure": pressure}
    converted = changed(document)
    for part in ("running", "air"):
        for name, value in document[part].items():
            if name == "minutes_running":
                continue
            kind = "pressure" if name.endswith("pressure") else "temperature"
            inside = value * 6894.757293168361 + 101325.0 if kind == "pressure" else kelvin(value)
            converted[part][name] = from_si(inside, kind, units, 101325.0)
    if temperature == "degC" and "target_subcooling" in document["equipment"]:
        converted["equipment"]["target_subcooling"] = 10.0 / 1.8
    plain, other = checked(make(superheat=21.0, subcooling=3.0)), checked(converted)
    assert states(other) == states(plain)
    assert other.computed.running.superheat.value == pytest.approx(
        plain.computed.running.superheat.value, abs=1e-6
    )


@pytest.mark.parametrize("elevation", [0, 2000, 7500])
def test_one_absolute_state_gives_one_answer_at_every_altitude(elevation):
    """The gauge reads against the air outside: at altitude the same state shows more on it."""
    document = valve_unit()
    site = visit_of({"site": {"elevation": elevation}}).site_pressure
    higher = (101325.0 - site) / 6894.757293168361
    running = {name: document["running"][name] + higher for name in ("suction_pressure", "liquid_pressure")}
    found = checked(changed(document, site={"elevation": elevation}, running=running))
    assert found.computed.running.superheat.value == pytest.approx(12.0 / 1.8, abs=1e-6)
    assert found.computed.charge.status == "correct"
    if elevation:
        careless = checked(changed(document, site={"elevation": elevation}))
        assert careless.computed.running.superheat.value > found.computed.running.superheat.value


def test_psig_is_the_gauge_at_sea_level():
    assert psig(101325.0) == pytest.approx(0.0)
