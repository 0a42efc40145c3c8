"""Break without scripts, and against axe-core's accessibility rules in light and dark."""

import httpx
import pytest
from break_samples import (
    ONE_SCALE,
    TWO_SCALES,
    at_the_rig,
    events_of,
    make_study,
    new_id,
    phone,
    post_events,
    readings_of,
)
from serving import serving


@pytest.fixture(scope="module")
def url(tmp_path_factory):
    with serving(tmp_path_factory.mktemp("break-plain")) as server:
        yield server.url


def test_the_whole_work_without_scripts(browser, url):
    study, handle, ids = make_study(url, TWO_SCALES, 5)
    context = browser.new_context(java_script_enabled=False, viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto(f"{url}/s/{handle}/break")
    assert not page.is_visible("#reading")  # the cautions come first
    page.click("#safety-form button")

    page.fill("#load0", "41.5")
    page.fill("#load1", "40")
    page.press("#load1", "Enter")
    assert page.inner_text("#label") == "P2"
    assert "together 81.5 kgf; counts as measured" in page.inner_text("#echo").replace("\xa0", " ")

    page.fill("#load0", "1,234")
    page.fill("#load1", "40")
    page.click("#main-end")
    assert page.inner_text("#label") == "P2"
    assert page.input_value("#load0") == "1,234"
    page.check("input[name=decimal][value=comma]")
    page.click("#main-end")
    assert page.inner_text("#label") == "P3"

    page.fill("#load0", "30")
    page.fill("#load1", "31")
    page.click("button[value=other]")
    assert page.input_value("#load1") == "31"
    page.fill("#failure", "shank")
    page.press("#failure", "Enter")
    assert page.inner_text("#label") == "P4"
    assert "broke another way" in page.inner_text("#echo")

    page.fill("#load0", "12")
    page.fill("#load1", "13")
    page.click("button[value=unfair]")
    page.fill("#reason", "strap slipped")
    page.press("#reason", "Enter")
    assert page.inner_text("#label") == "P5"
    assert "Left out: strap slipped" in page.inner_text("#echo")
    page.click("#undo button")
    assert page.inner_text("#label") == "P4"

    assert readings_of(url, study) == [
        (ids[0], ("41.5", "40")),
        (ids[1], ("1,234", "40")),
        (ids[2], ("30", "31")),
        (ids[3], ("12", "13")),
    ]
    assert len(events_of(url, study, "undone")) == 2

    page.click("summary:has-text('All pieces')")
    page.click("a:has-text('Show them')")
    page.click("#pieces a:has-text('P1')")
    page.click("summary:has-text('Amend the reading')")
    page.fill("#a-load0", "43.5")
    page.fill("#a-reason", "misread a 3 as a 1")
    page.click("button:has-text('Amend')")
    assert "43.5 + 40" in page.inner_text("section[aria-labelledby=counts]")
    page.click("summary:has-text('Leave the piece out')")
    page.fill("#v-reason", "a knot")
    page.click("button:has-text('Leave it out')")
    assert "Left out: a knot" in page.inner_text("main")
    page.click("summary:has-text('Count it again')")
    page.fill("#r-reason", "the knot is far off")
    page.click("button:has-text('Count it again')")
    assert "Left out:" not in page.inner_text("main").split("All that happened")[0]
    context.close()


def _clash(url, study, piece):
    for load in ("40", "41"):
        entry = {"loads": [load, "40"], "unit": "kgf", "ended": "broke"}
        form = {
            "id": new_id(),
            "study": study,
            "made": "2026-01-31T10:00:00Z",
            "kind": "reading-entered",
            "body": {"piece": piece, "entry": entry},
            "device": f"phone {load}",
        }
        post_events(url, [form])


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_at_phone_size(browser, url, scheme):
    from axe_playwright_python.sync_playwright import Axe

    study, handle, ids = make_study(url, TWO_SCALES, 4)
    _clash(url, study, ids[0])
    context = phone(browser, color_scheme=scheme, bypass_csp=True)
    page = context.new_page()
    page.goto(f"{url}/s/{handle}/break")
    page.wait_for_selector("body[data-ready]")
    problems = {"cautions": Axe().run(page)}
    page.click("#safety-form button")
    page.wait_for_selector("#card", state="visible")
    page.fill("#load0", "1,234")
    page.fill("#load1", "40")
    page.click("#main-end")
    problems["asked"] = Axe().run(page)
    page.click("#ask button")
    page.click("button[value=other]")
    for summary in page.locator("main summary").all():
        summary.click()
    problems["all open"] = Axe().run(page)
    page.goto(f"{url}/s/{handle}/piece/{ids[0]}")
    problems["clash"] = Axe().run(page)
    page.goto(f"{url}/s/{handle}/piece/{ids[1]}")
    for summary in page.locator("main summary").all():
        summary.click()
    problems["piece"] = Axe().run(page)
    found = {
        name: [(v["id"], [n["html"][:120] for n in v["nodes"]]) for v in r.response["violations"]]
        for name, r in problems.items()
    }
    assert found == {name: [] for name in found}
    context.close()


CONTRAST = """ids => {
  const light = text => {
    const parts = text.match(/[\\d.]+/g).slice(0, 3).map(v => {
      const c = v / 255;
      return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2];
  };
  const ground = node => {
    const colour = getComputedStyle(node).backgroundColor;
    return /, 0\\)$/.test(colour) ? ground(node.parentElement) : colour;
  };
  return ids.map(id => {
    const node = document.querySelector(id);
    const [a, b] = [light(getComputedStyle(node).color), light(ground(node))];
    return [id, (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05)];
  });
}"""


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_main_things_stand_out_in_sunlight_and_in_the_dark(browser, url, scheme):
    _, handle, _ = make_study(url, ONE_SCALE, 2)
    context = phone(browser, color_scheme=scheme)
    page = at_the_rig(context, url, handle)
    main = [
        "#label",
        "#facts",
        "#load0",
        "#main-end",
        "button[value=over-range]",
        "#since",
        "#turn",
    ]
    # 7:1 is WCAG 2.2's enhanced contrast (success criterion 1.4.6); its formula is above.
    assert [(name, ratio) for name, ratio in page.evaluate(CONTRAST, main) if ratio < 7.0] == []
    context.close()


def test_a_narrow_phone_need_not_scroll_sideways_and_buttons_fit_a_thumb(browser, url):
    study, handle, ids = make_study(url, TWO_SCALES, 3)
    _clash(url, study, ids[2])
    context = browser.new_context(viewport={"width": 360, "height": 640})
    page = at_the_rig(context, url, handle)
    for address in (f"/s/{handle}/break", f"/s/{handle}/piece/{ids[2]}"):
        page.goto(url + address)
        page.wait_for_selector("body[data-ready]")
        for summary in page.locator("main summary").all():
            summary.click()
        assert page.evaluate("document.documentElement.scrollWidth") <= 360
        sizes = page.evaluate(
            "[...document.querySelectorAll('main button, main input, main select, main summary')]"
            ".filter(b => b.offsetParent && !['radio', 'hidden'].includes(b.type))"
            ".map(b => [b.id || b.textContent, b.getBoundingClientRect().height])"
        )
        assert [name for name, height in sizes if height < 43.5] == []
    context.close()


def test_a_page_of_a_study_that_is_not_there_says_so(url):
    assert httpx.get(f"{url}/s/nothing/break").status_code == 404
