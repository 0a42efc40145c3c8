"""From the first page to the report taken home, on a phone and at a desk, on a real server."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from page_checks import DESK, PHONE
from playwright.sync_api import expect
from serving import Server, serving

LONG_MS = 90_000
LOADS = {"dowel": ("61.5", "66", "58.5"), "screw": ("41", "44.5", "39.5")}


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    with serving(tmp_path_factory.mktemp("whole")) as running:
        yield running


@pytest.mark.parametrize("screen", [PHONE, DESK], ids=["phone", "desk"])
def test_a_whole_study(
    browser: Any, server: Server, screen: dict[str, int], tmp_path: Path
) -> None:
    context = browser.new_context(viewport=screen)
    page = context.new_page()
    troubles: list[str] = []
    page.on("pageerror", lambda error: troubles.append(str(error)))
    page.on("console", lambda m: m.type == "error" and troubles.append(m.text))

    page.goto(server.url)
    page.get_by_role("link", name="Begin a study").click()
    page.get_by_label("What do you want to know?").fill(f"Do dowels hold? ({screen['width']})")
    page.get_by_label("What do you compare?").fill("screw\ndowel")
    page.get_by_label("Your scales show the load in").select_option("kgf")
    page.get_by_label("Name of scale 1").fill("crane scale")
    page.locator("#f-capacity0").fill("100")
    page.get_by_role("button", name="Make the study").click()
    page.get_by_role("heading", name="Prepare", exact=True).wait_for()
    page.goto(f"{page.url}/order")
    page.get_by_label("Pieces of each group").fill("3")
    page.get_by_role("button", name="Draw the order").click()
    page.get_by_role("button", name="Take this order").click()
    page.get_by_role("heading", name="6 pieces").wait_for()

    page.get_by_role("link", name="Break", exact=True).click()
    page.wait_for_selector("body[data-ready]")
    page.click("#safety-form button")
    left = {group: iter(loads) for group, loads in LOADS.items()}
    for _ in range(6):
        label = page.locator("#label").inner_text()
        group = page.locator("#facts strong").inner_text()
        # Where the next piece is to be typed without a tap, the field has the focus by itself.
        expect(page.locator("#load0")).to_be_focused(timeout=30_000)
        page.keyboard.type(next(left[group]))
        page.keyboard.press("Enter")
        shown = page.locator("#label:visible, #done:visible h1")
        expect(shown).not_to_have_text(label, timeout=30_000)
    page.locator("#done").wait_for()
    page.get_by_text("Everything is on the server").wait_for()

    page.get_by_role("link", name="Answer", exact=True).click()
    page.get_by_text("Calibrated:", exact=True).wait_for(timeout=LONG_MS)
    assert "«dowel» held" in page.locator(".verdict .headline").first.inner_text()
    page.locator("#make-report").click()
    link = page.locator("#get-report")
    link.wait_for(timeout=LONG_MS)
    with page.expect_download() as coming:
        link.click()
    report = tmp_path / coming.value.suggested_filename
    coming.value.save_as(report)
    text = report.read_text("utf-8")
    assert "Do dowels hold?" in text
    assert "66" in text
    assert troubles == []
    context.close()
