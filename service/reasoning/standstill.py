"""A unit that must not be left under power until its cause is mended, though no hold stands.

A motor that hums and does not turn draws locked-rotor current: its protector trips and its windings overheat at
every try. A compressor whose outdoor fan stands runs into its high-pressure switch, one whose indoor blower stands
freezes the coil and floods back, and one that may turn backwards pumps no oil. A technician may put power on for
the seconds of a test; nobody leaves it on, watched or not. Source: common practice, no source.
"""

from collections.abc import Sequence

from service.results.finding import Finding, State
from service.results.visit import Visit

HUMS = frozenset({"hum", "buzz", "click_off"})
# Findings that show a motor standing or turning backwards, and states in which they do.
STANDING = {
    "currents.locked-rotor": (State.FAIL,),
    "start-up.rotor-locked": (State.FAIL,),
    "start-up.rotation": (State.REVIEW,),
    "running.outdoor-fan-off": (State.FAIL,),
    "fans.outdoor-runs": (State.FAIL,),
    "fans.outdoor-seized": (State.FAIL,),
    "fans.outdoor-needs-push": (State.REVIEW,),
    "fans.blower-runs": (State.FAIL,),
    "fans.blower-seized": (State.FAIL,),
}
COMPRESSOR_TURNS, FAN_TURNS, BLOWER_TURNS = "currents.compressor-normal", "fans.outdoor-runs", "fans.blower-runs"
PUMPS = "start-up.pumps"
# A motor with a failed capacitor or too little voltage is taken to stand until it was read running.
NEEDED = {"capacitors.compressor": COMPRESSOR_TURNS, "capacitors.not-named": COMPRESSOR_TURNS}
NEEDED |= {"supply.voltage-low": COMPRESSOR_TURNS, "supply.start-sag": COMPRESSOR_TURNS}
NEEDED |= {"capacitors.outdoor-fan": FAN_TURNS, "capacitors.indoor-blower": BLOWER_TURNS}
# What the customer reports, and the reading that shows otherwise.
REPORTED = {
    "hums_no_start": COMPRESSOR_TURNS,
    "outdoor_fan_stopped": FAN_TURNS,
    "indoor_fan_stopped": BLOWER_TURNS,
}


def stands_still(visit: Visit, findings: Sequence[Finding]) -> bool:
    """True while a motor stands, by what was read, or by what is reported and nothing read has cleared."""
    turning = _turning(visit, findings)
    if any(item.state in STANDING.get(item.code, ()) for item in findings):
        return True
    failed = {item.code for item in findings if item.state is State.FAIL}
    if any(code in failed and motor not in turning for code, motor in NEEDED.items()):
        return True
    return hums(visit, findings) or any(
        motor not in turning for symptom, motor in REPORTED.items() if symptom in visit.complaint.symptoms
    )


def hums(visit: Visit, findings: Sequence[Finding]) -> bool:
    """True while the compressor is heard or reported to hum and nothing read shows it turning."""
    heard = visit.start_up.sound in HUMS or "hums_no_start" in visit.complaint.symptoms
    return heard and COMPRESSOR_TURNS not in _turning(visit, findings)


def _turning(visit: Visit, findings: Sequence[Finding]) -> frozenset[str]:
    """Which motors were read turning, by the finding that shows it; running gauges show the compressor."""
    passed = {item.code for item in findings if item.state is State.PASS}
    running = visit.running
    gauges = running.suction_pressure is not None and running.liquid_pressure is not None
    shown = {code for code in (COMPRESSOR_TURNS, FAN_TURNS, BLOWER_TURNS) if code in passed}
    shown |= {COMPRESSOR_TURNS} if PUMPS in passed or gauges else set()
    return frozenset(shown | ({FAN_TURNS} if running.outdoor_fan_on else set()))
