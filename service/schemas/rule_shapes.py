"""The shape of the list of rules."""

from dataclasses import dataclass

from service.knowledge.rule_checking import READ_AS, TOPICS
from service.results.declare import member
from service.schemas.item_shapes import ProvenanceShape, always


@dataclass(frozen=True)
class JurisdictionShape:
    """A place whose rules are held."""

    code: str = always("text", "ISO 3166 code, EU, or ANY for standards that hold where they are adopted.")
    name: str = always("text", "Its name.")
    parent: str | None = member("text", "The place whose rules hold here too.")
    covers: tuple[str, ...] = always("texts", "Codes of the places that it stands for.")


@dataclass(frozen=True)
class RuleShape:
    """One rule, so that it can be looked up by title, clause and edition."""

    code: str = always("text", "The code; it never changes.")
    jurisdiction: str = always("text", "Code of the place that made it.")
    topic: str = always("choice", "What it is about.", choices=tuple(TOPICS))
    title: str = always("text", "The law or standard.")
    clause: str = always("text", "Clause.")
    edition: str = always("text", "Edition.")
    says: str = always("text", "What it says, in short and in other words; the text itself decides.")
    told_in: tuple[str, ...] = always("texts", "Texts of answers that rest on it: folder and code.")
    valid_from: str | None = member("date", "First day it holds.")
    valid_to: str | None = member("date", "Last day it holds.")
    amended_by: str | None = member("text", "What changed it.")
    read_as: str = always("choice", "How its text was read.", choices=READ_AS)
    read_on: str = always("date", "When it was read.")
    review_by: str = always("date", "When it is to be read again.")
    address: str | None = member("text", "Where it was read.")


@dataclass(frozen=True)
class RuleList:
    """Every rule held."""

    jurisdictions: tuple[JurisdictionShape, ...] = always(
        "parts", "Places whose rules are held.", part=JurisdictionShape
    )
    default: str | None = member("text", "Whose rules hold where a document names no place.")
    rules: tuple[RuleShape, ...] = always("parts", "Every rule.", part=RuleShape)
    provenance: object = always("object", "What gave the list.", part=ProvenanceShape)
