"""What leads is not contradicted by the sign of an established finding. Source of the trade's facts: RA3.2 (2008)
for what superheat and subcooling say of charge; the rest common practice, no source.
"""

from tests.laws.answers import Body, Document

# The wrong sign for a cause: too little air floods the coil or leaves the valve in control, too little refrigerant
# starves it and backs no liquid up.
WRONG_SIGN = {
    "cause.low-indoor-airflow": {"charge.superheat-high", "charge.valve-superheat-high"},
    "cause.metering-overfeeding": {"charge.superheat-high", "charge.valve-superheat-high"},
    "cause.undercharge": {"charge.superheat-low", "charge.valve-superheat-low", "charge.subcooling-high"},
    "cause.overcharge": {"charge.subcooling-low"},
}
SEEN = "inspection."


def what_was_seen_does_not_hide_what_it_cannot_explain(document: Document, body: Body) -> list[str]:
    """A dirty filter does not lead over a high superheat that another listed cause explains: it stands beside."""
    failed = {
        item["code"] for item in body["findings"] if item["state"] == "fail" and item["confidence"] == "firm"
    }
    lead, *others = body["causes"]
    against = failed & WRONG_SIGN.get(lead["code"], set())
    by_sight = {item["title"] for item in body["findings"] if item["code"].startswith(SEEN)}
    seen = by_sight & set(lead["supported_by"])
    explaining = [cause["code"] for cause in others if cause["code"] != "cause.none-found"]
    explaining = [code for code in explaining if not failed & WRONG_SIGN.get(code, set())]
    if not (against and seen and explaining):
        return []
    return [f"{lead['code']} leads by what was seen, against {sorted(against)}, which {explaining[0]} explains"]
