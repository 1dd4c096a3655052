"""The form that is made from the catalogue alone, in a real browser, in both languages."""

import pytest
import requests

LOW_CHARGE = {
    "/equipment/refrigerant": "R-410A",
    "/equipment/metering_device": "thermostatic_expansion_valve",
    "/equipment/target_subcooling": "10",
    "/running/minutes_running": "20",
    "/running/suction_pressure": "100",
    "/running/liquid_pressure": "300",
    "/running/suction_line_temperature": "62",
    "/running/liquid_line_temperature": "93",
    "/air/outdoor_dry_bulb": "95",
    "/air/return_dry_bulb": "75",
    "/air/return_wet_bulb": "63",
    "/air/supply_dry_bulb": "60",
}


def opened(watched, screen, language):
    page = watched.page
    page.goto(f"{screen}form.html")
    page.wait_for_selector("#form button")
    if language != "en":
        page.get_by_label("Language").select_option(language)
        page.wait_for_selector("html[lang=es]")
    return page


@pytest.mark.parametrize("language", ["en", "es"])
def test_every_reading_of_the_catalogue_has_its_field_and_label(watched, screen, address, language):
    page = opened(watched, screen, language)
    rows = requests.get(f"{address}/v1/readings", headers={"Accept-Language": language}, timeout=20).json()[
        "readings"
    ]
    wanted = {row["pointer"]: row["label"] for row in rows if row["answer"] not in ("list", "numbers")}
    labels = {item.get_attribute("for"): item.inner_text() for item in page.locator("#form label").all()}
    assert labels.keys() == wanted.keys()
    assert all(labels[pointer].startswith(said) for pointer, said in wanted.items())
    assert watched.complaints == []


@pytest.mark.parametrize(("language", "said"), [("en", "charge"), ("es", "carga")])
def test_a_visit_filled_in_is_judged_in_its_language(watched, screen, language, said):
    """Low suction, low liquid pressure, high superheat and low subcooling: undercharged (trade, no source)."""
    page = opened(watched, screen, language)
    for pointer, value in LOW_CHARGE.items():
        field = page.locator(f"[id='{pointer}']")
        if field.evaluate("item => item.tagName") == "SELECT":
            field.select_option(value)
        else:
            field.fill(value)
    page.locator("#form button").click()
    page.wait_for_selector(".outcome")
    assert said in page.locator("#answer").inner_text().lower()


def test_a_value_outside_the_catalogues_range_is_not_sent(watched, screen):
    page = opened(watched, screen, "en")
    field = page.locator("[id='/air/return_dry_bulb']")
    field.fill("9999")
    page.locator("#form button").click()
    assert field.evaluate("item => item.validity.rangeOverflow") is True
    assert page.locator("#answer").inner_text() == ""
