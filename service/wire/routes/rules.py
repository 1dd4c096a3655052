"""GET /v1/rules: every rule held, by jurisdiction, with clause, edition, how it was read and until when."""

from typing import Any

from flask import Blueprint, Response

from service.knowledge.claims import told_in
from service.knowledge.rule_book import book
from service.knowledge.rule_rows import Rule
from service.library.provenance import provenance
from service.schemas.rule_shapes import RuleList
from service.wire.reading import language
from service.wire.responding import catalogue
from service.wire.routes.catalogues import code_list

BLUEPRINT = Blueprint("rules", __name__)


@BLUEPRINT.get("/v1/rules")
@code_list("listRules", RuleList)
def list_rules() -> Response:
    """The list of rules.

    Every rule held, by place: clause, edition, dates, how it was read and when it is to be read again.
    """
    spoken, held = language(), book()
    places = [
        {"code": place.code, "name": place.name[spoken], "covers": list(place.covers)}
        | ({"parent": place.parent} if place.parent else {})
        for place in held.jurisdictions.values()
    ]
    rules = [_row(rule, spoken) for rule in held.rules.values()]
    default = {"default": held.default} if held.default else {}
    body = {"jurisdictions": places, **default, "rules": rules, "provenance": provenance()}
    return catalogue(body, language=spoken)


def _row(rule: Rule, spoken: str) -> dict[str, Any]:
    plain = {name: getattr(rule, name) for name in ("code", "jurisdiction", "topic", "title", "clause", "edition")}
    optional = {
        "valid_from": rule.valid_from and rule.valid_from.isoformat(),
        "valid_to": rule.valid_to and rule.valid_to.isoformat(),
        "amended_by": rule.amended_by,
        "address": rule.address,
    }
    return {
        **plain,
        "says": rule.says[spoken],
        "told_in": list(told_in().get(rule.code, ())),
        "read_as": rule.read_as,
        "read_on": rule.read_on.isoformat(),
        "review_by": rule.review_by.isoformat(),
        **{name: value for name, value in optional.items() if value},
    }
