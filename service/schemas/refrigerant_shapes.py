"""The shapes of the refrigerants, of their saturation tables and of saturation points."""

from dataclasses import dataclass, make_dataclass
from typing import Any

from service.results.declare import member
from service.schemas.answer_shape import UnitsAnswer
from service.schemas.item_shapes import ProvenanceShape, always


@dataclass(frozen=True)
class ShareShape:
    """A component of a blend."""

    component: str = always("text", "Designation of the component.")
    mass_percent: float = always("number", "Share by mass in percent.")


@dataclass(frozen=True)
class WarmingShape:
    """Global warming potential over 100 years."""

    ar4: float = always("number", "By the fourth assessment report of the IPCC.")
    ar5: float = always("number", "By the fifth assessment report of the IPCC.")


@dataclass(frozen=True)
class GlideShape:
    """Dew less bubble temperature at one pressure, in K."""

    at_dew_5_c: float = always("number", "At the pressure of 5 degC dew.")
    at_bubble_40_c: float | None = member("number", "At the pressure of 40 degC bubble; absent above the range.")


@dataclass(frozen=True)
class CriticalPointShape:
    """The critical point."""

    temperature: float = always("number", "In degC.")
    pressure: float = always("number", "In kPa absolute.")


@dataclass(frozen=True)
class ValidRangeShape:
    """What can be computed; outside it is refused, never extrapolated."""

    lowest_temperature: float = always("number", "In degC.")
    highest_temperature: float = always("number", "In degC.")
    lowest_pressure: float = always("number", "In kPa absolute.")
    highest_pressure: float = always("number", "In kPa absolute.")


_SOURCED = (
    "composition",
    "safety_class",
    "gwp",
    "oils",
    "charging_phase",
    "pressure_class",
    "glide",
    "critical_point",
    "lower_flammability_limit",
    "room_rule_limit",
    "saturation",
    "transport",
)
RefrigerantSourcesShape = make_dataclass(
    "RefrigerantSourcesShape",
    [(name, str, member("text", f"Source of `{name}`.")) for name in _SOURCED],
    frozen=True,
    namespace={"__doc__": "Where the facts come from, by member."},
)


@dataclass(frozen=True)
class TransportShape:
    """What stands on a cylinder's label and papers."""

    un_number: int = always("integer", "UN number.", low=1, high=9999)
    name: str = always("text", "Proper shipping name.")
    division: str = always("text", "Hazard division: 2.1 flammable gas, 2.2 non-flammable gas.")


@dataclass(frozen=True)
class RefrigerantUnitsShape:
    """Units of this description, the same for every caller."""

    temperature: str = always("text", "Unit of temperatures: degC.")
    pressure: str = always("text", "Unit of pressures: kPa, absolute.")
    glide: str = always("text", "Unit of glides: K.")
    flammability_limit: str = always("text", "Unit of flammability limits: kg/m3.")


REFRIGERANT_MEMBERS: list[tuple[str, Any, Any]] = [
    ("designation", str, always("text", "ASHRAE 34 designation.")),
    ("kind", str, always("choice", "Pure fluid or blend.", choices=("pure", "blend"))),
    ("composition", tuple, always("parts", "Components by mass.", part=ShareShape)),
    ("safety_class", str, always("text", "ASHRAE 34 safety class, e.g. A1, A2L, A3.")),
    ("gwp", object, always("object", "Global warming potential.", part=WarmingShape)),
    ("ozone_depleting", bool, always("boolean", "It depletes the ozone layer.")),
    ("oils", tuple, always("texts", "Oils that it is used with: mineral, alkylbenzene, poe, pve.")),
    ("charging_phase", str, always("choice", "How it leaves the cylinder.", choices=("liquid", "either"))),
    ("pressure_class", str, always("choice", "Pressure class.", choices=("low", "medium", "high", "very_high"))),
    ("glide", object, always("object", "Temperature glide.", part=GlideShape)),
    ("critical_point", object, always("object", "Critical point.", part=CriticalPointShape)),
    ("valid_range", object, always("object", "What can be computed.", part=ValidRangeShape)),
    ("cautions", tuple, always("texts", "Codes of the cautions that belong to it.")),
    ("sources", object, always("object", "Where the facts come from.", part=RefrigerantSourcesShape)),
    ("units", object, always("object", "Units of this description.", part=RefrigerantUnitsShape)),
    ("lower_flammability_limit", float, member("number", "In kg/m3; absent where it does not burn.")),
    (
        "saturation_uncertainty_percent",
        float,
        member("number", "How far its saturation pressures may be off; absent where well below a gauge's error."),
    ),
    ("transport", object, member("object", "Label and papers; absent where not known.", part=TransportShape)),
]
_PROVENANCE = ("provenance", object, always("object", "What gave the answer.", part=ProvenanceShape))
RefrigerantRow = make_dataclass(
    "RefrigerantRow", REFRIGERANT_MEMBERS, frozen=True, namespace={"__doc__": "A refrigerant of the list."}
)
Refrigerant = make_dataclass(
    "Refrigerant", [*REFRIGERANT_MEMBERS, _PROVENANCE], frozen=True, namespace={"__doc__": "A refrigerant."}
)


@dataclass(frozen=True)
class NotComputedShape:
    """A refrigerant that is refused by name."""

    designation: str = always("text", "ASHRAE 34 designation.")
    reason: str = always("text", "Why it cannot be computed.")


@dataclass(frozen=True)
class RefrigerantListShape:
    """Every refrigerant that can be computed, and those that are refused by name."""

    refrigerants: tuple[Any, ...] = always("parts", "What can be computed.", part=RefrigerantRow)
    not_computed: tuple[Any, ...] = always("parts", "What is refused by name.", part=NotComputedShape)
    provenance: Any = always("object", "What gave the list.", part=ProvenanceShape)


@dataclass(frozen=True)
class TableRowShape:
    """Saturation pressures at one temperature."""

    temperature: float = always("number", "In the unit asked for.")
    bubble_pressure: float = always("number", "Pressure at which the first vapour appears.")
    dew_pressure: float = always("number", "Pressure at which the last liquid disappears.")


@dataclass(frozen=True)
class TableUnitsShape:
    """Units of the table."""

    temperature: str = always("text", "As asked for.")
    pressure: str = always("text", "As asked for.")


@dataclass(frozen=True)
class SaturationTableShape:
    """Saturation pressures by temperature; gauge pressures at standard sea-level pressure."""

    refrigerant: str = always("text", "ASHRAE 34 designation.")
    rows: tuple[Any, ...] = always("parts", "By rising temperature.", part=TableRowShape)
    units: Any = always("object", "Units of the rows.", part=TableUnitsShape)
    provenance: Any = always("object", "What gave the table.", part=ProvenanceShape)


@dataclass(frozen=True)
class SaturationPointAnswer:
    """A point as posted with what follows: temperatures for a pressure, pressures for a temperature."""

    pressure: float | None = member("number", "As posted.")
    temperature: float | None = member("number", "As posted.")
    bubble_temperature: float | None = member("number", "Bubble (saturated liquid) temperature at the pressure.")
    dew_temperature: float | None = member("number", "Dew (saturated vapour) temperature at the pressure.")
    bubble_pressure: float | None = member("number", "Bubble (saturated liquid) pressure at the temperature.")
    dew_pressure: float | None = member("number", "Dew (saturated vapour) pressure at the temperature.")


@dataclass(frozen=True)
class SaturationAnswer:
    """Saturation points in the order posted, plain numbers in the units of the request."""

    refrigerant: str = always("text", "ASHRAE 34 designation.")
    points: tuple[Any, ...] = always("parts", "In the order posted.", part=SaturationPointAnswer)
    units: Any = always("object", "The units of the answer.", part=UnitsAnswer)
    provenance: Any = always("object", "What gave the answer.", part=ProvenanceShape)
