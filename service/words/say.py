"""Code + SI values + units + language -> text."""

from collections.abc import Mapping
from functools import cache
from typing import Any

from service.knowledge.kinds import kind_row
from service.knowledge.rule_book import book, certificate_name
from service.knowledge.yaml_files import KnowledgeError
from service.results.finding import CONTRADICTED, Assumption, Finding, Missing, State, Value
from service.results.quantity import Quantity
from service.results.units import STANDARD_ATMOSPHERE, Units
from service.results.visit import Visit
from service.words.locale import DEFAULT, text
from service.words.quantities import Measures
from service.words.templates import pieces

# Placeholders whose value is a code, and the folder that has its title.
STATE = "/"  # between a finding's code and the state that it is said in
CODED = {
    "cause": "causes",
    "hold": "holds",
    "step": "steps",
    "part": "parts",
    "reading": "cycle_readings",
    "who": "report",
    "rule_said": "rules",
    "symptom": "symptoms",
    "seen_state": "states",
    "read_state": "states",
}


# Placeholders whose value is a word of a list, and the list that says what it means.
LISTED = {"person": "people_at_risk", "class": "pressure_class", "oil": "oil"}
ENDS = (".", ":", "?", "!")  # what comes after one of these begins with a capital


CERTIFICATE = "certificate."
IN_HEATING = "in_heating"
OWN_TEXTS = frozenset({"rules", "report"})  # folders in which a rule may bring the text


class Speaker:
    """Says codes in one language and one request's units."""

    def __init__(
        self, units: Units, site_pressure: float, language: str = DEFAULT, of_unit: tuple[str, ...] = ()
    ) -> None:
        self.of_unit = of_unit
        self.units = units
        self.site_pressure = site_pressure
        self.language = language
        self.measure = Measures(units, site_pressure, language).__getitem__

    def text(self, folder: str, code: str) -> Any:
        """The entry of a code in a locale folder; a rule brings its own texts, for a deployer may add one."""
        if folder in OWN_TEXTS:
            if folder == "rules":
                return book().rules[code].says[self.language]
            if code.startswith(CERTIFICATE):
                named = certificate_name(code.removeprefix(CERTIFICATE), self.language)
                if named is not None:
                    return named
        return text(self.language, folder, code, self.of_unit)

    def say(self, value: Value) -> str:
        """A value as the text shows it; texts and whole numbers stay as they are."""
        if isinstance(value, Quantity):
            return self.measure(value.kind).said(value.value)
        return f"{value:g}" if isinstance(value, float) else str(value)

    def fill(self, template: str, values: Mapping[str, Value]) -> str:
        """Fill the placeholders of a template; every placeholder must have its value."""
        said: list[str] = []
        for written, name in pieces(template):
            said.append(written)
            if name is not None:
                said.append(self.say(values[name]))
        return "".join(said)

    def fill_named(self, template: str, values: Mapping[str, Value]) -> str:
        """As `fill`; codes are said by their titles, a difference as the two numbers shown have it."""
        values = {**values, **self._shown_difference(values)}
        said: list[str] = []
        for written, name in pieces(template):
            said.append(written)
            if name is not None:
                said.append(self._said_or_named(name, values[name], written))
        return "".join(said)

    def _shown_difference(self, values: Mapping[str, Value]) -> dict[str, Value]:
        """How far apart the two numbers are that the reader sees: 30 and 44 are 14 apart, whatever lies behind."""
        measured, expected = values.get("measured"), values.get("expected")
        given = values.get("difference")
        if (
            not isinstance(measured, Quantity)
            or not isinstance(expected, Quantity)
            or not isinstance(given, Quantity)
        ):
            return {}
        shown = self.measure(measured.kind).shown
        apart = abs(shown(measured.value) - shown(expected.value))
        return {"difference": Quantity(apart, given.kind)}

    def _said_or_named(self, name: str, value: Value, before: str) -> str:
        """A value as it stands in a sentence after what is written before it."""
        if name in LISTED:
            meaning: str = self.text("list_words", LISTED[name])[value]
            return meaning
        if name == "finding":
            code, _, state = str(value).partition(STATE)
            return self.headline(code, state)
        if name == "plain":
            plain: str = self.text("causes", str(value))["plain"]
            return plain
        if name not in CODED:
            return self.say(value)
        title = self.title(CODED[name], str(value))
        return _inside(title) if name == "cause" and before and not before.rstrip().endswith(ENDS) else title

    def title(self, folder: str, code: str) -> str:
        """The title of a finding, cause, step ..."""
        entry = self.text(folder, code)
        title: str = entry["title"] if isinstance(entry, dict) else entry
        return title

    def check(self, code: str) -> str:
        """What a finding looks at, as a neutral noun for lists of what passed."""
        said: str = self.text("findings", code)["headlines"]["check"]
        return said

    def headline(self, code: str, state: str) -> str:
        """What was found, in a state; a label that needs no verdict beside it."""
        return headline_text(self.language, code, state, self.of_unit)

    def value_title(self, code: str) -> str:
        """What a finding measures; its title where that names the value and no verdict."""
        entry = self.text("findings", code)
        named: str = entry.get("value") or entry["title"]
        return named

    def detail(self, finding: Finding) -> str:
        """What a finding says, with its readings and limits filled in."""
        if finding.variant == CONTRADICTED:
            said: str = self.text("sentences", "finding.contradicted")
            return said
        template = finding_text(self.language, finding.code, finding.state, finding.variant, self.of_unit)
        values, finer, parts = finding.values, self._finer(finding), []
        for written, name in pieces(template):
            parts.append(written)
            if name is not None and name in values:
                parts.append(self._said_or_named(name, values[name], written))
            elif name is not None:
                parts.append(self._judged_by(finding, name, finer))
        return "".join(parts)

    def _judged_by(self, finding: Finding, name: str, finer: int) -> str:
        """What a finding was judged by. Raises: KeyError for a name that it has no value for."""
        measured, limit = finding.measured, finding.limit
        if measured is not None and name == "measured":
            return self.measure(measured.kind).said(measured.value, finer)
        bound = getattr(limit, name) if limit is not None and name in ("low", "high") else None
        if limit is None or bound is None:
            raise KeyError(name)
        return self.measure(limit.kind).said(float(bound), finer)

    def _finer(self, finding: Finding) -> int:
        """One decimal more where a value outside its bound would read like the bound."""
        measured, limit = finding.measured, finding.limit
        if measured is None or limit is None or measured.kind != limit.kind or finding.state is State.PASS:
            return 0
        said = self.measure(limit.kind).said
        bounds = [float(bound) for bound in (limit.low, limit.high) if bound is not None]
        alike = any(said(bound) == said(measured.value) and bound != measured.value for bound in bounds)
        return int(alike)

    def missing(self, missing: Missing) -> str:
        """What a missing reading would allow."""
        said: str = self.text("missing", missing.allows)
        return said

    def assumption(self, assumption: Assumption) -> str:
        """What was taken for granted."""
        return self.fill(self.text("assumptions", assumption.code), assumption.values)


def _inside(title: str) -> str:
    """A title inside a sentence: `match low indoor airflow`; letters of an abbreviation stay as they are."""
    return title if title[1:2].isupper() else title[:1].lower() + title[1:]


def speaker_of(visit: Visit, language: str = DEFAULT) -> Speaker:
    """Who says what is told of a visit: in its units, at its place, of its kind of unit, which cools or heats."""
    heating = (IN_HEATING,) if visit.equipment.mode == "heating" else ()
    of_unit = (*kind_row(visit.equipment.kind).said_in, *heating)
    return Speaker(visit.units, visit.site_pressure, language, of_unit)


@cache
def headline_text(language: str, code: str, state: str, of_unit: tuple[str, ...] = ()) -> str:
    """What a finding in a state is called; made once, for nothing of it comes from the visit."""
    said: dict[str, str] = text(language, "findings", code, of_unit)["headlines"]
    if state != str(State.PASS):
        return said.get(state, said["check"])
    passed = pieces(text(language, "sentences", "finding.passed"))
    return "".join(written + (said[name] if name is not None else "") for written, name in passed)


@cache
def plain_speaker(language: str = DEFAULT) -> Speaker:
    """Who says what has no caller's units in it: lists, problems, what gave an answer."""
    return Speaker(Units(), STANDARD_ATMOSPHERE, language)


@cache
def finding_text(language: str, code: str, state: State, variant: str, of_unit: tuple[str, ...] = ()) -> str:
    """The template of what a finding says in a state.

    Raises: KnowledgeError where its row has no text for what a check reports.
    """
    details: dict[str, str] = text(language, "findings", code, of_unit)["detail"]
    name = f"{state}.{variant}" if variant else str(state)
    if name not in details:
        raise KnowledgeError(
            f"knowledge/topics: {code} is reported {name}, and its detail has only {sorted(details)}"
        )
    return details[name]
