"""The report in a real browser (Chromium), and against axe-core's accessibility rules."""

from typing import Any

import pytest
from page_checks import DESK, LABEL_TROUBLE, PHONE, TEXT_SIZES
from page_samples import load_samples

from breakwright.report.page import answer_page

SHOWN = ("full", "three_groups", "no_answer", "awkward_names")


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """File name of each shown sample's report, opened from disk as a viewer would."""
    folder = tmp_path_factory.mktemp("reports")
    samples = load_samples("samples")
    places = {}
    for name in SHOWN:
        place = folder / f"{name}.html"
        place.write_text(answer_page(getattr(samples, name)()), encoding="utf-8")
        places[name] = place.as_uri()
    return places


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("viewport", [PHONE, DESK], ids=["phone", "desk"])
@pytest.mark.parametrize("name", SHOWN)
def test_axe_finds_nothing_and_the_page_does_not_scroll_sideways(
    browser: Any, pages: dict[str, str], name: str, viewport: dict[str, int], scheme: str
) -> None:
    from axe_playwright_python.sync_playwright import Axe

    context = browser.new_context(viewport=viewport, color_scheme=scheme)
    page = context.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(pages[name])
    page.locator("summary").click()  # the folded table is checked as well
    result = Axe().run(page)
    found = [
        (v["id"], [n["html"][:120] for n in v["nodes"]]) for v in result.response["violations"]
    ]
    assert found == []
    assert page.evaluate("document.documentElement.scrollWidth") <= viewport["width"]
    assert asked == [pages[name]]
    context.close()


@pytest.mark.parametrize("viewport", [PHONE, DESK], ids=["phone", "desk"])
def test_text_in_charts_can_be_read(
    browser: Any, pages: dict[str, str], viewport: dict[str, int]
) -> None:
    """At least 11 px on a phone, 13 px at a desk (common practice, no source)."""
    context = browser.new_context(viewport=viewport)
    page = context.new_page()
    page.goto(pages["full"])
    sizes = page.evaluate(TEXT_SIZES)
    assert len(sizes) > 40
    assert min(sizes) >= (11.0 if viewport is PHONE else 13.0)
    context.close()


@pytest.mark.parametrize("viewport", [PHONE, DESK], ids=["phone", "desk"])
@pytest.mark.parametrize("name", SHOWN)
def test_labels_in_charts_do_not_overlap_and_are_not_cut(
    browser: Any, pages: dict[str, str], name: str, viewport: dict[str, int]
) -> None:
    context = browser.new_context(viewport=viewport)
    page = context.new_page()
    page.goto(pages[name])
    trouble = page.evaluate(LABEL_TROUBLE)
    assert trouble == []
    context.close()


def test_the_keyboard_reaches_the_answer_first(browser: Any, pages: dict[str, str]) -> None:
    page = browser.new_page()
    page.goto(pages["full"])
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "Skip to the answer"
    page.keyboard.press("Enter")
    assert page.evaluate("location.hash") == "#answer"
    reached = set()
    for _ in range(30):
        page.keyboard.press("Tab")
        reached.add(page.evaluate("document.activeElement.getAttribute('aria-labelledby') || ''"))
    assert {"cap-counts", "cap-strength", "cap-ratios", "cap-left-out"} <= reached
    page.close()


def test_charts_follow_the_colour_scheme(browser: Any, pages: dict[str, str]) -> None:
    grounds = {}
    for scheme in ("light", "dark"):
        context = browser.new_context(color_scheme=scheme)
        page = context.new_page()
        page.goto(pages["full"])
        grounds[scheme] = page.evaluate(
            "() => [getComputedStyle(document.body).backgroundColor, getComputedStyle("
            "document.querySelector('figure .wide svg rect')).fill]"
        )
        context.close()
    assert grounds["light"][0] == grounds["light"][1] == "rgb(255, 254, 251)"
    assert grounds["dark"][0] == grounds["dark"][1] == "rgb(21, 24, 27)"
