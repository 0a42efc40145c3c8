"""A real browser (Debian's Chromium) for the tests of pages; skipped plainly where none starts."""

import os
import shutil
from collections.abc import Iterator
from typing import Any

import pytest
from browsers import BROWSERS, SWITCHES


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    found = next((path for name in BROWSERS if (path := shutil.which(name))), None)
    if found is None:
        words = "no Chromium was found; install Debian's package chromium to run this test"
        if os.environ.get("CI") == "true":
            pytest.fail(words)
        pytest.skip(words)
    from playwright.sync_api import sync_playwright

    try:
        driver = sync_playwright().start()
        running = driver.chromium.launch(executable_path=found, args=list(SWITCHES))
    except Exception as error:  # the driver's own kinds differ by what the machine lacks
        words = f"the browser's driver does not start here: {error}".splitlines()[0]
        if os.environ.get("CI") == "true":
            pytest.fail(words)
        pytest.skip(words)
    yield running
    running.close()
    driver.stop()
