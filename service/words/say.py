"""Code + SI values + units + language -> text."""

from collections.abc import Mapping
from typing import Any

from service.results.finding import CONTRADICTED, Assumption, Finding, Missing, Value
from service.results.quantity import Quantity
from service.results.units import Units
from service.words.locale import text
from service.words.quantities import spoken
from service.words.templates import names, pieces

# Placeholders whose value is a code, and the folder that has its title.
CODED = {
    "cause": "causes",
    "finding": "findings",
    "hold": "holds",
    "step": "steps",
    "part": "parts",
    "reading": "cycle_readings",
}
# The kind in which the width of a value of a kind is said, where it is another one.
WIDTH_KINDS = {"temperature": "temperature_difference", "pressure": "pressure_difference"}


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
        said: list[str] = []
        for written, name in pieces(template):
            said.append(written)
            if name is not None:
                said.append(spoken(values[name], self.units, self.site_pressure))
        return "".join(said)

    def title(self, folder: str, code: str) -> str:
        """The title of a finding, cause, step ..."""
        entry = self.text(folder, code)
        title: str = entry["title"] if isinstance(entry, dict) else entry
        return title

    def detail(self, finding: Finding) -> str:
        """What a finding says, with its readings and limits filled in."""
        if finding.variant == CONTRADICTED:
            said: str = self.text("sentences", "finding.contradicted")
            return said
        details = self.text("findings", finding.code)["detail"]
        key = f"{finding.state}.{finding.variant}" if finding.variant else str(finding.state)
        template = details[key]
        values = self.named(finding.values)
        needed = {name: values[name] if name in values else _of_finding(finding, name) for name in names(template)}
        return self.fill(template, needed)

    def named(self, values: Mapping[str, Value]) -> dict[str, Value]:
        """Values that are codes are said by their titles."""
        if not values:
            return {}
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


def _of_finding(finding: Finding, name: str) -> Value:
    """What a finding was judged by. Raises: KeyError for a name that it has no value for."""
    measured, limit = finding.measured, finding.limit
    if measured is not None and name == "measured":
        return measured
    if measured is not None and measured.uncertainty is not None and name == "uncertainty":
        return Quantity(measured.uncertainty, WIDTH_KINDS.get(measured.kind, measured.kind))
    bound = getattr(limit, name) if limit is not None and name in ("low", "high") else None
    if limit is None or bound is None:
        raise KeyError(name)
    return Quantity(bound, limit.kind)
