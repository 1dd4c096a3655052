"""GET /v1/rules: every rule held, by jurisdiction, with clause, edition, how it was read and until when."""

from flask import Blueprint, Response

from service.knowledge.claims import told_in
from service.knowledge.rule_book import book
from service.knowledge.rule_rows import Rule
from service.library.provenance import provenance
from service.schemas.lists import rules as declared
from service.wire.listing import code_list, listed
from service.wire.reading import language

BLUEPRINT = Blueprint("rules", __name__)


@BLUEPRINT.get("/v1/rules")
@code_list("listRules", declared.RuleList)
def list_rules() -> Response:
    """The list of rules.

    Every rule held, by place: clause, edition, dates, how it was read and when it is to be read again.
    """
    return listed(_rules, language())


def _rules(spoken: str) -> declared.RuleList:
    held = book()
    places = (
        declared.Jurisdiction(place.code, place.name[spoken], place.parent or "", place.covers)
        for place in held.jurisdictions.values()
    )
    rules = (_row(rule, spoken) for rule in held.rules.values())
    return declared.RuleList(tuple(places), held.default, tuple(rules), provenance())


def _row(rule: Rule, spoken: str) -> declared.Rule:
    return declared.Rule(
        code=rule.code,
        jurisdiction=rule.jurisdiction,
        topic=rule.topic,
        title=rule.title,
        clause=rule.clause,
        edition=rule.edition,
        says=rule.says[spoken],
        told_in=told_in().get(rule.code, ()),
        valid_from=rule.valid_from,
        valid_to=rule.valid_to,
        amended_by=rule.amended_by,
        read_as=rule.read_as,
        read_on=rule.read_on,
        review_by=rule.review_by,
        read_from=rule.address,
    )
