"""A second model of a unit of one ton: both coils marched in segments, charge by an empirical line.

Differs from the service's model in every part: coils are marched segment by segment by effectiveness and number of
transfer units (no moving boundaries), a wet coil follows the contact factor, the compressor loses volume by its
clearance, the valve opens along a straight line of superheat, a fixed orifice passes less the less its liquid is
subcooled, and the charge is known only through subcooling and superheat (the linear relation of virtual charge
sensors; Li and Braun, 2009, from memory). Numbers without a source are choices of these tests.
"""

import numpy as np

from service.results.record import Record
from tests.outside.fluid import Saturation

Array = np.ndarray
TON = 3516.85
SEGMENTS = 12
AIR_HEAT = 1006.0
ADIABATIC = 1.13  # exponent of compression


class Machine(Record):
    """What a unit is; every member an array over units. Members sized by ``sizing`` are 1 at first."""

    values: dict[str, Array]

    def __getitem__(self, name: str) -> Array:
        return self.values[name]

    def but(self, **changed: Array) -> "Machine":
        """The same with other members."""
        return Machine(self.values | changed)


class Solved(Record):
    """State of every unit: temperatures [K], pressures [Pa], power [W], residual [1]."""

    values: dict[str, Array]
    residual: Array

    def __getitem__(self, name: str) -> Array:
        return self.values[name]


def humid_enthalpy(dry: Array, ratio: Array) -> Array:
    """Enthalpy of moist air [J/kg] at a temperature [K]."""
    return AIR_HEAT * (dry - 273.15) + ratio * (2.501e6 + 1860.0 * (dry - 273.15))


def saturated_ratio(dry: Array, pressure: Array) -> Array:
    """Humidity ratio of saturated air; Magnus form with the constants of Alduchov and Eskridge (1996)."""
    celsius = dry - 273.15
    vapour = 610.94 * np.exp(17.625 * celsius / (243.04 + celsius))
    return 0.62198 * vapour / (pressure - vapour)


def evaluate(fluid: Saturation, has_valve: bool, unit: Machine, run: Machine, x: Array) -> Solved:
    """States and residuals at unknowns x (4 x n): evaporating and condensing temperature, enthalpy of the gas over
    saturation leaving the indoor coil, of the liquid over saturation leaving the outdoor coil."""
    boiling, condensing, over, below = x
    low, high = fluid.at("pressure", boiling), fluid.at("pressure", condensing)
    leaving = fluid.at("vapour", boiling) + over
    superheat = over / fluid.at("vapour_heat", boiling)
    liquid = fluid.at("liquid", condensing) + below
    subcooling = -below / fluid.at("liquid_heat", condensing)
    liquid_temperature = condensing - np.maximum(subcooling, 0.0)
    suction = boiling - unit["suction_drop"]
    gain = unit["suction_gain"] * (run["outdoor"] - boiling) / 45.0
    gas = superheat + gain + unit["suction_drop"]
    flow, work = _compress(fluid, unit, run, (suction, gas, high * (1.0 + run["foreign"])))
    inlet = leaving + gain * fluid.at("vapour_heat", boiling)
    discharged = inlet + work * (1.0 - unit["shell_loss"])
    gauge = high * (1.0 + run["foreign"])
    relative = np.abs(flow) / unit["flow"]
    after = gauge - relative**2 * (run["restriction"] * unit["lift"] + unit["drier_loss"])
    at_meter = fluid.temperature(after)
    meter = _meter(fluid, has_valve, unit, run, (after, low, liquid_temperature, at_meter, subcooling, superheat))
    coil_out, supply, supply_ratio = _indoor(fluid, unit, run, flow, boiling, liquid)
    outdoor_out, leaving_air = _outdoor(fluid, unit, run, flow, condensing, discharged)
    kept = unit["charge_scale"] * (run["charge"] - 1.0)
    held = (subcooling - unit["subcooling"]) - unit["superheat_holds"] * (superheat - unit["superheat"])
    held = held + unit["head_holds"] * (condensing - unit["condensing"])
    residual = np.stack(
        [
            (meter - flow) / unit["flow"],
            (coil_out - leaving) / 1.6e5,
            (outdoor_out - liquid) / 1.6e5,
            (held - kept) / unit["charge_scale"],
        ]
    )
    return Solved(
        {
            "suction_saturation": suction,
            "gauge": gauge,
            "suction_line": suction + np.maximum(gas, 0.0),
            "liquid_line": liquid_temperature,
            "discharge": condensing + (discharged - fluid.at("vapour", condensing)) / unit["discharge_heat"],
            "supply": supply + unit["blower_rise"] / run["indoor_flow"],
            "supply_ratio": supply_ratio,
            "leaving_air": leaving_air,
            "power": flow * work,
            "flow": flow,
            "drier_outlet": np.minimum(liquid_temperature, at_meter),
            "superheat": superheat,
            "coil_out": coil_out,
            "outdoor_out": outdoor_out,
            "meter": meter,
        },
        residual,
    )


def _compress(
    fluid: Saturation, unit: Machine, run: Machine, state: tuple[Array, Array, Array]
) -> tuple[Array, Array]:
    """Mass flow [kg/s] and work [J/kg] by clearance and an efficiency that falls either side of its best ratio."""
    suction, superheat, high = state
    low = fluid.at("pressure", suction)
    density = fluid.at("vapour_density", suction) * suction / (suction + np.maximum(superheat, -5.0))
    ratio = np.maximum(high / low, 1.05)
    volume = 1.0 - unit["clearance"] * (ratio ** (1.0 / ADIABATIC) - 1.0)
    pumped = unit["displacement"] * density * volume
    exponent = (ADIABATIC - 1.0) / ADIABATIC
    ideal = (ratio**exponent - 1.0) * low / density / exponent
    efficiency = unit["efficiency"] - unit["efficiency_fall"] * (ratio - unit["best_ratio"]) ** 2
    work = ideal / np.maximum(efficiency, 0.25)
    # What leaks back is warm: it takes place in the cylinder and heats what is drawn in.
    leak = run["leakage"]
    flow = pumped * (1.0 - leak) * (1.0 - 0.25 * leak)
    return flow, work * (1.0 + leak / (1.0 - leak))


def _meter(fluid: Saturation, has_valve: bool, unit: Machine, run: Machine, state: tuple[Array, ...]) -> Array:
    after, low, liquid_temperature, at_meter, subcooling, superheat = state
    density = fluid.at("liquid_density", liquid_temperature)
    pushed = np.sqrt(np.maximum(after - low, 1e3) * density)
    here = np.where(subcooling > 0.0, at_meter - liquid_temperature, subcooling)
    # Vapour at the inlet takes the room of much liquid.
    dry = np.logaddexp(0.0, (1.0 + unit["subcool_feeds"] * here - 0.25) * 8.0) / 8.0 + 0.25
    if not has_valve:
        return unit["area"] * run["area"] * pushed * dry
    wanted = unit["static"] + run["static_shift"]
    lift = (superheat - wanted) / (unit["superheat"] - unit["static"])
    most = unit["most_open"] * run["opening"]
    opened = most - np.logaddexp(0.0, (most - np.logaddexp(0.0, 6.0 * lift) / 6.0) * 6.0) / 6.0
    return unit["area"] * np.maximum(opened, 0.02) * pushed * dry


def _indoor(
    fluid: Saturation, unit: Machine, run: Machine, flow: Array, boiling: Array, entering: Array
) -> tuple[Array, Array, Array]:
    """Enthalpy of the refrigerant leaving, and temperature and humidity ratio of the air leaving."""
    moved = unit["air"] * run["indoor_flow"] * run["pressure"] / 101_325.0
    dry, ratio = run["return_dry_bulb"], run["return_ratio"]
    enthalpy = humid_enthalpy(dry, ratio)
    share = moved / SEGMENTS
    contact = 1.0 - np.exp(-unit["contact"] * run["indoor_flow"] ** -0.45)
    gas, heat = fluid.at("vapour", boiling), fluid.at("vapour_heat", boiling)
    latent = gas - fluid.at("liquid", boiling)
    h = entering
    total = sensible = 0.0
    for _ in range(SEGMENTS):
        dryness = 1.0 / (1.0 + np.exp(-np.clip((h - gas) / latent * 40.0, -40.0, 40.0)))
        cold = boiling + np.maximum(h - gas, 0.0) / heat
        resistance = unit["inside_resistance"] * SEGMENTS * (1.0 + unit["gas_resistance"] * dryness)
        q_dry = _through(contact * share * AIR_HEAT, dry - cold, resistance, 1.0)
        edge = humid_enthalpy(cold, saturated_ratio(cold, run["pressure"]))
        slope = humid_enthalpy(cold + 1.0, saturated_ratio(cold + 1.0, run["pressure"])) - edge
        q_wet = contact * share * (enthalpy - edge) / (1.0 + contact * share * slope * resistance)
        q = np.maximum(q_dry, q_wet)
        room = np.maximum(flow, 1e-4) * heat * np.maximum(dry - cold, 0.1)
        q = np.where(dryness > 0.5, np.minimum(q, room), q)
        surface = cold + q * resistance
        total = total + q
        sensible = sensible + np.minimum(contact * share * AIR_HEAT * (dry - surface), q)
        h = h + q / np.maximum(flow, 1e-4)
    supply = dry - sensible / (moved * AIR_HEAT)
    left = np.maximum(total - sensible, 0.0)
    return h, supply, np.maximum(ratio - left / (moved * 2.47e6), 1e-4)


def _through(conductance: Array, difference: Array, resistance: Array, scale: float) -> Array:
    return conductance * difference / (1.0 + scale * conductance * resistance)


def _outdoor(
    fluid: Saturation, unit: Machine, run: Machine, flow: Array, condensing: Array, entering: Array
) -> tuple[Array, Array]:
    """Enthalpy of the refrigerant leaving the outdoor coil, and temperature of the air leaving it [K]."""
    speed = run["outdoor_flow"]
    heat_rate = unit["outdoor_air"] * speed * run["pressure"] / 101_325.0 * AIR_HEAT / SEGMENTS
    transfer = unit["outdoor_transfer"] * speed**-0.5 * run["fin_share"] / (1.0 + 0.4 * run["foreign"])
    gas, liquid = fluid.at("vapour", condensing), fluid.at("liquid", condensing)
    gas_heat, liquid_heat = unit["discharge_heat"], fluid.at("liquid_heat", condensing)
    latent = gas - liquid
    h, moved = entering, np.maximum(flow, 1e-4)
    for _ in range(SEGMENTS):
        dry = 1.0 / (1.0 + np.exp(-np.clip((h - gas) / latent * 40.0, -40.0, 40.0)))
        wet = 1.0 / (1.0 + np.exp(-np.clip((liquid - h) / latent * 40.0, -40.0, 40.0)))
        warm = condensing + np.maximum(h - gas, 0.0) / gas_heat - np.maximum(liquid - h, 0.0) / liquid_heat
        factor = 1.0 - (1.0 - unit["gas_share"]) * dry - (1.0 - unit["liquid_share"]) * wet
        rate = heat_rate * (1.0 - np.exp(-transfer * factor))
        own = moved * (dry * gas_heat + wet * liquid_heat) + 1e6 * (1.0 - np.maximum(dry, wet)) ** 2
        h = h - own * (1.0 - np.exp(-rate / np.maximum(own, 1e-3))) * (warm - run["outdoor"]) / moved
    leaving = run["outdoor"] + moved * (entering - h) / (heat_rate * SEGMENTS)
    return h, leaving
