"""A number in a text is a limit's or a rule's: the row that it is of is named, and the two agree."""

import re

import pytest

from service.knowledge.claims import claims
from service.knowledge.limits import all_limits
from service.knowledge.rows import rows
from service.words.locale import texts
from tests.words.test_claims import TEXTS, said

UNITS = (
    r"%|°F|°C|ft|lb|psig?|microns?|inHg|V\b|kV|volts|days?|years?|hours?|minutes?|min\b|seconds?|ohms?|in\b|cm|m\b"
    r"|cfm|tons?|times"
)
NUMBER = re.compile(rf"(?<![\w.{{-])([0-9][0-9.,]*?) ?(?:{UNITS})")
TELLING = {code: found for code, text in TEXTS.items() if (found := NUMBER.findall(text))}
# As the row writes it, in hours, and of a temperature the other scale.
WRITTEN = {row["code"]: (float(row["value"]), row["unit"]) for row in rows("limits") if "value" in row} | {
    f"{row['code']}-{key}": (float(value["value"] if isinstance(value, dict) else value), row["unit"])
    for row in rows("limits")
    for key, value in row.get("values", {}).items()
}


def ways(value, unit):
    """How a text may write a limit: as it is, minutes as hours, and the other scale of a temperature."""
    found = {value}
    if unit == "min":
        found.add(value / 60.0)
    if unit == "degC":
        found.add(value * 1.8 + 32.0)
    return found


def test_there_is_something_to_hold():
    assert len(TELLING) > 60


@pytest.mark.parametrize("code", TELLING)
def test_every_text_with_a_number_has_its_row(code):
    """Add a row under `claims:` of its topic (else data/claims/numbers.yaml), or tell no number."""
    assert code in claims(), f"{code} tells {TELLING[code]}: {TEXTS[code]}"


CLAIMS = [
    (code, limit)
    for code, found in TELLING.items()
    for limit in (claims()[code].rests_on if code in claims() else ())
    if limit in all_limits()
]


@pytest.mark.parametrize(("code", "limit"), CLAIMS)
def test_text_and_limit_agree(code, limit):
    told = {float(number.rstrip(".,").replace(",", "")) for number in TELLING[code]}
    value, unit = WRITTEN[limit]
    assert any(
        abs(number - way) <= 0.051 * max(1.0, way / 100.0) for number in told for way in ways(value, unit)
    ), f"{code} tells {sorted(told)}; {limit} is {value} {unit}"


@pytest.mark.parametrize("code", TELLING)
def test_both_languages_tell_the_same_numbers(code):
    """A limit that is changed in one language alone is a wrong number for whoever reads the other."""
    folder, _, entry = code.partition("/")
    other = " ".join(said(texts("es", folder)[entry]))
    english = sorted(set(re.findall(r"\d+", TEXTS[code])))
    assert english == sorted(set(re.findall(r"\d+", other))), code
