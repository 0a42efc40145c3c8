"""The plan's report and the bench sheet in a real browser, on screens and on paper."""

import re
from typing import Any

import pytest
from page_checks import DESK, LABEL_TROUBLE, PHONE, TEXT_SIZES
from page_samples import load_samples

from breakwright.report.before_page import before_page
from breakwright.report.before_sheets import before_sheet, dangers, predict_sheet
from breakwright.report.bench_sheet import bench_sheet

SHOWN = ("demo", "mended", "predict", "bench")


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    folder = tmp_path_factory.mktemp("plans")
    samples = load_samples("before_samples")
    demo, mended = samples.demo(), samples.mended()
    texts = {
        "demo": before_page(before_sheet(demo, version="1")),
        "mended": before_page(before_sheet(mended, version="1")),
        "predict": before_page(predict_sheet(demo.predict, version="1")),
        "bench": bench_sheet(
            demo.plan,
            scales=("left scale", "right scale"),
            cautions=demo.rig.cautions,
            dangers=dangers(demo),
            invented=True,
            made="Made so.",
        ),
    }
    places = {}
    for name, text in texts.items():
        place = folder / f"{name}.html"
        place.write_text(text, encoding="utf-8")
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
    result = Axe().run(page)
    found = [
        (v["id"], [n["html"][:120] for n in v["nodes"]]) for v in result.response["violations"]
    ]
    assert found == []
    assert page.evaluate("document.documentElement.scrollWidth") <= viewport["width"]
    assert asked == [pages[name]]
    context.close()


@pytest.mark.parametrize("viewport", [PHONE, DESK], ids=["phone", "desk"])
@pytest.mark.parametrize("name", ["demo", "mended", "predict"])
def test_charts_can_be_read(
    browser: Any, pages: dict[str, str], name: str, viewport: dict[str, int]
) -> None:
    """At least 11 px on a phone, 13 px at a desk (common practice, no source)."""
    context = browser.new_context(viewport=viewport)
    page = context.new_page()
    page.goto(pages[name])
    sizes = page.evaluate(TEXT_SIZES)
    assert len(sizes) > 10
    assert min(sizes) >= (11.0 if viewport is PHONE else 13.0)
    assert page.evaluate(LABEL_TROUBLE) == []
    context.close()


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_bench_sheet_fits_one_page_of_paper(
    browser: Any, pages: dict[str, str], paper: str
) -> None:
    page = browser.new_page()
    page.goto(pages["bench"])
    printed = page.pdf(format=paper, prefer_css_page_size=True)
    assert len(re.findall(rb"/Type\s*/Page[^s]", printed)) == 1
    page.close()
