"""A bench in memory with one study, for the tests of Break, and its pages called directly."""

import asyncio
import html
import re
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime

import httpx

from breakwright.model.event import PieceAdded, PieceMeasured, PreparationLogged, StudyMade
from breakwright.store.memory import MemoryStore
from breakwright.usecases.bench.bench import Bench
from breakwright.web.app import make_app
from breakwright.web.services import Services

NOW = datetime(2026, 1, 31, 9, 30, tzinfo=UTC)
STUDY = "a" * 32
PIECES = tuple(f"{n:032x}" for n in range(0xB1, 0xB5))
TOML = """\
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


class Rig:
    """A study of four pieces, of which the first was measured and the second must wait."""

    def __init__(self, folder, toml=TOML):
        store = MemoryStore()
        self.services = Services(Bench(store), store, folder, clock=lambda: NOW)
        self.app = make_app(self.services)
        self.record(StudyMade(toml, "pegs"))
        for place, piece in enumerate(PIECES):
            group = ("plain", "wedged")[place % 2]
            self.record(PieceAdded(piece, f"P{place + 1}", group, block="A", order=place + 1))
        self.record(PieceMeasured(PIECES[0], {"mass_g": "12.5"}))
        glued = "2026-01-31T08:00:00+00:00"
        self.record(PreparationLogged("glued", (PIECES[1],), glued, wait_h=24.0))

    def record(self, body):
        self.services.record([self.services.event(STUDY, body)])

    @property
    def state(self):
        return self.services.bench.state(STUDY)

    def piece(self, place):
        return self.state.piece(PIECES[place])

    def get(self, path):
        return self._ask("GET", path)

    def post(self, path, **more):
        return self._ask("POST", path, **more)

    def _ask(self, how, path, **more):
        async def ask():
            transport = httpx.ASGITransport(app=self.app)
            async with httpx.AsyncClient(transport=transport, base_url="http://bench") as there:
                return await there.request(how, path, **more)

        # Not in this thread: the browser of other tests may have left its loop running here.
        with ThreadPoolExecutor(1) as aside:
            return aside.submit(asyncio.run, ask()).result()

    def form(self, path="/s/pegs/break"):
        """Return the fields of the form on the page at the rig, as a browser would send them."""
        text = self.get(path).text
        inside = text[
            text.index('id="reading"') : text.index("</form>", text.index('id="reading"'))
        ]
        fields = dict(re.findall(r'<input[^>]* name="(\w+)"[^>]* value="([^"]*)"', inside))
        fields.pop("decimal", None)
        return {"unit": "kgf", **fields}

    def enter(self, *loads, end="broke", **more):
        """Fill the form with ``loads`` and press the button of ``end``."""
        given = {f"load{place}": load for place, load in enumerate(loads)}
        return self.post("/s/pegs/break", data={**self.form(), **given, "end": end, **more})


def shown(answer):
    """Return the text of a page as a person reads it, without its scripts' data."""
    bare = re.sub(r"<script.*?</script>|<[^>]+>", " ", answer.text, flags=re.DOTALL)
    return " ".join(html.unescape(bare).split())
