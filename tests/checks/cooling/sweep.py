"""Random visits: gauges, lines, airs, equipment and what was seen, some of it missing, some of it wrong."""

from random import Random
from typing import Any

from service.knowledge.refrigerants import all_refrigerants, find

DEVICES = ("fixed_orifice", "capillary_tube", "thermostatic_expansion_valve", "electronic_expansion_valve")
KEPT = 0.8
POWER, FLOW = [500.0, 2, 15] + [0.0] * 7, [200.0, 6, -0.5] + [0.0] * 7
SEEN = ("filter_dirty", "outdoor_coil_dirty", "indoor_coil_dirty", "ice_on_coil", "ice_on_suction_line")


COMMON = ("R-22", "R-410A", "R-407C", "R-32", "R-454B")


def random_document(seed: int) -> dict[str, Any]:
    """A visit document in the default units: two of three thrown together, the third from a believable unit."""
    random = Random(seed)
    return believable_document(random) if seed % 3 == 0 else wild_document(random)


def believable_document(random: Random) -> dict[str, Any]:
    """A unit whose superheat, subcooling and airs lie round what they should be, with one thing seen at most."""
    name, device = random.choice(COMMON), random.choice(DEVICES)
    curve = find(name).saturation
    outdoor, wet_bulb = random.uniform(60, 110), random.uniform(58, 74)
    suction, liquid = random.gauss(278.0, 3.0), (outdoor + random.gauss(18, 4)) / 1.8 + 255.37
    return {
        "equipment": {"refrigerant": name, "metering_device": device, "target_subcooling": 10},
        "running": {
            "minutes_running": 20,
            "suction_pressure": _psig(curve.dew_pressure(suction), 14.696),
            "liquid_pressure": _psig(curve.bubble_pressure(liquid), 14.696),
            "suction_line_temperature": _fahrenheit(suction) + random.gauss(13, 9),
            "liquid_line_temperature": _fahrenheit(liquid) - random.gauss(10, 5),
        },
        "air": {
            "outdoor_dry_bulb": outdoor,
            "return_dry_bulb": wet_bulb + 12,
            "return_wet_bulb": wet_bulb,
            "supply_dry_bulb": wet_bulb - random.gauss(7, 2),
        },
        "inspection": {random.choice(SEEN): random.random() < 0.3},
    }


def wild_document(random: Random) -> dict[str, Any]:
    """Readings thrown together from the whole of what instruments can show, some of them missing."""
    refrigerant = random.choice([item for item in all_refrigerants() if item.designation != "R-744"])
    curve = refrigerant.saturation
    suction = random.uniform(max(curve.lowest_temperature, 240.0), min(curve.highest_temperature, 295.0))
    liquid = random.uniform(min(290.0, curve.highest_temperature - 10.0), min(curve.highest_temperature, 335.0))
    parts = {
        "equipment": _equipment(random, refrigerant.designation),
        "running": _running(random, curve, suction, liquid),
        "air": _air(random),
        "standing": _standing(random, curve),
        "start_up": _start_up(random),
        "inspection": {name: random.random() < 0.2 for name in SEEN},
        "complaint": {"charge_added_recently": random.random() < 0.5},
        "electrical": {"currents": {"compressor_amps": random.uniform(0, 60), "compressor_watts": 2500.0}},
        "site": {"elevation": random.uniform(0, 6000)},
    }  # fmt: skip
    return {name: _thinned(random, part) for name, part in parts.items() if random.random() < KEPT}


def _psig(pressure: float, air: float = 12.0) -> float:
    """[Pa] -> what a gauge shows where the air has that pressure [psi]; 12 psi is somewhere up a hill."""
    return pressure / 6894.757 - air


def _fahrenheit(kelvin: float) -> float:
    return kelvin * 1.8 - 459.67


def _thinned(random: Random, part: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in part.items() if random.random() < KEPT}


def _equipment(random: Random, designation: str) -> dict[str, Any]:
    return {
        "refrigerant": designation,
        "metering_device": random.choice(DEVICES),
        "target_subcooling": random.uniform(5, 15),
        **({"target_superheat": random.uniform(3, 25)} if random.random() < 0.3 else {}),
        **({"mode": "heating"} if random.random() < 0.1 else {}),
        **({"metering_location": "outdoor"} if random.random() < 0.1 else {}),
        **({"head_pressure_control": "fan_cycling"} if random.random() < 0.1 else {}),
        "rated_capacity": random.uniform(12e3, 60e3),
        "seer": random.uniform(7, 20),
        "oil": random.choice(("mineral", "poe", "pve")),
        "compressor": {
            "type": random.choice(("scroll", "reciprocating", "rotary")),
            "drive": random.choice(("single_phase", "single_phase", "three_phase", "inverter")),
            "rated_load_amps": 15,
            "locked_rotor_amps": 80,
            "rating_coefficients": {"power": POWER, "mass_flow": FLOW},
        },
    }


def _running(random: Random, curve: Any, suction: float, liquid: float) -> dict[str, Any]:
    return {
        "minutes_running": random.choice((5, 15, 20, 40)),
        "suction_pressure": _psig(curve.dew_pressure(suction)),
        "liquid_pressure": _psig(curve.bubble_pressure(liquid)),
        "discharge_pressure": _psig(curve.bubble_pressure(liquid)) + random.uniform(-5, 20),
        "suction_line_temperature": _fahrenheit(suction) + random.gauss(12, 12),
        "liquid_line_temperature": _fahrenheit(liquid) - random.gauss(9, 8),
        "discharge_line_temperature": _fahrenheit(liquid) + random.uniform(-10, 140),
        "evaporator_outlet_temperature": _fahrenheit(suction) + random.gauss(10, 8),
        "drier_inlet_temperature": 100 + random.gauss(0, 5),
        "drier_outlet_temperature": 99 + random.gauss(0, 5),
        "outdoor_fan_on": random.random() < 0.9,
        "reversing_valve_suction_in_temperature": 50 + random.gauss(0, 3),
        "reversing_valve_suction_out_temperature": 51 + random.gauss(0, 4),
        "pump_down_suction_pressure": random.uniform(-10, 60),
        "pump_down_holds": random.random() < 0.7,
    }


def _air(random: Random) -> dict[str, Any]:
    dry = random.uniform(62, 95)
    supply = dry - random.gauss(18, 6)
    return {
        "outdoor_dry_bulb": random.uniform(45, 118),
        "condenser_leaving_dry_bulb": random.uniform(60, 130),
        "return_dry_bulb": dry,
        "return_wet_bulb": dry - random.uniform(0, 22),
        "return_relative_humidity": random.uniform(15, 95),
        "supply_dry_bulb": supply,
        "supply_wet_bulb": supply - random.uniform(0, 4),
        "airflow": random.uniform(300, 2200),
        "static_return": random.uniform(-0.8, 0.2),
        "static_supply": random.uniform(0, 0.8),
        "static_rated": 0.5,
        "filter_drop": random.uniform(0, 0.6),
        "coil_drop": random.uniform(0, 0.6),
    }


def _standing(random: Random, curve: Any) -> dict[str, Any]:
    ambient = random.uniform(285, min(curve.highest_temperature, 312))
    pressure = curve.dew_pressure(ambient) * random.choice((0.3, 0.97, 1.0, 1.05, 1.2))
    return {
        "pressure": _psig(pressure),
        "ambient_temperature": _fahrenheit(ambient),
        "indoor_temperature": random.uniform(60, 85),
        "minutes_off": random.choice((5, 15, 60)),
    }


def _start_up(random: Random) -> dict[str, Any]:
    before = random.uniform(60, 180)
    return {
        "suction_pressure_before": before,
        "liquid_pressure_before": before + random.gauss(0, 5),
        "suction_pressure_after": before - random.choice((-40, 0, 3, 40)),
        "liquid_pressure_after": before + random.choice((-40, 0, 3, 90)),
        "sound": random.choice(("normal", "hum", "buzz", "rattle", "click_off")),
        "seconds_after": random.choice((5, 30, 60)),
    }
