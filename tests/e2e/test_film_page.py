"""A film in a real browser over a real server: marked by touch, drag and keys, its reading watched,
one span corrected, and the trial's outcome changing with it; axe on phone and desk."""

import re
import tomllib
from collections.abc import Iterator
from importlib.resources import files
from typing import Any

import pytest
from page_checks import DESK, PHONE
from serving import Server, serving

LONG_MS = 120_000


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    with serving(tmp_path_factory.mktemp("film"), "--demo") as running:
        yield running


@pytest.fixture(scope="module")
def film(browser: Any, server: Server) -> str:
    """Return the address of the demo study's film, once it was read by itself."""
    page = browser.new_context(viewport=DESK).new_page()
    study = server.first.rpartition("/")[0]
    page.goto(f"{study}/films")
    assert page.get_by_text("being read").is_visible()
    page.get_by_role("link", name="peg-C1.mp4").click()
    page.get_by_role("heading", name="The pull").wait_for(timeout=LONG_MS)
    address = str(page.url)
    page.context.close()
    return address


def opened(browser: Any, **how: Any) -> Any:
    page = browser.new_context(viewport=PHONE, **how).new_page()
    page.troubles = []
    page.on("pageerror", lambda error: page.troubles.append(str(error)))
    page.on("console", lambda m: m.type == "error" and page.troubles.append(m.text))
    return page


def corners_of(name: str) -> list[tuple[float, float]]:
    said = tomllib.loads(files("breakwright.demo").joinpath("displays.toml").read_text("utf-8"))
    found = next(one for one in said["display"] if one["name"] == name)
    return [(float(x), float(y)) for x, y in found["corners"]]


def scale_of(page: Any) -> tuple[float, float, float]:
    """Where the picture stands on the screen, and how many px of it are one of the film's."""
    box = page.locator("#still").bounding_box()
    return (
        box["x"],
        box["y"],
        box["width"] / float(page.locator("#stage").get_attribute("data-width")),
    )


def field(page: Any, name: str) -> float:
    return float(page.locator(f"[name={name}]").input_value())


def test_corners_by_touch_by_drag_and_by_keys_then_the_reading_is_watched(
    browser: Any, server: Server, film: str
) -> None:
    page = opened(browser)
    page.goto(f"{film}/mark")
    page.locator("#still").wait_for()
    page.locator("fieldset", has_text="left scale").get_by_role(
        "button", name="Not in this film"
    ).click()
    wanted = corners_of("left scale")
    for corner, (x, y) in enumerate(wanted):
        # The last one is set 30 px too far to the right, and dragged to its place below.
        left, top, s = scale_of(page)
        page.mouse.click(left + (x + 30.0 * (corner == 3)) * s, top + y * s)
    assert "all four corners stand" in page.locator("#says").inner_text()
    one_px = 1.0 / scale_of(page)[2]
    handle = page.locator("#handle-0-3")
    box = handle.bounding_box()
    assert min(box["width"], box["height"]) >= 44.0
    x, y = box["x"] + 22.0, box["y"] + 22.0
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 10.0 / one_px, y, steps=3)
    assert page.locator("#lens").is_visible()
    page.mouse.move(x - 30.0 / one_px, y, steps=3)
    page.mouse.up()
    assert not page.locator("#lens").is_visible()
    for corner, (x, y) in enumerate(wanted):
        assert field(page, f"x0-{corner}") == pytest.approx(x, abs=1.5 * one_px)
        assert field(page, f"y0-{corner}") == pytest.approx(y, abs=1.5 * one_px)
    before = field(page, "x0-3")
    handle.focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Shift+ArrowLeft")
    assert field(page, "x0-3") == pytest.approx(before - 9.0)
    # Exactly as they were, so that what is read next is what was read first.
    for corner, (x, y) in enumerate(wanted):
        page.locator(f"[name=x0-{corner}]").evaluate("(e, v) => { e.value = v }", f"{x:g}")
        page.locator(f"[name=y0-{corner}]").evaluate("(e, v) => { e.value = v }", f"{y:g}")
    page.get_by_role("button", name="Read the film").click()
    bar = page.locator("#share")
    bar.wait_for()
    assert bar.get_attribute("max") == "100"
    page.get_by_role("heading", name="The pull").wait_for(timeout=LONG_MS)
    assert page.troubles == []
    page.context.close()


def test_one_span_is_corrected_and_the_outcome_of_the_trial_changes(
    browser: Any, server: Server, film: str
) -> None:
    page = opened(browser)
    page.goto(film)
    peak, outcome = page.locator(".pull h3").inner_text(), page.locator(".outcome").inner_text()
    assert "at least" in peak
    page.get_by_role("link", name="Show the peak").click()
    here = page.locator(".near section", has_text="left scale").locator("li.now")
    shown = here.locator(".reading").inner_text()
    page.wait_for_timeout(300)
    here.locator("summary").click()
    value = here.get_by_label("The number, kgf")
    new = f"{float(value.input_value()) + 1.0:.2f}"
    value.fill(new)
    here.get_by_label("Why?").fill("the crop shows it")
    here.get_by_role("button", name="Keep the correction").click()
    here = page.locator(".near section", has_text="left scale").locator("li.now")
    assert here.locator(".reading").inner_text() == f"{new} kgf"
    assert here.locator("s").inner_text() == shown
    assert page.locator(".pull h3").inner_text() != peak
    changed = page.locator(".outcome").inner_text()
    assert changed != outcome
    page.get_by_role("button", name="Take this as the reading").click()
    page.get_by_text("Taken as the reading of").wait_for()
    loads = re.search(r"As a reading: (.*), kgf", changed)
    assert loads is not None
    page.locator("#pulls ~ .pull").get_by_role("link", name="C1").click()
    assert page.locator(".reading .typed").inner_text() == f"{loads[1]}, kgf"
    # Taken back, the trial is again what was written down at the bench.
    page.goto(film)
    page.get_by_role("button", name="Take it back").click()
    page.get_by_role("button", name="Take this as the reading").wait_for()
    page.get_by_role("button", name=re.compile("Take back")).click()
    page.wait_for_load_state()
    assert page.locator(".pull h3").inner_text() == peak
    assert page.locator(".outcome").inner_text() == outcome
    assert page.troubles == []
    page.context.close()


def test_the_slider_shows_another_moment_of_every_display(
    browser: Any, server: Server, film: str
) -> None:
    page = opened(browser)
    page.goto(film)
    before = page.locator(".at").inner_text()
    page.locator("#at-range").focus()
    page.keyboard.press("Home")
    page.locator(".at", has_text="0.00 s · together").wait_for()
    assert page.locator(".at").inner_text() != before
    assert page.locator(".seen").count() == 2
    shown = page.locator(".seen img").first
    shown.scroll_into_view_if_needed()
    assert shown.evaluate("image => image.decode().then(() => image.naturalWidth)") > 0
    assert page.troubles == []
    page.context.close()


@pytest.mark.parametrize(
    ("viewport", "scheme"), [(PHONE, "dark"), (DESK, "light")], ids=["phone-dark", "desk-light"]
)
def test_axe_finds_nothing_and_no_page_scrolls_sideways(
    browser: Any, server: Server, film: str, viewport: dict[str, int], scheme: str
) -> None:
    from axe_playwright_python.sync_playwright import Axe

    page = browser.new_context(viewport=viewport, color_scheme=scheme).new_page()
    found = []
    for address in (f"{film.rpartition('/film/')[0]}/films", film, f"{film}/mark"):
        page.goto(address)
        page.wait_for_load_state("networkidle")
        for violation in Axe().run(page).response["violations"]:
            nodes = [node["html"][:120] for node in violation["nodes"]]
            found.append((address.removeprefix(server.url), violation["id"], nodes))
        if page.evaluate("document.documentElement.scrollWidth > innerWidth"):
            found.append((address, "scrolls sideways", []))
    assert found == []
    page.context.close()


def test_the_pages_work_without_scripts(browser: Any, server: Server, film: str) -> None:
    page = opened(browser, java_script_enabled=False)
    page.goto(f"{film}?at=1.0")
    assert page.locator(".at").inner_text().startswith("1.00 s")
    page.get_by_label("Moment, s").fill("2,0")
    page.locator("#scrub").get_by_role("button", name="Show").click()
    assert page.locator(".at").inner_text().startswith("2.00 s")
    page.goto(f"{film}/mark")
    page.locator("fieldset", has_text="right scale").locator("summary").click()
    x, _ = corners_of("right scale")[0]
    there = page.get_by_label("right scale, top left, px to the right").input_value()
    assert float(there) == pytest.approx(x)
    page.context.close()
