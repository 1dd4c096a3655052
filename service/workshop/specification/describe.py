"""What is said about a member: its meaning, kind of quantity, default unit, range, and the words of its list."""

from __future__ import annotations

from service.results.declare import Member
from service.results.units import BORROWED, FIXED, KINDS, STANDARD_ATMOSPHERE, TABLE, Units, shown_limit
from service.words.locale import meanings

DEFAULTS = Units()
CALLED = {
    "ohms": "resistance",
    "megohms": "resistance",
    "volts": "voltage",
    "amps": "current",
    "watts": "power",
    "microfarads": "capacitance",
    "minutes": "time",
    "seconds": "time",
    "days": "time",
    "hertz": "frequency",
    "joules": "energy",
    "humidity": "relative humidity",
    "percent": "percentage",
}


def description(name: str, declared: Member) -> str:
    """The description of a member, in a few sentences, with a list of the words where it is a choice."""
    said = [declared.description]
    if declared.kind in ("quantity", "range"):
        said.append(_kind_and_unit(str(declared.choices[0])))
    elif declared.kind in KINDS:
        said += [_kind_and_unit(declared.kind), _range(declared)]
    elif declared.kind in _LIMITS and (declared.length or declared.kind not in ("text", "label")):
        said.append(_LIMITS[declared.kind].format(declared))
    words = _words(name, declared)
    return " ".join(text for text in said if text) + (f"\n\n{words}" if words else "")


def _kind_and_unit(kind: str) -> str:
    if kind == "any":
        return "In the unit that stands with it."
    called = CALLED.get(kind, kind.replace("_", " "))
    called = called[0].upper() + called[1:]
    unit = DEFAULTS.code(kind)
    if kind in FIXED:
        return f"{called}, a plain number." if unit == "1" else f"{called} in {unit}."
    base = BORROWED.get(kind, kind)
    chosen = f"`units.{base}`" if base in TABLE else "the units of the document"
    return f"{called} in {chosen}, {unit} by default{_REMARKS.get(kind, '')}."


_REMARKS = {
    "pressure": "; gauge units are read against the site pressure",
    "absolute_pressure": ", read as absolute whatever the gauge unit",
}
_LIMITS = {
    "text": "{0.length} characters at most.",
    "label": "A text of at most {0.length} characters or a whole number.",
    "date": "As YYYY-MM-DD.",
    "date_time": "Date and time with its offset from UTC (RFC 3339).",
    "numbers": "Exactly {0.length} numbers.",
    "choices": "Each word once.",
    "resistance_or_number": "A number of ohms or a resistance object; {0.low:g} to {0.high:g} ohm.",
    "resistance": "{0.low:g} to {0.high:g} ohm.",
}


def _range(declared: Member) -> str:
    low, high = declared.low, declared.high
    if declared.kind == "pressure":
        return f"Accepted: above absolute zero, up to {_shown(high or 0.0, declared.kind, lowest=False)}."
    if low is None or high is None:
        return ""
    lowest, highest = _shown(low, declared.kind, lowest=True), _shown(high, declared.kind, lowest=False)
    return f"Accepted: {lowest} to {highest}."


def _shown(value: float, kind: str, *, lowest: bool) -> str:
    return shown_limit(value, kind, DEFAULTS, STANDARD_ATMOSPHERE, lowest=lowest).removesuffix(" 1")


def _words(name: str, declared: Member) -> str:
    """The words of a list with what each means; words that say it themselves are not explained."""
    meant = meanings("en", name)
    lines = [f"- `{word}`: {meant[word]}" for word in declared.choices if word in meant]
    return "\n".join(lines)
