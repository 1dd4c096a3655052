"""Refrigerants: temperatures in degC, pressures in kPa absolute, whoever asks."""

from __future__ import annotations

from service.results.declare import sent, sent_if_known
from service.results.provenance import Provenance
from service.results.record import Record, field
from service.schemas.lists.codes import GAVE


class BlendComponent(Record):
    """A component of a blend."""

    component: str = field(metadata=sent("text", "Designation of the component."))
    mass_percent: float = field(metadata=sent("number", "Share by mass in percent."))


class GlobalWarmingPotential(Record):
    """Global warming potential over 100 years."""

    ar4: float = field(metadata=sent("number", "By the fourth assessment report of the IPCC.", decimals=1))
    ar5: float = field(metadata=sent("number", "By the fifth assessment report of the IPCC.", decimals=1))


class Glide(Record):
    """Dew less bubble temperature at one pressure, in K."""

    at_dew_5_c: float = field(metadata=sent("number", "At the pressure of 5 degC dew.", decimals=2))
    at_bubble_40_c: float | None = field(
        metadata=sent_if_known("number", "At the pressure of 40 degC bubble; absent above the range.", decimals=2)
    )


class CriticalPoint(Record):
    """The critical point."""

    temperature: float = field(metadata=sent("number", "In degC."))
    pressure: float = field(metadata=sent("number", "In kPa absolute."))


class ValidRange(Record):
    """What can be computed; outside it is refused, never extrapolated."""

    lowest_temperature: float = field(metadata=sent("number", "In degC."))
    highest_temperature: float = field(metadata=sent("number", "In degC."))
    lowest_pressure: float = field(metadata=sent("number", "In kPa absolute."))
    highest_pressure: float = field(metadata=sent("number", "In kPa absolute."))


class RefrigerantSources(Record):
    """Where the facts come from, by member."""

    composition: str = field(metadata=sent("text", "Source of `composition`."))
    safety_class: str = field(metadata=sent("text", "Source of `safety_class`."))
    gwp: str = field(metadata=sent("text", "Source of `gwp`."))
    oils: str = field(metadata=sent("text", "Source of `oils`."))
    charging_phase: str = field(metadata=sent("text", "Source of `charging_phase`."))
    pressure_class: str = field(metadata=sent("text", "Source of `pressure_class`."))
    glide: str = field(metadata=sent("text", "Source of `glide`."))
    critical_point: str = field(metadata=sent("text", "Source of `critical_point`."))
    lower_flammability_limit: str = field(
        default="", metadata=sent_if_known("text", "Source of `lower_flammability_limit`.")
    )
    room_rule_limit: str = field(default="", metadata=sent_if_known("text", "Source of `room_rule_limit`."))
    saturation: str = field(default="", metadata=sent_if_known("text", "Source of the saturation tables."))
    transport: str = field(default="", metadata=sent_if_known("text", "Source of `transport`."))


class Transport(Record):
    """What stands on a cylinder's label and papers."""

    un_number: int = field(metadata=sent("integer", "UN number.", low=1, high=9999))
    name: str = field(metadata=sent("text", "Proper shipping name."))
    division: str = field(metadata=sent("text", "Hazard division: 2.1 flammable gas, 2.2 non-flammable gas."))


class RefrigerantUnits(Record):
    """Units of this description, the same for every caller."""

    temperature: str = field(default="degC", metadata=sent("text", "Unit of temperatures: degC."))
    pressure: str = field(default="kPa", metadata=sent("text", "Unit of pressures: kPa, absolute."))
    glide: str = field(default="K", metadata=sent("text", "Unit of glides: K."))
    flammability_limit: str = field(default="kg/m3", metadata=sent("text", "Unit of flammability limits: kg/m3."))


class RefrigerantRow(Record):
    """A refrigerant of the list."""

    designation: str = field(metadata=sent("text", "ASHRAE 34 designation."))
    kind: str = field(metadata=sent("choice", "Pure fluid or blend.", choices=("pure", "blend")))
    composition: tuple[BlendComponent, ...] = field(
        metadata=sent("parts", "Components by mass.", part=BlendComponent)
    )
    safety_class: str = field(metadata=sent("text", "ASHRAE 34 safety class, e.g. A1, A2L, A3."))
    gwp: GlobalWarmingPotential = field(
        metadata=sent("object", "Global warming potential.", part=GlobalWarmingPotential)
    )
    ozone_depleting: bool = field(metadata=sent("boolean", "It depletes the ozone layer."))
    oils: tuple[str, ...] = field(
        metadata=sent("texts", "Oils that it is used with: mineral, alkylbenzene, poe, pve.")
    )
    charging_phase: str = field(
        metadata=sent("choice", "How it leaves the cylinder.", choices=("liquid", "either"))
    )
    pressure_class: str = field(
        metadata=sent("choice", "Pressure class.", choices=("low", "medium", "high", "very_high"))
    )
    glide: Glide = field(metadata=sent("object", "Temperature glide.", part=Glide))
    critical_point: CriticalPoint = field(metadata=sent("object", "Critical point.", part=CriticalPoint))
    valid_range: ValidRange = field(metadata=sent("object", "What can be computed.", part=ValidRange))
    cautions: tuple[str, ...] = field(metadata=sent("texts", "Codes of the cautions that belong to it."))
    sources: RefrigerantSources = field(
        metadata=sent("object", "Where the facts come from.", part=RefrigerantSources)
    )
    units: RefrigerantUnits = field(metadata=sent("object", "Units of this description.", part=RefrigerantUnits))
    lower_flammability_limit: float | None = field(
        metadata=sent_if_known("number", "Lower flammability limit in kg/m3; absent where it does not burn.")
    )
    room_rule_limit: float | None = field(
        metadata=sent_if_known(
            "number",
            "Flammability limit in the room rule of IEC 60335-2-40, in kg/m3; absent where it does not burn.",
        )
    )
    saturation_uncertainty_percent: float | None = field(
        metadata=sent_if_known(
            "number",
            "How far its saturation pressures may be off; absent where well below a gauge's error.",
        )
    )
    transport: Transport | None = field(
        metadata=sent_if_known("object", "Label and papers; absent where not known.", part=Transport)
    )


class Refrigerant(RefrigerantRow):
    """A refrigerant."""

    provenance: Provenance = field(metadata=sent("object", "What gave the answer.", part=Provenance))


class NotComputed(Record):
    """A refrigerant that is refused by name."""

    designation: str = field(metadata=sent("text", "ASHRAE 34 designation."))
    reason: str = field(metadata=sent("text", "Why it cannot be computed."))


class RefrigerantList(Record):
    """Every refrigerant that can be computed, and those that are refused by name."""

    refrigerants: tuple[RefrigerantRow, ...] = field(
        metadata=sent("parts", "What can be computed.", part=RefrigerantRow)
    )
    not_computed: tuple[NotComputed, ...] = field(
        metadata=sent("parts", "What is refused by name.", part=NotComputed)
    )
    provenance: Provenance = field(metadata=GAVE)
