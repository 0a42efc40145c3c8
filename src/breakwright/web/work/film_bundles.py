"""The bundle of a film that was read, opened: what was read, and pictures by display and time."""

import io
import json
import re
import zipfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from breakwright.model.errors import ImpossibleValue
from breakwright.usecases.bench.ports import EventStore
from breakwright.usecases.bench.state import FilmState
from breakwright.web.filming.kept import KeptFilms

__all__ = ["FilmBundle", "open_bundle"]

_CROP = re.compile(r"crops/(display-(\d{1,3})-at-(\d{1,7}\.\d{3})s\.jpg)")


class FilmBundle:
    """``crops`` has, for each display by its place from 1, the times and names of its pictures in
    order of time."""

    def __init__(self, archive: zipfile.ZipFile) -> None:
        self._archive = archive
        found: dict[int, list[tuple[float, str]]] = {}
        for name in archive.namelist():
            crop = _CROP.fullmatch(name)
            if crop:
                found.setdefault(int(crop[2]), []).append((float(crop[3]), crop[1]))
        self.crops: Mapping[int, list[tuple[float, str]]] = {
            place: sorted(crops) for place, crops in found.items()
        }

    def form(self) -> dict[str, Any]:
        """Return ``film.json``. Raises ImpossibleValue where it is not in there."""
        try:
            form: dict[str, Any] = json.loads(self._archive.read("film.json"))
        except (KeyError, ValueError, zipfile.BadZipFile) as wrong:
            raise ImpossibleValue(f"the evidence of this film is damaged: {wrong}") from wrong
        return form

    def crop(self, name: str) -> bytes | None:
        """Return the picture of this name (JPEG)."""
        if not _CROP.fullmatch(f"crops/{name}"):
            return None
        try:
            return self._archive.read(f"crops/{name}")
        except (KeyError, zipfile.BadZipFile):
            return None


def open_bundle(store: EventStore, folder: Path, film: FilmState) -> FilmBundle:
    """Return the bundle with every picture, or, where that is gone, the trial's own evidence.

    Raises ImpossibleValue where neither is here.
    """
    path = KeptFilms(folder).bundle(film.event)
    if path is not None:
        try:
            return FilmBundle(zipfile.ZipFile(path))
        except (zipfile.BadZipFile, OSError):
            pass  # the evidence in the store says the same, with fewer pictures
    media = store.media(film.read.media)
    if media is None:
        raise ImpossibleValue(
            f"the evidence of «{film.read.name}» is not in this store; read the film again"
        )
    try:
        return FilmBundle(zipfile.ZipFile(io.BytesIO(media.data)))
    except zipfile.BadZipFile as wrong:
        raise ImpossibleValue(f"the evidence of «{film.read.name}» is damaged") from wrong
