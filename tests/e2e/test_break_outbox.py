"""Nothing typed is lost: the server down, the tab killed, a file handed in, a private window."""

import json

import httpx
import pytest
from break_samples import (
    ONE_SCALE,
    Person,
    all_sent,
    at_the_rig,
    events_of,
    make_study,
    phone,
    readings_of,
)
from playwright.sync_api import expect
from serving import serving

from postgres import cluster_or_skip


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    with serving(tmp_path_factory.mktemp("outbox")) as running:
        yield running


def _back(server, *pages):
    """Start the server again and tell the pages of the link, as a phone's Wi-Fi does."""
    server.start()
    for page in pages:
        page.evaluate("() => dispatchEvent(new Event('online'))")


@pytest.fixture(autouse=True)
def _server_runs(server):
    yield
    if server.process is None or server.process.poll() is not None:
        server.start()


def _typed(page, *loads):
    for load in loads:
        label = page.inner_text("#label")
        page.fill("#load0", load)
        page.press("#load0", "Enter")
        Person(page).next_piece(label)


def test_typed_while_the_server_is_down_tab_killed_server_back(browser, server):
    check_typed_while_down(browser, server)


def test_the_same_on_postgresql(browser, tmp_path):
    cluster = cluster_or_skip()
    url = cluster.new_database()
    with serving(tmp_path, "--store", url) as server:
        check_typed_while_down(browser, server)
        server.stop()
    cluster.drop(url)


def check_typed_while_down(browser, server):
    study, handle, ids = make_study(server.url, ONE_SCALE, 6)
    context = phone(browser)
    page = at_the_rig(context, server.url, handle)
    page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    _typed(page, "41")
    all_sent(page)
    # Once more, so that the worker, which was not there the first time, keeps the page.
    page.reload()
    page.wait_for_selector("body[data-ready]")
    server.kill()
    _typed(page, "42", "43")
    expect(page.locator("#link")).to_contain_text("No link to the server")
    expect(page.locator("#waiting-head")).to_have_text("2 wait on this device")
    # The next number is typed but not saved, and then the tab is gone, as when it is killed.
    page.keyboard.type("44")
    page.close(run_before_unload=False)

    page = context.new_page()
    page.goto(f"{server.url}/s/{handle}/break")  # without a link, from the copy kept here
    page.wait_for_selector("body[data-ready]")
    assert page.inner_text("#label") == "P4"
    assert page.input_value("#load0") == "44"
    expect(page.locator("#link")).to_contain_text("The list is as of")
    expect(page.locator("#waiting-head")).to_have_text("2 wait on this device")
    page.press("#load0", "Enter")
    Person(page).next_piece("P4")

    _back(server, page)
    all_sent(page)
    expected = [(ids[0], ("41",)), (ids[1], ("42",)), (ids[2], ("43",)), (ids[3], ("44",))]
    assert readings_of(server.url, study) == expected
    entries = [e["body"]["entry"] for e in events_of(server.url, study, "reading-entered")]
    assert [entry["order"] for entry in entries] == [1, 2, 3, 4]
    context.close()


def test_the_answer_lost_on_its_way_makes_no_second_reading(browser, server):
    study, handle, ids = make_study(server.url, ONE_SCALE, 2)
    context = phone(browser, service_workers="block")
    page = at_the_rig(context, server.url, handle)
    all_sent(page)
    lost = []

    def lose(route):
        if lost:
            route.continue_()
        else:
            lost.append(route.request.post_data)
            httpx.post(
                route.request.url, content=lost[0], headers={"Content-Type": "application/json"}
            )
            route.abort()

    page.route("**/api/v1/events", lose)
    _typed(page, "41")
    page.wait_for_selector("#waiting", state="visible")
    all_sent(page)
    assert lost
    assert readings_of(server.url, study) == [(ids[0], ("41",))]
    context.close()


def test_an_amendment_waits_on_the_device_too(browser, server):
    study, handle, ids = make_study(server.url, ONE_SCALE, 2)
    context = phone(browser)
    page = at_the_rig(context, server.url, handle)
    _typed(page, "41")
    all_sent(page)
    page.goto(f"{server.url}/s/{handle}/piece/{ids[0]}")
    page.wait_for_selector("body[data-ready]")
    server.kill()
    page.click("summary:has-text('Amend the reading')")
    page.fill("#a-load0", "47")
    page.fill("#a-reason", "a 7, not a 1")
    page.click("button:has-text('Amend')")
    expect(page.locator("#link")).to_contain_text("this waits on the device")
    server.start()
    page = at_the_rig(context, server.url, handle)
    all_sent(page)
    (amended,) = events_of(server.url, study, "reading-amended")
    (entered,) = events_of(server.url, study, "reading-entered")
    assert amended["body"]["bases"] == [entered["id"]]
    assert amended["body"]["entry"]["loads"] == ["47"]
    assert amended["body"]["entry"]["order"] == 1
    context.close()


def test_two_tabs_of_one_device_send_each_reading_once(browser, server):
    study, handle, ids = make_study(server.url, ONE_SCALE, 4)
    context = phone(browser)
    first = at_the_rig(context, server.url, handle)
    second = at_the_rig(context, server.url, handle)
    all_sent(first)
    server.kill()
    _typed(first, "41")
    _back(server, first, second)
    all_sent(first)
    all_sent(second)
    assert readings_of(server.url, study) == [(ids[0], ("41",))]
    context.close()


def test_the_file_of_what_waits_is_handed_in_on_another_device(browser, server, tmp_path):
    study, handle, ids = make_study(server.url, ONE_SCALE, 4)
    context = phone(browser)
    page = at_the_rig(context, server.url, handle)
    all_sent(page)
    server.kill()
    _typed(page, "41", "42")
    page.wait_for_selector("#waiting", state="visible")
    with page.expect_download() as download:
        page.click("#save-file")
    file = tmp_path / download.value.suggested_filename
    download.value.save_as(file)
    assert file.name.startswith("breakwright-waiting-")
    # The phone itself never gets its link back before the file is handed in at the desk.
    context.route("**/api/v1/events", lambda route: route.abort())
    server.start()
    desk = browser.new_page(java_script_enabled=False)
    desk.goto(f"{server.url}/s/{handle}/break")
    desk.click("summary:has-text('Hand in a file')")
    desk.set_input_files("#waited", file)
    desk.click("button:has-text('Hand it in')")
    assert "taken in" in desk.inner_text("#echo")
    expected = [(ids[0], ("41",)), (ids[1], ("42",))]
    assert readings_of(server.url, study) == expected
    # The file is the body of a call of the API: a script hands it in as well, harmlessly.
    answer = httpx.post(f"{server.url}/api/v1/events", json=json.loads(file.read_text("utf-8")))
    assert answer.json() == {"new": [], "known": 2}
    context.unroute("**/api/v1/events")
    page.evaluate("() => dispatchEvent(new Event('online'))")
    all_sent(page)
    assert readings_of(server.url, study) == expected
    desk.close()
    context.close()


def test_a_photo_waits_on_the_device_too(browser, server, tmp_path):
    from PIL import Image

    picture = tmp_path / "break.png"
    Image.new("RGB", (40, 30), (200, 80, 20)).save(picture)
    study, handle, ids = make_study(server.url, ONE_SCALE, 2)
    context = phone(browser)
    page = at_the_rig(context, server.url, handle)
    all_sent(page)
    server.kill()
    page.set_input_files("#photo-file", picture)
    expect(page.locator("#waiting-head")).to_have_text("1 waits on this device")
    _back(server, page)
    all_sent(page)
    photos = events_of(server.url, study, "photo-added")
    assert [photo["body"]["piece"] for photo in photos] == [ids[0]]
    page.goto(f"{server.url}/s/{handle}/piece/{ids[0]}")
    shown = page.locator(".photos img")
    shown.scroll_into_view_if_needed()
    expect(shown).to_have_js_property("naturalWidth", 40)
    context.close()


def test_a_browser_that_keeps_nothing_says_so_and_sends_at_once(browser, server):
    study, handle, ids = make_study(server.url, ONE_SCALE, 3)
    context = phone(browser, service_workers="block")
    context.add_init_script(
        "IDBFactory.prototype.open = () => { throw new DOMException('refused', 'SecurityError'); }"
    )
    page = at_the_rig(context, server.url, handle)
    expect(page.locator("#link")).to_contain_text("keeps nothing")
    _typed(page, "41")
    assert readings_of(server.url, study) == [(ids[0], ("41",))]
    server.kill()
    page.fill("#load0", "42")
    page.press("#load0", "Enter")
    expect(page.locator("#ask")).to_contain_text("Not saved: no link")
    assert page.input_value("#load0") == "42"
    assert page.inner_text("#label") == "P2"
    context.close()
