"""A study of the store written as a folder or a zip file."""

import os
import zipfile
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from breakwright.files.atomic import write_beside
from breakwright.files.bench.defined import SHEET, STUDY, defined_or_bare
from breakwright.files.bench.history import HISTORY, history_text
from breakwright.files.bench.package import PACKAGE, SPECIMENS, package_text
from breakwright.files.bench.tables import shown_unit, specimens_grid, trials_grid
from breakwright.model.errors import ImpossibleValue
from breakwright.model.event import FilmRead, PhotoAdded, TraceAdded
from breakwright.usecases.bench.state import StudyState

__all__ = ["MEDIA", "Folder", "folder_of", "media_names", "write_folder", "write_zip"]

MEDIA = "media"
# A zip file needs a time for each of its files; the same study gives the same bytes.
_ALWAYS = (1980, 1, 1, 0, 0, 0)

Fetch = Callable[[str], bytes | None]


@dataclass(frozen=True, slots=True)
class Folder:
    """``texts`` are the files by name; ``media`` the names of pictures and traces that are there,
    ``missing`` of those that the events name and nobody has sent yet."""

    texts: Mapping[str, str]
    media: tuple[str, ...]
    missing: tuple[str, ...]


def folder_of(state: StudyState, fetch: Fetch) -> Folder:
    """Return the study folder of ``state``; ``fetch`` returns the bytes of a picture or trace."""
    study = defined_or_bare(state.toml)
    grids = {SPECIMENS: specimens_grid(state), SHEET: trials_grid(state, study)}
    sizes: dict[str, int] = {}
    missing = []
    for name in media_names(state):
        data = fetch(name)
        if data is None:
            missing.append(name)
        else:
            sizes[name] = len(data)
    texts = {
        STUDY: state.toml,
        SPECIMENS: grids[SPECIMENS].csv(),
        SHEET: grids[SHEET].csv(),
        HISTORY: history_text([recorded.event for recorded in state.events]),
    }
    texts[PACKAGE] = package_text(state, texts, grids, unit=shown_unit(state, study), media=sizes)
    return Folder(texts, tuple(sizes), tuple(missing))


def media_names(state: StudyState) -> tuple[str, ...]:
    """Return the names of every picture, trace and film's evidence that any event brought."""
    bodies = (recorded.event.body for recorded in state.events)
    with_media = PhotoAdded | TraceAdded | FilmRead
    return tuple(sorted({body.media for body in bodies if isinstance(body, with_media)}))


def write_folder(folder: Folder, fetch: Fetch, path: Path, *, over: Sequence[str] = ()) -> None:
    """Write every file under ``path`` (made if missing), each whole or not at all.

    Raises ImpossibleValue where a file of ``folder`` is there and says something else, unless
    ``over`` names it; then nothing is written.
    """
    changed = [
        name
        for name, text in folder.texts.items()
        if name not in over and _says_else(path / name, text.encode())
    ]
    if changed:
        raise ImpossibleValue(
            f"{path}: {', '.join(changed)} {'is' if len(changed) == 1 else 'are'} there already "
            "and differ from the study in the store; nothing was written. Name another folder, "
            "or give --replace to write over"
        )
    (path / MEDIA if folder.media else path).mkdir(parents=True, exist_ok=True)
    for name in folder.media:
        data = fetch(name)
        if data is not None:
            write_beside(path / MEDIA / name, data)
    for name, text in folder.texts.items():
        write_beside(path / name, text)


def write_zip(folder: Folder, fetch: Fetch, path: Path) -> None:
    """Write the folder as a zip file, whole or not at all, replacing what is there."""
    part = path.with_name(f".{path.name}.part")
    try:
        with part.open("wb") as file:
            with zipfile.ZipFile(file, "w") as archive:
                for name, text in folder.texts.items():
                    archive.writestr(_entry(name, zipfile.ZIP_DEFLATED), text.encode())
                for name in folder.media:
                    data = fetch(name)
                    if data is not None:
                        archive.writestr(_entry(f"{MEDIA}/{name}", zipfile.ZIP_STORED), data)
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)
    except BaseException:
        part.unlink(missing_ok=True)
        raise


def _entry(name: str, how: int) -> zipfile.ZipInfo:
    entry = zipfile.ZipInfo(name, _ALWAYS)
    entry.compress_type = how
    entry.external_attr = 0o644 << 16
    return entry


def _says_else(path: Path, data: bytes) -> bool:
    return path.exists() and path.read_bytes() != data
