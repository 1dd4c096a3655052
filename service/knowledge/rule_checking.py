"""Every row of a rule file is checked when it is read: a broken file stops the start and is named."""

from datetime import date
from typing import Any

from service.knowledge.languages import LANGUAGES
from service.knowledge.rows import KnowledgeError
from service.knowledge.rule_rows import UNSTATED, Applies, Rule
from service.results.declare import declared_members
from service.results.procedures.leak_rate import LeakRateRequest
from service.results.record import fields
from service.results.visit.equipment import Equipment

READ_AS = ("original", "copy", "memory")
BAND_STARTS = ("from_tonnes", "from_kilograms")

# Topic -> members of `thresholds` that it must have, and those that it may have.
TOPICS: dict[str, tuple[frozenset[str], frozenset[str]]] = {
    "leak_rate": (frozenset({"percent"}), frozenset()),
    "leak_chronic": (frozenset({"percent"}), frozenset()),
    "leak_seasonal": (frozenset(), frozenset()),
    "leak_repair": (frozenset({"days"}), frozenset({"days_process_shutdown"})),
    "leak_check": (frozenset({"bands"}), frozenset({"sealed_below_tonnes", "sealed_below_kilograms"})),
    "appliance_class": (frozenset(), frozenset({"class", "contested"})),
    "evacuation_level": (frozenset(), frozenset({"vacuum_after", "vacuum_before", "absolute_millimetres"})),
    "evacuation_exception": (frozenset(), frozenset()),
    "small_appliance": (
        frozenset({"percent_running", "percent_stopped", "percent_before_1993", "vacuum"}),
        frozenset(),
    ),
    "release": (frozenset({"exempt"}), frozenset()),
    "certificate": (frozenset({"role", "certificate", "name"}), frozenset()),
    "supply": (frozenset({"alone"}), frozenset()),
    "new_equipment": (frozenset({"alone"}), frozenset()),
    "record": (frozenset(), frozenset({"years"})),
    "disposal_record": (frozenset(), frozenset({"years"})),
    "cylinder": (frozenset(), frozenset({"years"})),
    "practice": (frozenset(), frozenset()),
    "standard": (frozenset(), frozenset()),
}
PRESSURE_CLASSES = ("low", "medium", "high", "very_high")
_REQUIRED = frozenset({"code", "topic", "title", "clause", "edition", "read_as", "read_on", "review_by", "says"})
_OPTIONAL = frozenset({"valid_from", "valid_to", "amended_by", "applies_when", "thresholds", "address"})


def _words(of: type, name: str) -> frozenset[str]:
    return frozenset(str(word) for word in dict(declared_members(of))[name].choices)


KINDS = _words(Equipment, "kind") | {UNSTATED}
CLASSES = _words(LeakRateRequest, "appliance_class")


def rule_of(row: Any, jurisdiction: str, where: str) -> Rule:
    """Check a row of a file and make a rule of it.

    Raises: KnowledgeError that names file, code and member.
    """
    if not isinstance(row, dict) or not isinstance(row.get("code"), str):
        raise KnowledgeError(f"{where}: not a row with a code")
    said = f"{where}: {row['code']}"
    absent = _REQUIRED - {key for key in row if row[key] not in (None, "")}
    unknown = set(row) - _REQUIRED - _OPTIONAL
    if absent or unknown:
        raise KnowledgeError(f"{said}: unknown {sorted(unknown)}, absent {sorted(absent)}")
    _check_words(row, said)
    _check_dates(row, said)
    thresholds = row.get("thresholds") or {}
    _check_thresholds(row["topic"], thresholds, said)
    plain = {key: row[key] for key in row if key not in ("applies_when", "thresholds")}
    return Rule(
        **plain,
        jurisdiction=jurisdiction,
        thresholds=thresholds,
        applies_when=_applies(row.get("applies_when"), said),
    )


def _check_words(row: dict[str, Any], said: str) -> None:
    if row["topic"] not in TOPICS:
        raise KnowledgeError(f"{said}: topic {row['topic']!r} is not one of {sorted(TOPICS)}")
    if row["read_as"] not in READ_AS:
        raise KnowledgeError(f"{said}: read_as {row['read_as']!r} is not one of {list(READ_AS)}")
    texts = row["says"]
    if not isinstance(texts, dict) or set(texts) != set(LANGUAGES) or not all(texts.values()):
        raise KnowledgeError(f"{said}: says needs a text in each of {list(LANGUAGES)}")


def _check_dates(row: dict[str, Any], said: str) -> None:
    for name in ("read_on", "review_by", "valid_from", "valid_to"):
        if row.get(name) is not None and type(row[name]) is not date:
            raise KnowledgeError(f"{said}: {name} is no date as YYYY-MM-DD")
    if row["review_by"] <= row["read_on"]:
        raise KnowledgeError(f"{said}: review_by is not after read_on")
    if row.get("valid_from") and row.get("valid_to") and row["valid_to"] < row["valid_from"]:
        raise KnowledgeError(f"{said}: valid_to is before valid_from")


def _check_thresholds(topic: str, thresholds: Any, said: str) -> None:
    needed, allowed = TOPICS[topic]
    if not isinstance(thresholds, dict):
        raise KnowledgeError(f"{said}: thresholds is no mapping")
    absent, unknown = needed - set(thresholds), set(thresholds) - needed - allowed
    if absent or unknown:
        raise KnowledgeError(f"{said}: thresholds: unknown {sorted(unknown)}, absent {sorted(absent)}")
    if topic == "leak_rate":
        _check_percents(thresholds["percent"], said)
    if topic == "certificate" and set(thresholds["name"]) != set(LANGUAGES):
        raise KnowledgeError(f"{said}: name needs a text in each of {list(LANGUAGES)}")
    if topic == "leak_check":
        _check_bands(thresholds["bands"], said)
    if thresholds.get("class") is not None and thresholds["class"] not in CLASSES:
        raise KnowledgeError(f"{said}: class {thresholds['class']!r} is not one of {sorted(CLASSES)}")


def _check_percents(percents: Any, said: str) -> None:
    if not isinstance(percents, dict) or not percents or set(percents) - CLASSES:
        raise KnowledgeError(f"{said}: percent is given by class, of {sorted(CLASSES)}")
    if not all(type(value) in (int, float) and 0 < value <= 100 for value in percents.values()):
        raise KnowledgeError(f"{said}: percent is a number above 0, to 100")


def _check_bands(bands: Any, said: str) -> None:
    """Bands start at tonnes of CO2 equivalent, or at kilograms of the components that a rule names."""
    wanted = [{start, "months", "months_with_detection"} for start in BAND_STARTS]
    if (
        not isinstance(bands, list)
        or not bands
        or not any(all(isinstance(band, dict) and set(band) == names for band in bands) for names in wanted)
    ):
        raise KnowledgeError(f"{said}: bands is a list of months, months_with_detection and one of {BAND_STARTS}")
    starts = [next(band[start] for start in BAND_STARTS if start in band) for band in bands]
    if not all(type(value) in (int, float) for band in bands for value in band.values()) or starts != sorted(
        starts
    ):
        raise KnowledgeError(f"{said}: bands are numbers, in rising order of their start")


def _applies(content: Any, said: str) -> Applies:
    content = content or {}
    known = {item.name: item.type for item in fields(Applies)}
    if not isinstance(content, dict) or set(content) - set(known):
        raise KnowledgeError(f"{said}: applies_when knows {sorted(known)}")
    lists = {name for name, declared in known.items() if "tuple" in str(declared)}
    if any(isinstance(content[name], list) != (name in lists) for name in content):
        raise KnowledgeError(f"{said}: applies_when: lists are {sorted(lists)}")
    made: dict[str, Any] = {
        name: tuple(value) if isinstance(value, list) else value for name, value in content.items()
    }
    for name, words in (("kinds", KINDS), ("classes", CLASSES), ("not_classes", CLASSES)):
        if set(made.get(name, ())) - words:
            raise KnowledgeError(f"{said}: {name}: allowed is {sorted(words)}")
    pressures = {
        *made.get("pressure_classes", ()),
        *([made["pressure_class"]] if "pressure_class" in made else []),
    }
    if pressures - set(PRESSURE_CLASSES):
        raise KnowledgeError(f"{said}: pressure class: allowed is {list(PRESSURE_CLASSES)}")
    return Applies(**made)
