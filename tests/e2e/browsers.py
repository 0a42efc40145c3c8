"""Which browsers may be there, and how one is started for tests."""

BROWSERS = ("chromium", "chromium-browser")
SWITCHES = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
