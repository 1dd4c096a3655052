"""Which rules cover a refrigerant, a kind of equipment and a charge."""

from service.knowledge.refrigerant import Refrigerant
from service.knowledge.refrigerant_rows import refrigerant_data
from service.knowledge.rule_rows import UNSTATED, Applies


def covers(applies: Applies, refrigerant: Refrigerant) -> bool:
    """True where a rule's words about the refrigerant fit it; what a rule does not mention does not matter."""
    held = [share.designation for share in refrigerant.composition]
    known = refrigerant_data().components
    solely = all(known[name].ozone_depleting for name in held)
    return (
        (not applies.refrigerants or refrigerant.designation in applies.refrigerants)
        and (applies.ozone_depleting is None or applies.ozone_depleting is refrigerant.ozone_depleting)
        and (applies.solely_ozone_depleting is None or applies.solely_ozone_depleting is solely)
        and (applies.gwp_from is None or refrigerant.gwp_ar4 >= applies.gwp_from)
        and _holds(applies, held, refrigerant)
        and (applies.pressure_class is None or applies.pressure_class == refrigerant.pressure_class)
        and (not applies.pressure_classes or refrigerant.pressure_class in applies.pressure_classes)
    )


def _holds(applies: Applies, held: list[str], refrigerant: Refrigerant) -> bool:
    if not applies.components and applies.or_gwp_above is None:
        return True
    regulated = any(name in applies.components for name in held)
    return regulated or (applies.or_gwp_above is not None and refrigerant.gwp_ar4 > applies.or_gwp_above)


def covers_kind(applies: Applies, kind: str | None) -> bool:
    """True where a rule names the kind of equipment, or none; a kind that is not stated has a word of its own."""
    return not applies.kinds or (kind or UNSTATED) in applies.kinds
