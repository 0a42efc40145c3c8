"""The phone's browser is killed with readings waiting on it, and the server is down as well."""

import contextlib
import os
import shutil
import signal
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from break_samples import ONE_SCALE, Person, all_sent, at_the_rig, make_study, readings_of
from browsers import BROWSERS, SWITCHES
from page_checks import PHONE
from playwright.sync_api import Error, expect
from serving import Server, serving


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Server]:
    with serving(tmp_path) as running:
        yield running


@pytest.fixture
def driver(browser: Any) -> Any:
    """What starts browsers, where one starts at all."""
    return browser.browser_type


def power_off(profile: Path) -> int:
    """Kill the browser that keeps its data in ``profile``; return how many processes were hit."""
    hit = 0
    for process in Path("/proc").iterdir():
        # Its helpers end with it; those that are gone meanwhile cannot be read.
        with contextlib.suppress(OSError):
            words = (process / "cmdline").read_bytes().split(b"\0")
            if f"--user-data-dir={profile}".encode() in words:
                os.kill(int(process.name), signal.SIGKILL)
                hit += 1
    return hit


def test_what_was_typed_outlives_the_phone(driver: Any, server: Server, tmp_path: Path) -> None:
    profile = tmp_path / "profile"
    found = next(path for name in BROWSERS if (path := shutil.which(name)))

    def switched_on() -> Any:
        return driver.launch_persistent_context(
            profile, executable_path=found, args=list(SWITCHES), viewport=PHONE
        )

    study, handle, ids = make_study(server.url, ONE_SCALE, 4)
    context = switched_on()
    page = at_the_rig(context, server.url, handle)
    all_sent(page)
    server.kill()
    for load in ("41", "42.5", "43"):
        label = page.inner_text("#label")
        page.fill("#load0", load)
        page.press("#load0", "Enter")
        Person(page).next_piece(label)
    expect(page.locator("#waiting-head")).to_have_text("3 wait on this device")
    gone: list[bool] = []
    context.on("close", lambda _: gone.append(True))
    assert power_off(profile) >= 1
    for _ in range(200):
        if gone:
            break
        with contextlib.suppress(Error):
            page.wait_for_timeout(50)
    assert gone

    server.start()
    assert readings_of(server.url, study) == []
    context = switched_on()
    page = context.new_page()
    page.goto(f"{server.url}/s/{handle}/break")
    page.wait_for_selector("body[data-ready]")
    all_sent(page)
    assert readings_of(server.url, study) == list(
        zip(ids, (("41",), ("42.5",), ("43",)), strict=False)
    )
    context.close()
