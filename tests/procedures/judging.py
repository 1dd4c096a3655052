"""Runs a procedure on a wire document, says everything in English, and checks what holds for every answer."""

from typing import Any

from service.procedures.evacuation import evacuation
from service.procedures.leak_rate import leak_rate
from service.procedures.pressure_test import pressure_test
from service.procedures.recovery import recovery
from service.procedures.weighed_charge import weighed_charge
from service.results.procedures.evacuation import EvacuationRequest
from service.results.procedures.leak_rate import LeakRateRequest
from service.results.procedures.pressure_test import PressureTestRequest
from service.results.procedures.recovery import RecoveryRequest
from service.results.procedures.weighed_charge import WeighedChargeRequest
from service.results.units import POUND
from service.schemas.documents import load
from service.schemas.writing import written
from service.verdicts.report import Checked
from service.words.say import Speaker

PROCEDURES = {
    "pressure-test": (pressure_test, PressureTestRequest),
    "evacuation": (evacuation, EvacuationRequest),
    "weighed-charge": (weighed_charge, WeighedChargeRequest),
    "recovery": (recovery, RecoveryRequest),
    "leak-rate": (leak_rate, LeakRateRequest),
}
LB = POUND


class Judged:
    """An answer with easy access: states by code, texts, computed members in the caller's units."""

    def __init__(self, checked: Checked, computed: dict[str, Any], texts: dict[str, str]) -> None:
        self.checked = checked
        self.computed = computed
        self.texts = texts
        self.states = {finding.code: str(finding.state) for finding in checked.findings}
        self.variants = {finding.code: finding.variant for finding in checked.findings}
        self.missing = {item.pointer for item in checked.missing}
        self.assumed = {item.pointer for item in checked.assumptions}

    def value(self, name: str) -> float:
        return self.computed[name]["value"]


def judge(name: str, document: dict[str, Any]) -> Judged:
    procedure, form = PROCEDURES[name]
    request = load(form, document)
    checked = procedure(request)
    speaker = Speaker(request.units, request.site_pressure)
    texts = {finding.code: speaker.detail(finding) for finding in checked.findings}
    for finding in checked.findings:
        assert speaker.title("findings", finding.code)
        for pointer in finding.evidence:
            assert resolves(document, pointer), f"{finding.code}: {pointer} is not in the document"
    assert all(speaker.missing(item) for item in checked.missing)
    assert all(speaker.assumption(item) for item in checked.assumptions)
    for item in checked.missing:
        assert not resolves(document, item.pointer) or item.pointer == "/additions"
    return Judged(checked, written(checked.computed, speaker), texts)


def resolves(document: Any, pointer: str) -> bool:
    for token in pointer.split("/")[1:]:
        try:
            document = document[int(token)] if isinstance(document, list) else document[token]
        except (KeyError, IndexError):
            return False
    return True
