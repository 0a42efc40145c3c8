"""Take the README's pictures of the pages, from the demo study as it stands half way.

    python scripts/page_pictures.py

Needs what the tests of pages need: Debian's chromium, or another, and its driver (`make test`
installs both).
"""

import datetime as dt
import json
import os
import secrets
import shutil
import subprocess
import sys
import tempfile
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from breakwright.bootstrap.bench import DEMO_HANDLE, demo_events
from breakwright.model.event import Event, ReadingEntered, SafetyRead
from breakwright.usecases.bench.event_form import event_form

FOLDER = Path(__file__).parent.parent / "docs" / "pictures"
COMMAND = Path(sys.executable).parent / "breakwright"
READ = 15  # of the demo's pieces, when the pictures are taken
PHONE, DESK = {"width": 390, "height": 844}, {"width": 1180, "height": 820}
ROOM = f"/s/{DEMO_HANDLE}"


def half_way() -> list[Event]:
    """Return the demo study's events as if its testing were going on."""
    now = dt.datetime.now(dt.UTC).isoformat(timespec="milliseconds")[:-6] + "Z"
    events, read = [], 0
    for event in demo_events(now, lambda: secrets.token_hex(16)):
        read += isinstance(event.body, ReadingEntered)
        if read <= READ or not isinstance(event.body, ReadingEntered):
            events.append(event)
    today = dt.datetime.now().astimezone().date().isoformat()
    study = events[0].study
    return [*events, Event(secrets.token_hex(16), study, now, SafetyRead(today))]


@contextmanager
def server(folder: Path) -> Iterator[str]:
    """Give the address of a server with an empty store in ``folder``."""
    process = subprocess.Popen(
        [COMMAND, "serve", "--port", "0", "--store", folder / "bench.sqlite"],
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1", "BREAKWRIGHT_DATA": str(folder)},
    )
    assert process.stdout is not None
    try:
        line = next(line for line in process.stdout if "://" in line)
        yield line.split()[-1].rstrip("/")
    finally:
        process.terminate()
        process.wait()


def send(url: str, events: list[Event]) -> None:
    data = json.dumps({"events": [event_form(event) for event in events]}).encode()
    headers = {"Content-Type": "application/json"}
    with urllib.request.urlopen(urllib.request.Request(f"{url}/api/v1/events", data, headers)):
        pass


def take(browser: Any, url: str, scheme: str) -> None:
    """Take every picture in one colour scheme."""

    def opened(size: dict[str, int], path: str) -> Any:
        page = browser.new_context(
            viewport=size, color_scheme=scheme, device_scale_factor=1.5
        ).new_page()
        page.goto(url + path)
        return page

    page = opened(PHONE, f"{ROOM}/break")
    fields = page.locator("input.load")
    fields.nth(0).fill("31.85")
    fields.nth(1).fill("34.20")
    page.screenshot(path=FOLDER / f"break-{scheme}.png")
    page = opened(PHONE, f"{ROOM}/answer")
    page.get_by_text("Calibrated:").first.wait_for(timeout=120_000)
    page.screenshot(path=FOLDER / f"answer-{scheme}.png")
    page = opened(DESK, f"{ROOM}/prepare")
    page.get_by_text("is too weak").first.wait_for(timeout=60_000)
    page.screenshot(path=FOLDER / f"prepare-{scheme}.png")


def main() -> None:
    from playwright.sync_api import sync_playwright

    found = shutil.which("chromium") or shutil.which("chromium-browser")
    with tempfile.TemporaryDirectory() as folder, server(Path(folder)) as url:
        send(url, half_way())
        with sync_playwright() as driver:
            browser = driver.chromium.launch(executable_path=found, args=["--no-sandbox"])
            for scheme in ("light", "dark"):
                take(browser, url, scheme)
            browser.close()


if __name__ == "__main__":
    main()
