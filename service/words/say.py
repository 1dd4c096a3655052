"""Code + SI values + units + language -> text."""

from collections.abc import Mapping
from typing import Any

from service.results.finding import Assumption, Bounds, Finding, Missing, Value
from service.results.quantity import Quantity
from service.results.units import Units
from service.words.locale import text
from service.words.quantities import spoken

# Placeholders whose value is a code, and the folder that has its title.
CODED = {
    "cause": "causes",
    "finding": "findings",
    "hold": "holds",
    "step": "steps",
    "part": "parts",
    "reading": "cycle_readings",
}


class Speaker:
    """Says codes in one language and one request's units."""

    def __init__(self, units: Units, site_pressure: float, language: str = "en") -> None:
        self.units = units
        self.site_pressure = site_pressure
        self.language = language

    def text(self, folder: str, code: str) -> Any:
        """The entry of a code in a locale folder."""
        return text(self.language, folder, code)

    def fill(self, template: str, values: Mapping[str, Value]) -> str:
        """Fill the placeholders of a template; every placeholder must have its value."""
        said = {name: spoken(value, self.units, self.site_pressure) for name, value in values.items()}
        return template.format_map(said)

    def title(self, folder: str, code: str) -> str:
        """The title of a finding, cause, step ..."""
        entry = self.text(folder, code)
        title: str = entry["title"] if isinstance(entry, dict) else entry
        return title

    def detail(self, finding: Finding) -> str:
        """What a finding says, with its readings and limits filled in."""
        details = self.text("findings", finding.code)["detail"]
        key = f"{finding.state}.{finding.variant}" if finding.variant else str(finding.state)
        return self.fill(details[key], {**_measured(finding), **self.named(finding.values)})

    def named(self, values: Mapping[str, Value]) -> dict[str, Value]:
        """Values that are codes are said by their titles."""
        return {
            name: self.title(CODED[name], str(value)) if name in CODED else value for name, value in values.items()
        }

    def missing(self, missing: Missing) -> str:
        """What a missing reading would allow."""
        said: str = self.text("missing", missing.allows)
        return said

    def assumption(self, assumption: Assumption) -> str:
        """What was taken for granted."""
        return self.fill(self.text("assumptions", assumption.code), assumption.values)


def _measured(finding: Finding) -> dict[str, Value]:
    values: dict[str, Value] = {}
    if finding.measured is not None:
        values["measured"] = finding.measured
        if finding.measured.uncertainty is not None:
            width = _width_kind(finding.measured.kind)
            values["uncertainty"] = Quantity(finding.measured.uncertainty, width)
    if finding.limit is not None:
        values |= _bounds(finding.limit)
    return values


def _width_kind(kind: str) -> str:
    return {"temperature": "temperature_difference", "pressure": "pressure_difference"}.get(kind, kind)


def _bounds(limit: Bounds) -> dict[str, Value]:
    values: dict[str, Value] = {}
    if limit.low is not None:
        values["low"] = Quantity(limit.low, limit.kind)
    if limit.high is not None:
        values["high"] = Quantity(limit.high, limit.kind)
    return values
