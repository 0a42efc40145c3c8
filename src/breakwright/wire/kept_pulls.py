"""Pulls kept in a folder until they are readings: nothing depends on this program living on.

Each pull is a JSON file and a CSV trace beside it. The ids under which it will be sent are made
once, when it is kept, so that sending it again later changes nothing.
"""

import json
import secrets
from collections.abc import Callable
from dataclasses import asdict, dataclass, replace
from enum import StrEnum
from pathlib import Path
from typing import Any

from breakwright.model.event import Entry
from breakwright.model.interval import Interval
from breakwright.model.trial import Ending
from breakwright.reading.stream_peak import Doubt, Peak
from breakwright.wire.trace_file import trace_text

__all__ = ["KeptPull", "KeptPulls", "Standing"]

_VERSION = 1

Writer = Callable[[Path, str], None]


class Standing(StrEnum):
    """``OPEN``: nobody has said yet what it is. ``DECIDED``: to be sent. ``ACKNOWLEDGED``: the
    server has the reading, not yet the trace. ``SENT``: it has both. ``LEFT``: no reading."""

    OPEN = "open"
    DECIDED = "decided"
    ACKNOWLEDGED = "acknowledged"
    SENT = "sent"
    LEFT = "left"


@dataclass(frozen=True, slots=True)
class KeptPull:
    """``id`` and ``trace_id`` are those of the events to be; ``made`` when the pull ended (ISO
    8601, UTC), ``day`` its day at the bench. ``study``, ``piece`` (ids), ``label`` and
    ``entry`` are None until it is decided what the pull is; ``server`` is where it goes."""

    id: str
    trace_id: str
    made: str
    day: str
    peak: Peak
    standing: Standing = Standing.OPEN
    server: str | None = None
    study: str | None = None
    piece: str | None = None
    label: str | None = None
    entry: Entry | None = None

    @property
    def waits(self) -> bool:
        """Whether something of it has still to be sent."""
        return self.standing in (Standing.DECIDED, Standing.ACKNOWLEDGED)


class KeptPulls:
    """The pulls in ``folder``; ``write`` replaces a file in one piece and onto the disk."""

    def __init__(self, folder: Path, *, write: Writer) -> None:
        self.folder = folder
        self._write = write
        folder.mkdir(parents=True, exist_ok=True)

    def keep(self, peak: Peak, samples: Any, *, made: str, day: str) -> KeptPull:
        """Keep a new pull with its trace, on the disk before this returns."""
        pull = KeptPull(secrets.token_hex(16), secrets.token_hex(16), made, day, peak)
        samples = tuple(samples)
        text = trace_text(samples, since=samples[0].time)
        self._write(self.trace_path(pull), text)
        self.put(pull)
        return pull

    def put(self, pull: KeptPull) -> KeptPull:
        """Write how ``pull`` stands now."""
        form = {"version": _VERSION, **asdict(pull)}
        text = json.dumps(form, indent=1, default=str, allow_nan=True)
        self._write(self.folder / f"pull-{pull.id}.json", text + "\n")
        return pull

    def leave(self, pull: KeptPull) -> KeptPull:
        """Keep that ``pull`` is no reading."""
        return self.put(replace(pull, standing=Standing.LEFT))

    def read(self, pull_id: str) -> KeptPull:
        """Return a pull as its file has it. Raises OSError, ValueError, KeyError, TypeError."""
        text = (self.folder / f"pull-{pull_id}.json").read_text(encoding="utf-8")
        return _pull_of(json.loads(text))

    def trace_path(self, pull: KeptPull) -> Path:
        """Where the trace of ``pull`` lies."""
        return self.folder / f"pull-{pull.id}.csv"

    def unfinished(self) -> tuple[list[KeptPull], list[Path]]:
        """Return the pulls that are open or still to be sent, oldest first, and the files that
        cannot be read."""
        found: list[KeptPull] = []
        bad: list[Path] = []
        for path in sorted(self.folder.glob("pull-*.json")):
            try:
                pull = self.read(path.stem.removeprefix("pull-"))
            except (OSError, ValueError, KeyError, TypeError):
                bad.append(path)
                continue
            if pull.standing is Standing.OPEN or pull.waits:
                found.append(pull)
        return sorted(found, key=lambda pull: pull.made), bad


def _pull_of(form: dict[str, Any]) -> KeptPull:
    if form.pop("version") != _VERSION:
        raise ValueError("kept by another version")
    peak = dict(form.pop("peak"))
    peak["interval"] = Interval(**peak["interval"])
    peak["ending"] = Ending(peak["ending"])
    peak["doubts"] = tuple(Doubt(word) for word in peak["doubts"])
    entry = form.pop("entry")
    if entry is not None:
        entry = Entry(**{**entry, "loads": tuple(entry["loads"]), "ended": Ending(entry["ended"])})
    standing = Standing(form.pop("standing"))
    pull = KeptPull(**form, peak=Peak(**peak), standing=standing)
    return replace(pull, entry=entry)
