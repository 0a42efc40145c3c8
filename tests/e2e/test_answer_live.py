"""The Answer page of a real server in a real browser: while testing goes on, and afterwards."""

import itertools
import secrets
import zipfile

import httpx
import pytest
from axe_playwright_python.sync_playwright import Axe
from page_checks import DESK, PHONE
from serving import serving

from breakwright.model.event import Entry, Event, PieceAdded, ReadingEntered, Undone
from breakwright.model.trial import Ending
from breakwright.usecases.bench.event_form import event_form

LONG_MS = 60_000
HANDLE = "coat-rail-pegs-in-ash"
SCREENS = list(itertools.product((PHONE, DESK), ("light", "dark")))
NOW = "2026-01-31T09:00:00.000Z"


class Bench:
    """A server with the demo study, and the few calls a script would make."""

    def __init__(self, server):
        self.server = server
        self.study = httpx.get(f"{server.url}/api/v1/studies/{HANDLE}", timeout=60.0).json()["id"]

    @property
    def page(self):
        return f"{self.server.url}/s/{HANDLE}/answer"

    def send(self, *bodies):
        events = [Event(secrets.token_hex(16), self.study, NOW, b, device="test") for b in bodies]
        form = {"events": [event_form(event) for event in events]}
        answer = httpx.post(f"{self.server.url}/api/v1/events", json=form, timeout=60.0)
        assert answer.status_code == 200, answer.text
        return events

    def add(self, *, group, loads):
        """A piece more, broken: what a phone at the bench would send."""
        piece = secrets.token_hex(16)
        entry = Entry(loads, "kgf", Ending.BROKE, "pull-out")
        label = f"X{secrets.token_hex(3)}"
        return self.send(PieceAdded(piece, label, group), ReadingEntered(piece, entry))

    def undo(self, event):
        self.send(Undone(event.id))


@pytest.fixture(scope="module")
def bench(tmp_path_factory):
    with serving(tmp_path_factory.mktemp("answer"), "--demo") as server:
        yield Bench(server)


@pytest.fixture
def open_page(browser, bench):
    """Open the Answer page on a screen; everything the browser complains of is collected."""
    contexts = []

    def opened(screen=DESK, colours="light", **wish):
        context = browser.new_context(viewport=screen, color_scheme=colours, **wish)
        contexts.append(context)
        page = context.new_page()
        page.complaints = []
        page.on("console", lambda m: m.type == "error" and page.complaints.append(m.text))
        page.on("pageerror", lambda error: page.complaints.append(str(error)))
        page.asked = []
        page.on("request", lambda request: page.asked.append(request.url))
        page.goto(bench.page)
        return page

    yield opened
    for context in contexts:
        context.close()


def calibrated(page):
    page.get_by_text("Calibrated:", exact=True).wait_for(timeout=LONG_MS)


def drawn(page):
    page.locator(".chart .drawn canvas").nth(3).wait_for(timeout=LONG_MS)


def job_of(page):
    return page.locator('[data-part="verdict"] .work').get_attribute("data-job")


def test_quick_first_then_calibrated(bench, open_page):
    page = open_page()
    page.get_by_text("Quick:", exact=True).wait_for(timeout=LONG_MS)
    assert page.locator(".verdict .headline").count() == 1
    calibrated(page)
    drawn(page)
    assert page.locator(".verdict .headline").inner_text().startswith("«wedged» held 1.34")
    assert page.locator("#said").inner_text().startswith("Calibrated:")
    # Pictures for browsers without scripts are neither drawn nor sent to others.
    assert [url for url in page.asked if "/answer/chart/" in url] == []
    assert page.complaints == []


@pytest.mark.parametrize(("screen", "colours"), SCREENS)
def test_for_everyone_on_every_screen(open_page, screen, colours):
    page = open_page(screen, colours)
    calibrated(page)
    drawn(page)
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    small = page.evaluate(
        "[...document.querySelectorAll('main button, main a.button, main summary')]"
        ".filter(b => b.offsetHeight && b.offsetHeight < 43.5).map(b => b.textContent)"
    )
    assert small == []
    assert page.complaints == []


def test_a_dot_pointed_at_says_which_piece_it_is(open_page):
    page = open_page()
    calibrated(page)
    drawn(page)
    canvas = page.locator('.chart[data-name="readings"] canvas')
    canvas.scroll_into_view_if_needed()
    box = canvas.bounding_box()
    tip = page.locator(".tip")
    for across, down in itertools.product(range(20, int(box["width"]), 6), range(40, 100, 6)):
        page.mouse.move(box["x"] + across, box["y"] + down)
        if tip.is_visible():
            break
    assert "kgf" in tip.inner_text()
    assert page.complaints == []


def test_a_new_reading_reaches_a_page_that_is_open(bench, open_page):
    page = open_page(PHONE)
    calibrated(page)
    page.locator("#closer summary").click()
    before = page.locator(".rests strong").inner_text()
    first = int(before.split()[0])
    added, reading = bench.add(group="plain", loads=("31.00", "30.00"))
    page.get_by_text(f"{first + 1} of", exact=False).first.wait_for(timeout=LONG_MS)
    page.get_by_text("Quick:", exact=True).wait_for(timeout=LONG_MS)
    # Progress is found again by a page that is loaded anew, and can be stopped there.
    page.locator('[data-part="verdict"] progress').wait_for(timeout=LONG_MS)
    job = job_of(page)
    other = open_page(DESK)
    other.locator('[data-part="verdict"] progress').wait_for(timeout=LONG_MS)
    assert job_of(other) == job
    other.locator(f"#stop-{job}").click()
    page.get_by_text("The calibrated answer was stopped.", exact=False).wait_for(timeout=LONG_MS)
    other.locator("#again").wait_for(timeout=LONG_MS)
    # An undone reading gives back the answer of before; what a person had opened is open.
    bench.undo(reading)
    bench.undo(added)
    calibrated(page)
    assert page.locator(".rests strong").inner_text() == before
    assert page.locator("#closer").get_attribute("open") is not None
    assert page.complaints == []


def test_work_is_found_again_after_the_server_was_killed(bench, open_page):
    added, reading = bench.add(group="wedged", loads=("42.00", "40.00"))
    page = open_page()
    page.locator('[data-part="verdict"] progress').wait_for(timeout=LONG_MS)
    job = job_of(page)
    bench.server.kill()
    bench.server.start()
    page.goto(bench.page)
    page.locator('[data-part="verdict"] progress').wait_for(timeout=LONG_MS)
    assert job_of(page) == job
    page.locator(f"#stop-{job}").click()
    page.locator("#again").wait_for(timeout=LONG_MS)
    bench.undo(reading)
    bench.undo(added)


def test_without_scripts_the_page_says_and_shows_the_same(bench, open_page):
    calibrated(open_page())
    page = open_page(PHONE, java_script_enabled=False)
    assert page.get_by_text("Calibrated:", exact=True).count() == 1
    pictures = page.locator(".chart img")
    assert pictures.count() == 4
    for k in range(4):
        address = pictures.nth(k).get_attribute("src")
        shown = httpx.get(f"{bench.server.url}{address}", timeout=60.0)
        assert shown.headers["content-type"] == "image/svg+xml"
        assert "<desc>" in shown.text
    page.locator("#make-package").click()
    page.locator("#get-package").wait_for(timeout=LONG_MS)


def test_downloads_open(bench, open_page, tmp_path):
    page = open_page()
    calibrated(page)
    for kind, ending in (("report", "html"), ("pictures", "zip")):
        page.locator(f"#make-{kind}").click()
        link = page.locator(f"#get-{kind}")
        link.wait_for(timeout=LONG_MS)
        with page.expect_download() as coming:
            link.click()
        path = tmp_path / coming.value.suggested_filename
        assert path.name.endswith(f".{ending}")
        coming.value.save_as(path)
        if ending == "zip":
            with zipfile.ZipFile(path) as archive:
                assert archive.testzip() is None
        else:
            assert "What this does not show" in path.read_text(encoding="utf-8")
    assert page.complaints == []
