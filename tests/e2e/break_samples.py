"""Studies for the tests of Break in a browser, and a person who is counted while typing."""

import secrets

import httpx
from page_checks import PHONE
from playwright.sync_api import expect

MADE = "2026-01-31T09:00:00Z"
TWO_SCALES = """\
title = "Pegs"
groups = ["plain", "wedged"]
reference = "plain"
counts = "pull-out"
unit = "kgf"
sharing = "same-moment"
[[instrument]]
name = "left scale"
capacity = 500
resolution = 0.5
[[instrument]]
name = "right scale"
capacity = 500
resolution = 0.5
"""
ONE_SCALE = """\
title = "Hooks"
groups = ["plain", "wedged"]
reference = "plain"
unit = "kgf"
"""


def new_id():
    return secrets.token_hex(16)


def make_study(url, toml, pieces):
    """Make a study of ``pieces`` pieces P1, P2, …; return its id, its handle and their ids."""
    study, handle = new_id(), f"study-{secrets.token_hex(4)}"
    ids = [new_id() for _ in range(pieces)]
    forms = [_form(study, "study-made", {"toml": toml, "handle": handle})]
    for place, piece in enumerate(ids):
        body = {
            "piece": piece,
            "label": f"P{place + 1}",
            "group": ("plain", "wedged")[place % 2],
            "block": "AB"[place // 2 % 2],
            "order": place + 1,
            "day": 1,
        }
        forms.append(_form(study, "piece-added", body))
    post_events(url, forms)
    return study, handle, ids


def measure(url, study, ids):
    """Weigh and measure every piece."""
    values = {"mass_g": "12.5", "density_kg_m3": "655"}
    post_events(
        url, [_form(study, "piece-measured", {"piece": piece, "values": values}) for piece in ids]
    )


def _form(study, kind, body):
    return {"id": new_id(), "study": study, "made": MADE, "kind": kind, "body": body}


def post_events(url, forms):
    answer = httpx.post(f"{url}/api/v1/events", json={"events": forms}, timeout=30)
    assert answer.status_code == 200, answer.text


def events_of(url, study, *kinds):
    """Return the events of these kinds, in order of arrival."""
    answer = httpx.get(f"{url}/api/v1/studies/{study}/events", timeout=30).json()
    events = [recorded["event"] for recorded in answer["events"]]
    return [event for event in events if event["kind"] in kinds]


def readings_of(url, study):
    """Return (piece, loads) of every reading entered, in order of arrival."""
    entered = events_of(url, study, "reading-entered")
    return [(e["body"]["piece"], tuple(e["body"]["entry"]["loads"])) for e in entered]


def at_the_rig(context, url, handle):
    """Open Break on a new page of ``context`` and read the cautions where they are shown."""
    page = context.new_page()
    page.goto(f"{url}/s/{handle}/break")
    page.wait_for_selector("body[data-ready]")
    if page.is_visible("#safety-form button"):
        page.click("#safety-form button")
    page.wait_for_selector("#card", state="visible")
    return page


def phone(browser, **more):
    return browser.new_context(viewport=PHONE, has_touch=True, is_mobile=True, **more)


def all_sent(page):
    expect(page.locator("#link")).to_have_text("Everything is on the server")


class Person:
    """Types digits, which are not counted, and presses keys and buttons, which are."""

    def __init__(self, page):
        self.page = page
        self.presses = 0

    def digits(self, text):
        assert set(text) <= set("0123456789.")
        self.page.keyboard.type(text)

    def key(self, name):
        self.presses += 1
        self.page.keyboard.press(name)

    def word(self, text):
        self.presses += len(text)
        self.page.keyboard.type(text)

    def tap(self, selector):
        self.presses += 1
        self.page.tap(selector)

    def next_piece(self, label):
        """Wait until another piece than ``label`` is shown, or none is left."""
        shown = self.page.locator("#label:visible, #done:visible h1")
        expect(shown).not_to_have_text(label)
