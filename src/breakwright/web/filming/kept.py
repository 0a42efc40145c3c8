"""What lies on the server's disk of a film beside the film itself: how its displays were marked,
which work reads it, and every picture of the displays for looking it through."""

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from breakwright.bootstrap.bench import write_whole

__all__ = ["FILM_FOLDER", "KeptFilms", "Note"]

FILM_FOLDER = "films"
_ID = re.compile(r"[0-9a-f]{32}")


@dataclass(frozen=True, slots=True)
class Note:
    """``marks`` are the displays as they were marked, one form each; ``job`` reads the film with
    them, None where that was not asked for yet."""

    marks: Sequence[Mapping[str, Any]]
    job: str | None = None


class KeptFilms:
    """The files under ``folder`` for films. Ids are 32 hexadecimal digits, looked at."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder / FILM_FOLDER

    def note(self, video: str) -> Note | None:
        """Return what was noted of the film that the event ``video`` brought."""
        if _ID.fullmatch(video) is None:
            return None
        try:
            noted = json.loads(self._note(video).read_bytes())
            return Note(noted["marks"], noted["job"])
        except (FileNotFoundError, ValueError, KeyError, TypeError):
            return None

    def put_note(self, video: str, note: Note) -> None:
        """Keep the note, whole or not at all."""
        self._folder.mkdir(parents=True, exist_ok=True)
        text = json.dumps({"marks": list(note.marks), "job": note.job})
        write_whole(self._note(video), text.encode())

    def put_bundle(self, film: str, data: bytes) -> None:
        """Keep every picture of the film that the event ``film`` read."""
        self._folder.mkdir(parents=True, exist_ok=True)
        write_whole(self._folder / f"{film}.zip", data)

    def bundle(self, film: str) -> Path | None:
        """Return where every picture of this film lies, if it is still there."""
        path = self._folder / f"{film}.zip"
        return path if _ID.fullmatch(film) and path.is_file() else None

    def _note(self, video: str) -> Path:
        return self._folder / f"{video}.json"
