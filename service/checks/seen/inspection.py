"""What eye and hand found: terminals, contacts, capacitor can, coils, filter, ice, oil, drain."""

from service.checks.electrical.shell import HOT, UNKNOWN, shell_state
from service.results.finding import Finding, State
from service.results.record import Record
from service.results.visit import Visit
from service.results.visit.kept import kept
from service.verdicts.mode import asks_heating
from service.verdicts.report import Checked, report

Seen = str | bool


class Sign(Record):
    """What one value of one member of `inspection` means; variant as in the `detail` of its row."""

    member: str
    value: Seen
    code: str
    state: State
    variant: str = ""


def _yes_no(member: str, code: str, seen: State) -> tuple[Sign, Sign]:
    return Sign(member, True, code, seen), Sign(member, False, code, State.PASS)


FROST = ("inspection.ice-on-suction-line", "inspection.ice-on-coil")
OUTDOOR_ICE = "inspection.outdoor-coil-iced"
SIGNS = (
    Sign("terminals", "sound", "inspection.terminals", State.PASS),
    Sign("terminals", "loose", "inspection.terminals", State.FAIL, "loose"),
    Sign("terminals", "burnt", "inspection.terminals", State.FAIL, "burnt"),
    Sign("terminals", "oily", "inspection.terminals", State.FAIL, "oily"),
    Sign("contactor_contacts", "clean", "inspection.contacts-worn", State.PASS),
    Sign("contactor_contacts", "pitted", "inspection.contacts-worn", State.REVIEW),
    Sign("contactor_contacts", "burnt", "inspection.contacts-worn", State.FAIL),
    Sign("contactor_contacts", "welded", "inspection.contacts-welded", State.FAIL),
    Sign("contactor_contacts", "insects", "inspection.contactor-blocked", State.FAIL),
    Sign("capacitor_case", "sound", "inspection.capacitor-case", State.PASS),
    Sign("capacitor_case", "bulged", "inspection.capacitor-case", State.FAIL, "bulged"),
    Sign("capacitor_case", "leaking", "inspection.capacitor-case", State.FAIL, "leaking"),
    Sign("capacitor_case", "burnt", "inspection.capacitor-case", State.FAIL, "burnt"),
    *_yes_no("oil_stains", "inspection.oil-stains", State.REVIEW),
    *_yes_no("ice_on_suction_line", "inspection.ice-on-suction-line", State.REVIEW),
    *_yes_no("ice_on_coil", "inspection.ice-on-coil", State.REVIEW),
    Sign("outdoor_coil_ice", "clear", "inspection.outdoor-coil-iced", State.PASS),
    Sign("outdoor_coil_ice", "frost", "inspection.outdoor-coil-iced", State.PASS, "frost"),
    Sign("outdoor_coil_ice", "iced", "inspection.outdoor-coil-iced", State.FAIL),
    *_yes_no("filter_dirty", "inspection.filter-dirty", State.FAIL),
    *_yes_no("outdoor_coil_dirty", "inspection.outdoor-coil-dirty", State.FAIL),
    *_yes_no("indoor_coil_dirty", "inspection.indoor-coil-dirty", State.FAIL),
    *_yes_no("fan_blade_damaged", "inspection.fan-blade-damaged", State.FAIL),
    Sign("valve_bulb", "tight", "inspection.valve-bulb", State.PASS),
    Sign("valve_bulb", "loose", "inspection.valve-bulb", State.FAIL, "loose"),
    Sign("valve_bulb", "uninsulated", "inspection.valve-bulb", State.FAIL, "uninsulated"),
    Sign("condensate", "draining", "inspection.condensate", State.PASS),
    Sign("condensate", "overflowing", "inspection.condensate", State.FAIL),
    Sign("sight_glass", "clear", "inspection.sight-glass", State.PASS),
    Sign("sight_glass", "bubbles", "inspection.sight-glass", State.REVIEW),
)


@kept
def check_inspection(visit: Visit) -> Checked:
    """One finding for each thing looked at; what it means for charge and air is weighed with the readings.

    Source: common practice; E23, K06 and E03 of the electrical patterns.
    """
    found = tuple(
        report(sign.code, sign.state, (f"/inspection/{sign.member}",), variant=sign.variant)
        for sign in SIGNS
        if getattr(visit.inspection, sign.member) == sign.value
    )
    return Checked(tuple(_in_its_mode(visit, item) for item in found) + _shell(visit))


def _in_its_mode(visit: Visit, finding: Finding) -> Finding:
    """In heating the outdoor coil boils the refrigerant: frost on the lines is ordinary and says nothing. In
    cooling it condenses: frost there says that the unit heats."""
    pointers, ice = (*finding.evidence, "/equipment/mode"), visit.inspection.outdoor_coil_ice
    if asks_heating(visit) and finding.code in FROST and finding.state is State.REVIEW:
        return report(finding.code, State.NOT_APPLICABLE, pointers, variant="heating")
    if finding.code == OUTDOOR_ICE and not asks_heating(visit) and ice != "clear":
        return report(finding.code, State.REVIEW, finding.evidence, variant="cooling")
    return finding


def _shell(visit: Visit) -> tuple[Finding, ...]:
    """A hot shell burns the hand and says that no open winding counts yet."""
    names = ("shell_touch", "shell_temperature")
    evidence = tuple(f"/inspection/{name}" for name in names if getattr(visit.inspection, name) is not None)
    if not evidence or shell_state(visit) == UNKNOWN:
        return ()
    state = State.REVIEW if shell_state(visit) == HOT else State.PASS
    return (report("inspection.shell-hot", state, evidence),)
