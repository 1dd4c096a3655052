"""Refrigerants whose supply is ending, and by which rule."""

from service.knowledge.refrigerants import UnknownRefrigerant, find

# Class II ozone-depleting refrigerants: no new production or import in the USA since 1 January 2020 (40 CFR 82.16).
OZONE_DEPLETING = frozenset({"R-22", "R-12", "R-123", "R-502"})


def phased_out(name: str) -> str | None:
    """`ozone-depleting`, or None where no rule ends the refrigerant's production.

    Source: 40 CFR 82.16 (class I and II controlled substances).
    """
    try:
        designation = find(name).designation
    except UnknownRefrigerant:
        return None
    return "ozone-depleting" if designation in OZONE_DEPLETING else None
