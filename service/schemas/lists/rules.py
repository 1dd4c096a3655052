"""The list of rules."""

from __future__ import annotations

from datetime import date

from service.knowledge.rule_checking import READ_AS, TOPICS
from service.results.declare import growing, sent, sent_if_known
from service.results.provenance import Provenance
from service.results.record import Record, field
from service.schemas.lists.codes import GAVE


class Jurisdiction(Record):
    """A place whose rules are held."""

    code: str = field(
        metadata=sent("text", "ISO 3166 code, EU, or ANY for standards that hold where they are adopted.")
    )
    name: str = field(metadata=sent("text", "Its name."))
    parent: str = field(metadata=sent_if_known("text", "The place whose rules hold here too."))
    covers: tuple[str, ...] = field(metadata=sent("texts", "Codes of the places that it stands for."))


class Rule(Record):
    """One rule, so that it can be looked up by title, clause and edition."""

    code: str = field(metadata=sent("text", "The code; it never changes."))
    jurisdiction: str = field(metadata=sent("text", "Code of the place that made it."))
    topic: str = field(metadata=growing("What it is about.", *TOPICS))
    title: str = field(metadata=sent("text", "The law or standard."))
    clause: str = field(metadata=sent("text", "Clause."))
    edition: str = field(metadata=sent("text", "Edition."))
    says: str = field(metadata=sent("text", "What it says, in short and in other words; the text itself decides."))
    told_in: tuple[str, ...] = field(metadata=sent("texts", "Texts of answers that rest on it: folder and code."))
    valid_from: date | None = field(metadata=sent_if_known("date", "First day it holds."))
    valid_to: date | None = field(metadata=sent_if_known("date", "Last day it holds."))
    amended_by: str = field(metadata=sent_if_known("text", "What changed it."))
    read_as: str = field(metadata=sent("choice", "How its text was read.", choices=READ_AS))
    read_on: date = field(metadata=sent("date", "When it was read."))
    review_by: date = field(metadata=sent("date", "When it is to be read again."))
    read_from: str = field(metadata=sent_if_known("text", "Where it was read."))


class RuleList(Record):
    """Every rule held."""

    jurisdictions: tuple[Jurisdiction, ...] = field(
        metadata=sent("parts", "Places whose rules are held.", part=Jurisdiction)
    )
    default_jurisdiction: str | None = field(
        metadata=sent_if_known("text", "Whose rules hold where a document names no place.")
    )
    rules: tuple[Rule, ...] = field(metadata=sent("parts", "Every rule.", part=Rule))
    provenance: Provenance = field(metadata=GAVE)
