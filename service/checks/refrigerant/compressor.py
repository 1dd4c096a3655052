"""The compressor: ratio, discharge gas, rating, pump-down, and the reversing valve round it."""

from collections.abc import Iterator

from service.checks.air.air_values import air_values
from service.checks.plausible.refusals import refuse_impossible
from service.checks.refrigerant.charge_conditions import part_load
from service.checks.refrigerant.patterns import check_pumping
from service.checks.refrigerant.rated_compressor import (
    Suction,
    enthalpy_gain,
    heat_of,
    rated_mass_flow,
    rated_power,
    suction_gas,
)
from service.checks.refrigerant.running_state import RunningState, running_state
from service.knowledge.limits import limit
from service.physics.compressor_map import isentropic_efficiency, volumetric_efficiency
from service.physics.uncertainty import Uncertain, propagate
from service.results.computed import CompressorComputed
from service.results.finding import Assumption, Finding, Missing, State
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.bounded import evidence, judged, settling
from service.verdicts.judge import below
from service.verdicts.measured import measured, present
from service.verdicts.mode import judges_cooling
from service.verdicts.report import Checked, report

WATTS = "/electrical/currents/compressor_watts"


def check_compressor(visit: Visit) -> Checked:
    """Judge the compressor; computed is a CompressorComputed. Raises: Refusal for a reading of the closed list."""
    refuse_impossible(visit)
    return compressor_of(visit, running_state(visit))


def compressor_of(visit: Visit, state: RunningState) -> Checked:
    """Judge the compressor from values already computed."""
    power, flow = rated_power(visit, state), rated_mass_flow(visit, state)
    measured_power = measured(visit, WATTS)
    ratio = measured_power / power if measured_power is not None and power is not None else None
    efficiency = _isentropic(visit, state, flow)
    by_air = _flow_by_air(visit, state)
    flow_ratio = by_air / flow if by_air is not None and flow is not None else None
    computed = CompressorComputed(
        _quantity(power, "watts"),
        _quantity(flow, "mass_flow"),
        _quantity(ratio, "ratio"),
        _quantity(efficiency, "ratio"),
        _quantity(_volumetric(visit, state, by_air or flow), "ratio"),
        _quantity(flow_ratio, "ratio"),
    )
    findings = (
        *_pressures(visit, state),
        *_discharge(visit, state),
        *_rated(ratio, efficiency),
        *_moved(visit, flow_ratio),
        *check_pumping(visit, state),
        *_pump_down(visit),
        *_reversing_valve(visit),
    )
    missing = (*_missing(visit, state), *settling(findings))
    return Checked(findings, missing, tuple(_assumptions(visit, state)), computed)


def _quantity(value: Uncertain | None, kind: str) -> Quantity | None:
    return value.quantity(kind) if value is not None else None


def _pressures(visit: Visit, state: RunningState) -> Iterator[Finding]:
    """In heating at low outdoor temperature a high ratio is ordinary."""
    if state.compression_ratio is not None and judges_cooling(visit):
        highest = limit("compressor.ratio-investigate").as_high()
        yield judged("compressor.ratio-high", state.compression_ratio, highest, worst=State.REVIEW)


def _discharge(visit: Visit, state: RunningState) -> Iterator[Finding]:
    discharge = measured(visit, "/running/discharge_line_temperature")
    if discharge is not None:
        highest = limit("compressor.discharge-temperature").as_high()
        yield judged("compressor.discharge-temperature-high", discharge, highest)
    if state.discharge_superheat is not None and state.discharge_superheat.value >= 0.0:
        lowest = limit("compressor.discharge-superheat-lowest").as_low()
        yield judged("compressor.discharge-superheat-low", state.discharge_superheat, lowest, worst=State.REVIEW)


def _rated(ratio: Uncertain | None, efficiency: Uncertain | None) -> Iterator[Finding]:
    """Power against the rating at the same pressures: too little says little gas is moved, too much friction."""
    if ratio is not None:
        low, high = limit("compressor.power-lowest").as_low(), limit("compressor.power-highest").as_high()
        yield judged("compressor.power-low", ratio, low, worst=State.REVIEW)
        yield judged("compressor.power-high", ratio, high, worst=State.REVIEW)
    if efficiency is not None:
        lowest = limit("compressor.efficiency-lowest").as_low()
        yield judged("compressor.efficiency-low", efficiency, lowest, worst=State.REVIEW)


def _flow_by_air(visit: Visit, state: RunningState) -> Uncertain | None:
    """Mass flow [kg/s] that the measured air tells: what it gave up over what a mass of refrigerant takes up."""
    air = air_values(visit, state)
    if not air.airflow_read or air.total_capacity is None or air.total_capacity.value <= 0.0:
        return None
    gain = enthalpy_gain(visit, state)
    return air.total_capacity / gain if gain is not None else None


def _moved(visit: Visit, flow_ratio: Uncertain | None) -> Iterator[Finding]:
    """Flow by the air side against the rating: far less is a pump that leaks, or an airflow read wrong."""
    if flow_ratio is not None:
        lowest = limit("compressor.flow-lowest").as_low()
        yield judged("compressor.flow-low", flow_ratio, lowest, worst=State.REVIEW, decided=not part_load(visit))


def _isentropic(visit: Visit, state: RunningState, flow: Uncertain | None) -> Uncertain | None:
    """Overall with power and flow; else from the discharge temperature, as if the shell lost no heat."""
    suction, power = suction_gas(visit, state), measured(visit, WATTS)
    if suction is None:
        return None
    try:
        if flow is not None and power is not None and power.value > 0.0:
            start, entropy = heat_of(suction)
            return propagate(isentropic_efficiency, flow, _isentropic_end(suction, entropy) - start, power)
        return _by_discharge_temperature(visit, suction)
    except (ValueError, ZeroDivisionError):
        return None


def _isentropic_end(suction: Suction, entropy: Uncertain) -> Uncertain:
    """Enthalpy [J/kg] where a compression of the suction gas without loss would end."""
    return propagate(suction.properties.superheated.isentropic_enthalpy, suction.high_pressure, entropy)


def _by_discharge_temperature(visit: Visit, suction: Suction) -> Uncertain | None:
    discharge = measured(visit, "/running/discharge_line_temperature")
    if discharge is None:
        return None
    start, entropy = heat_of(suction)
    end = propagate(suction.properties.superheated.enthalpy, suction.high_pressure, discharge)
    found = (_isentropic_end(suction, entropy) - start) / (end - start)
    return found if 0.0 < found.value < 1.0 else None


def _volumetric(visit: Visit, state: RunningState, flow: Uncertain | None) -> Uncertain | None:
    """Flow (by the air side, else rated) over what pistons or scrolls sweep; needs displacement and speed."""
    compressor, suction = visit.equipment.compressor, suction_gas(visit, state)
    if flow is None or suction is None or compressor.displacement is None or compressor.motor_speed is None:
        return None
    swept = compressor.displacement * compressor.motor_speed / 60.0
    density = propagate(suction.properties.superheated.density, suction.pressure, suction.temperature)
    return propagate(volumetric_efficiency, flow, density, Uncertain(swept))


def _pump_down(visit: Visit) -> Iterator[Finding]:
    """With the liquid valve shut the suction must come down and stay down; a scroll never into a vacuum."""
    reached, running = measured(visit, "/running/pump_down_suction_pressure"), visit.running
    if reached is not None:
        highest = limit("compressor.pump-down-highest")
        bounds = highest.bounds(high=highest.value + visit.site_pressure, kind="pressure")
        yield judged("compressor.pump-down-pressure", reached, bounds, worst=State.REVIEW)
        if visit.equipment.compressor.type == "scroll" and below(reached.value, visit.site_pressure):
            pointers = ("/running/pump_down_suction_pressure", "/equipment/compressor/type")
            yield report(
                "compressor.scroll-in-vacuum", State.FAIL, pointers, measured=reached.quantity("pressure")
            )
    if running.pump_down_holds is not None:
        state = State.PASS if running.pump_down_holds else State.FAIL
        yield report("compressor.pump-down-holds", state, ("/running/pump_down_holds",))


def _reversing_valve(visit: Visit) -> Iterator[Finding]:
    """Suction gas must leave the reversing valve as cold as it came; a rise is hot gas leaking across."""
    entering = measured(visit, "/running/reversing_valve_suction_in_temperature")
    leaving = measured(visit, "/running/reversing_valve_suction_out_temperature")
    if entering is not None and leaving is not None:
        most = limit("compressor.reversing-valve-rise").as_high()
        yield judged("compressor.reversing-valve-leak", leaving - entering, most)


def _assumptions(visit: Visit, state: RunningState) -> Iterator[Assumption]:
    if state.compression_ratio is not None and visit.running.discharge_pressure is None:
        yield Assumption("compressor.liquid-for-discharge", "/running/discharge_pressure")
    coefficients = visit.equipment.compressor.rating_coefficients
    if coefficients.mass_flow and visit.equipment.compressor.rating_superheat is None:
        yield Assumption("compressor.rating-superheat", "/equipment/compressor/rating_superheat")


def _missing(visit: Visit, state: RunningState) -> Iterator[Missing]:
    if state.compression_ratio is not None and visit.running.discharge_line_temperature is None:
        yield Missing("/running/discharge_line_temperature", "compressor.discharge-temperature")
    if visit.equipment.compressor.rating_coefficients.power and visit.electrical.currents.compressor_watts is None:
        yield Missing(WATTS, "compressor.watts")
    if evidence(state.discharge_superheat) and not present(visit, "/running/discharge_pressure"):
        yield Missing("/running/discharge_pressure", "compressor.discharge-pressure")
