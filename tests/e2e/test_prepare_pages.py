"""Prepare in a real browser over a real server: from the first form to a planned order, numbers
while a size is typed, without scripts, with axe on phone and desk in light and dark."""

from collections.abc import Iterator
from typing import Any

import pytest
from page_checks import DESK, PHONE
from serving import Server, serving

STEPS = ("question", "scales", "rig", "numbers", "order", "log", "measure", "print", "text")


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    with serving(tmp_path_factory.mktemp("prepare"), "--demo") as running:
        yield running


def opened(browser: Any, **how: Any) -> Any:
    page = browser.new_context(viewport=PHONE, **how).new_page()
    page.troubles = []
    page.on("pageerror", lambda error: page.troubles.append(str(error)))
    page.on("console", lambda m: m.type == "error" and page.troubles.append(m.text))
    return page


def new_study(page: Any, server: Server, question: str) -> str:
    page.goto(server.url)
    page.get_by_role("link", name="Begin a study").click()
    page.get_by_label("What do you want to know?").fill(question)
    page.get_by_label("What do you compare?").fill("plain\nwedged")
    page.get_by_label("Your scales show the load in").select_option("kgf")
    page.get_by_label("Name of scale 1").fill("crane scale")
    page.locator("#f-capacity0").fill("300")
    page.get_by_role("button", name="Make the study").click()
    page.get_by_role("heading", name="Prepare", exact=True).wait_for()
    return str(page.url)


def draw(page: Any, home: str) -> None:
    page.goto(f"{home}/order")
    page.get_by_label("Pieces of each group").fill("3")
    page.get_by_role("button", name="Draw the order").click()
    page.get_by_role("button", name="Take this order").click()
    page.get_by_role("heading", name="6 pieces").wait_for()


@pytest.mark.parametrize("scripts", [True, False], ids=["scripts", "no-scripts"])
def test_from_the_form_to_a_planned_order(browser: Any, server: Server, scripts: bool) -> None:
    page = opened(browser, java_script_enabled=scripts)
    home = new_study(page, server, f"Does it hold {'with' if scripts else 'without'} scripts?")
    assert page.get_by_text("'crane scale' was never checked with a known weight.").is_visible()
    draw(page, home)
    page.goto(f"{home}/log")
    page.get_by_label("What was done").fill("glued")
    page.get_by_label("Not to be broken for").fill("24")
    page.get_by_label("All of wedged that wait (3)").check()
    page.get_by_role("button", name="Write it down").click()
    assert page.get_by_role("cell", name="glued").count() == 3
    page.goto(f"{home}/measure")
    cells = page.locator("td input")
    columns = page.locator("thead th").count() - 2
    cells.nth(0).fill("310,5")
    if scripts:
        cells.nth(0).press("Enter")
        page.keyboard.type("290")
    else:
        cells.nth(columns).fill("290")
    page.get_by_role("button", name="Save what changed").click()
    page.get_by_text("2 values are kept.").wait_for()
    assert [cells.nth(i).input_value() for i in (0, columns)] == ["310.5", "290"]
    assert page.troubles == []
    page.context.close()


def test_numbers_change_while_a_size_is_typed_and_nothing_is_saved(
    browser: Any, server: Server
) -> None:
    page = opened(browser)
    home = new_study(page, server, "Does the rail hold?")
    page.goto(f"{home}/rig/new?kind=glued+lap")
    page.get_by_label("Name", exact=True).fill("peg")
    page.get_by_label("Material").fill("ash")
    page.get_by_label("Glue", exact=True).fill("pva")
    page.get_by_label("Width").fill("44")
    page.get_by_label("Overlap").fill("20")
    page.get_by_label("It should break by").select_option("glue line shears")
    page.get_by_role("button", name="Save").click()
    page.get_by_role("heading", name="Which part gives first").wait_for()
    page.goto(f"{home}/rig/new?kind=rated+part")
    page.get_by_label("Name", exact=True).fill("hook")
    page.get_by_label("What", exact=True).fill("hook")
    live = page.locator("#live")
    page.get_by_label("Rated").fill("20000")
    live.get_by_text("Weakest link of the rig").wait_for()
    wide = live.inner_text()
    page.get_by_label("Rated").fill("2000")
    page.wait_for_function(
        "before => document.getElementById('live').innerText !== before", arg=wide
    )
    live.get_by_text("too weak").wait_for()
    page.goto(f"{home}/rig")
    assert page.locator(".parts > li").count() == 1
    assert page.troubles == []
    page.context.close()


def test_a_part_is_reckoned_without_scripts_and_without_saving(
    browser: Any, server: Server
) -> None:
    page = opened(browser, java_script_enabled=False)
    page.goto(f"{server.url}/")
    page.get_by_role("link", name="Prepare Coat-rail pegs in ash").click()
    page.goto(f"{page.url}/rig/1")
    page.get_by_label("Span").fill("100")
    page.get_by_role("button", name="Reckon without saving").click()
    assert page.locator("#live").get_by_text("rail over its supports").first.is_visible()
    assert page.get_by_label("Span").input_value() == "100"
    page.context.close()


@pytest.mark.parametrize(
    ("viewport", "scheme"),
    [({"width": 360, "height": 740}, "dark"), (DESK, "light")],
    ids=["phone-dark", "desk-light"],
)
def test_axe_finds_nothing_and_no_page_scrolls_sideways(
    browser: Any, server: Server, viewport: dict[str, int], scheme: str
) -> None:
    from axe_playwright_python.sync_playwright import Axe

    page = browser.new_context(viewport=viewport, color_scheme=scheme).new_page()
    page.goto(f"{server.url}/")
    page.get_by_role("link", name="Prepare Coat-rail pegs in ash").click()
    home = page.url
    found = []
    for address in (
        *(f"{server.url}/", f"{server.url}/new", f"{home}?patient=1"),
        *(f"{home}/{step}" for step in STEPS),
        *(f"{home}/rig/1", f"{home}/rig/new", f"{home}/scales/0", f"{home}/order/new"),
    ):
        page.goto(address)
        for violation in Axe().run(page).response["violations"]:
            nodes = [node["html"][:120] for node in violation["nodes"]]
            found.append((address.removeprefix(server.url), violation["id"], nodes))
        if page.evaluate("document.documentElement.scrollWidth > innerWidth"):
            found.append((address, "scrolls sideways", []))
    assert found == []
    page.context.close()
