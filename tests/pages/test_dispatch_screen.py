"""The sample dispatch screen: holds stand first, then verdict, findings, causes with bars and steps."""


def judged(watched, screen, visit):
    """The first sample is there when another one is chosen, and that one when it is judged."""
    page = watched.page
    page.goto(screen)
    shown = "reference => document.getElementById('document').value.includes(reference)"
    page.wait_for_function(shown, arg="demo-")
    page.get_by_label("Sample visit").select_option(visit)
    page.wait_for_function(shown, arg=f"demo-{visit}")
    page.get_by_role("button", name="Judge the visit").click()
    page.wait_for_selector(".outcome")
    return page


def test_what_stops_the_work_stands_first(watched, screen):
    page = judged(watched, screen, "grounded-winding")
    headings = [item.inner_text() for item in page.locator("#answer h2").all()]
    assert headings[0] == "Stop: read this first"
    assert page.locator("#answer > *").nth(1).locator(".hold").count() >= 1
    assert page.locator(".outcome").inner_text() == "Unsafe. Keep it off."
    assert "power on" not in page.locator("#answer").inner_text()
    assert watched.complaints == []


def test_causes_have_bars_and_order_is_findings_causes_reading_steps(watched, screen):
    page = judged(watched, screen, "low-charge-valve")
    headings = [item.inner_text() for item in page.locator("#answer h2").all()]
    wanted = ["Findings", "Causes", "Next reading", "Next steps", "Take care"]
    assert [name for name in headings if name in wanted] == [name for name in wanted if name in headings]
    bars = [float(bar.get_attribute("value") or 0) for bar in page.locator("meter").all()]
    assert bars == sorted(bars, reverse=True)
    assert bars[0] > 0.3


def test_a_refusal_is_shown_with_its_place(watched, screen):
    page = watched.page
    page.goto(screen)
    page.wait_for_function("document.getElementById('document').value.includes('demo-')")
    page.locator("#document").fill('{"running": {"suction_pressure": "118"}}')
    page.get_by_role("button", name="Judge the visit").click()
    page.wait_for_selector(".refused")
    assert "/running/suction_pressure" in page.locator(".refused").inner_text()
