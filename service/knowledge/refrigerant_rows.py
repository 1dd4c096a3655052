"""What the data file says of each refrigerant, before any table is read."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from service.knowledge.yaml_files import read_yaml
from service.results.record import Record


class Component(Record):
    """A single substance from which refrigerants are made.

    Attributes:
        designation: ASHRAE Standard 34.
        fluid: name in the property library.
        gwp_ar4, gwp_ar5: global warming potential over 100 years, IPCC AR4 and AR5.
        ozone_depleting: whether it holds chlorine or bromine that harms the ozone layer.
    """

    designation: str
    fluid: str
    gwp_ar4: float
    gwp_ar5: float
    ozone_depleting: bool


class Share(Record):
    """A component's part in a refrigerant [percent of mass]."""

    designation: str
    mass_percent: float


class Transport(Record):
    """UN number, proper shipping name and hazard division (2.1 flammable gas, 2.2 non-flammable gas)."""

    un_number: int
    name: str
    division: str


class RefrigerantRow(Record):
    """One row of the data file; `pseudo_pure` names the property library's equation, empty if mixed.

    saturation_percent: how far the saturation pressures of its table may be off [percent]; 0 where it is well
    below what a gauge reads. transport: None where the number was not found.
    """

    designation: str
    composition: tuple[Share, ...]
    pseudo_pure: str
    safety_class: str
    lower_flammability_limit: float | None
    room_rule_limit: float | None
    oils: tuple[str, ...]
    spellings: tuple[str, ...]
    saturation_percent: float = 0.0
    transport: Transport | None = None


class NotComputed(Record):
    """A refrigerant that is known by name and refused, with the reason."""

    designation: str
    composition: tuple[Share, ...]
    reason: str


class RefrigerantData(Record):
    """The whole data file."""

    property_library: str
    sources: Mapping[str, str]
    components: Mapping[str, Component]
    refrigerants: tuple[RefrigerantRow, ...]
    not_computed: tuple[NotComputed, ...]


FILE = "service/knowledge/data/refrigerants.yaml"


@cache
def refrigerant_data() -> RefrigerantData:
    """Return the data file, read once.

    Raises:
        ValueError: a composition does not add up to 100 percent, a designation is given twice, or a UN number
            has no shipping name.
    """
    content = files("service.knowledge").joinpath("data", "refrigerants.yaml").read_bytes()
    data: dict[str, Any] = read_yaml(content, FILE)
    given = [row["designation"] for row in (*data["refrigerants"], *data["not_computed"])]
    if twice := sorted({name for name in given if given.count(name) > 1}):
        raise ValueError(f"{FILE}: given twice: {', '.join(twice)}")
    nameless = [
        row["designation"] for row in data["refrigerants"] if row.get("un") not in {None, *data["transport"]}
    ]
    if nameless:
        raise ValueError(f"{FILE}: {', '.join(nameless)}: `un` has no row under `transport`")
    return RefrigerantData(
        data["property_library"],
        data["sources"],
        {name: _component(name, row) for name, row in data["components"].items()},
        tuple(_row(row, data["transport"]) for row in data["refrigerants"]),
        tuple(NotComputed(row["designation"], composition(row), row["reason"]) for row in data["not_computed"]),
    )


def _component(name: str, row: dict[str, Any]) -> Component:
    ar4, ar5 = row["gwp"]
    return Component(name, row["fluid"], ar4, ar5, row.get("ozone_depleting", False))


def _row(row: dict[str, Any], shipping: dict[int, dict[str, str]]) -> RefrigerantRow:
    number = row.get("un")
    return RefrigerantRow(
        row["designation"],
        composition(row),
        row.get("pseudo_pure", ""),
        row["safety_class"],
        row.get("lower_flammability_limit"),
        row.get("room_rule_limit", row.get("lower_flammability_limit")),
        tuple(row["oils"]),
        tuple(row.get("spellings", ())),
        row.get("saturation_percent", 0.0),
        None if number is None else Transport(number, **shipping[number]),
    )


def composition(row: Mapping[str, Any]) -> tuple[Share, ...]:
    """Return the shares of a row.

    Raises:
        ValueError: they do not add up to 100 percent.
    """
    shares = tuple(Share(name, float(percent)) for name, percent in row["composition"].items())
    if abs(sum(share.mass_percent for share in shares) - 100.0) > 1e-6:
        raise ValueError(f"the composition of {row['designation']} does not add up to 100 percent")
    return shares
