"""What is taken into the store from a folder, a zip file or a sheet: events and media."""

import hashlib
from collections.abc import Collection, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from breakwright.files.bench.bundle import Bundle, open_bundle
from breakwright.files.bench.defined import SHEET, STUDY
from breakwright.files.bench.door import handle_taken
from breakwright.files.bench.edited import edited_problems
from breakwright.files.bench.history import HISTORY, read_history, state_of
from breakwright.files.bench.package import SPECIMENS
from breakwright.files.bench.taking import Making, events_of_tables
from breakwright.files.bench.writing import MEDIA, folder_of, media_names
from breakwright.files.findings import Findings
from breakwright.files.options import ReadOptions
from breakwright.files.study_file import read_study_text
from breakwright.model.errors import InputRefused, Problem
from breakwright.model.event import Event
from breakwright.model.notice import Notice
from breakwright.usecases.bench.ports import Media

__all__ = ["Incoming", "read_incoming"]

# What media may be, by the ending of its name: its type and how its bytes begin.
_KINDS = {
    "jpg": ("image/jpeg", b"\xff\xd8\xff"),
    "png": ("image/png", b"\x89PNG\r\n\x1a\n"),
    "webp": ("image/webp", b"RIFF"),
    "csv": ("text/csv", b""),
    "zip": ("application/zip", b"PK\x03\x04"),
}


@dataclass(frozen=True)
class Incoming:
    """``events`` are those of one study; with ``again`` they come from a history, so that the
    store may have some of them. ``notices`` come from the reader of sheets; ``missing`` are media
    that the events name and that did not come along."""

    events: tuple[Event, ...]
    again: bool
    notices: tuple[Notice, ...] = ()
    missing: tuple[str, ...] = ()
    _bundle: Bundle | None = None
    _names: tuple[str, ...] = field(default=())

    def media(self) -> Iterator[Media]:
        """Yield each picture and trace, its bytes held against its name. Raises InputRefused."""
        for name in self._names:
            assert self._bundle is not None
            data = self._bundle.data(f"{MEDIA}/{name}")
            assert data is not None
            yield _checked(name, data)


def read_incoming(
    source: bytes | Path,
    *,
    name: str,
    making: Making,
    options: ReadOptions | None = None,
    handles: "Collection[tuple[str, str]]" = (),
    as_new: bool = False,
) -> Incoming:
    """Return what is in ``source``: the bytes of an upload, or a path; ``name`` is what the
    person calls it. ``handles`` are the (handle, id) of the studies that are in the store.

    With a history the events in it are taken as they are, unless ``as_new`` asks for the tables
    as a new study. Raises InputRefused with every problem.
    """
    bundle = open_bundle(source, name=name)
    if HISTORY in bundle.names and not as_new:
        return _again(bundle, handles)
    return _as_new(bundle, options or ReadOptions(), making, name, handles)


def _again(bundle: Bundle, handles: Collection[tuple[str, str]]) -> Incoming:
    events = read_history(bundle.text(HISTORY) or "")
    state = state_of(events)
    folder = folder_of(state, lambda _: None)
    found = {n: t for n in (STUDY, SPECIMENS, SHEET) if (t := bundle.text(n)) is not None}
    problems = edited_problems(found, folder.texts)
    if any(handle == state.handle and study != state.id for handle, study in handles):
        problems.append(handle_taken(state.handle))
    if problems:
        raise InputRefused(problems)
    wanted = media_names(state)
    there = tuple(n for n in wanted if f"{MEDIA}/{n}" in bundle.names)
    for media in there:
        # Looked at before anything is kept, so that a damaged archive leaves no half of it.
        data = bundle.data(f"{MEDIA}/{media}")
        assert data is not None
        _checked(media, data)
    missing = tuple(n for n in wanted if n not in there)
    return Incoming(events, True, (), missing, bundle, there)


def _as_new(
    bundle: Bundle,
    options: ReadOptions,
    making: Making,
    name: str,
    handles: Collection[tuple[str, str]],
) -> Incoming:
    study = bundle.text(STUDY)
    sheet = _sheet_name(study) if study is not None else SHEET
    if sheet != SHEET and sheet not in bundle.names:
        raise InputRefused((_no_sheet(sheet),))
    lone = study is None and SPECIMENS not in bundle.names
    taken = events_of_tables(
        study,
        bundle.text(sheet),
        bundle.text(SPECIMENS),
        options=options,
        making=making,
        name=Path(name).name if lone else sheet,
        taken=[handle for handle, _ in handles],
    )
    return Incoming(taken.events, False, taken.notices)


def _no_sheet(sheet: str) -> Problem:
    return Problem(
        "study-without-sheet",
        f"there is {STUDY}, but not the sheet that belongs to it: {sheet}",
        STUDY,
        column_name="sheet",
        read=sheet,
        allowed=f"{SHEET}, or the file that 'sheet' names, in the same folder",
        do="Put the sheet into the folder, or take the key out.",
    )


def _sheet_name(study: str) -> str:
    file = read_study_text(study, Findings(STUDY))
    return SHEET if file is None else file.table.sheet


def _checked(name: str, data: bytes) -> Media:
    stem, _, ending = name.partition(".")
    kind, start = _KINDS.get(ending, ("", b""))
    if not kind or not data.startswith(start):
        raise InputRefused(
            (_refused(name, "this is no picture, trace or evidence of a kind known here"),)
        )
    if hashlib.sha256(data).hexdigest() != stem:
        raise InputRefused((_refused(name, "its bytes are not those that its name was made of"),))
    return Media(name, kind, data)


def _refused(name: str, message: str) -> Problem:
    return Problem(
        "media-damaged",
        message,
        f"{MEDIA}/{name}",
        allowed="pictures (jpg, png, webp), traces (csv) and the evidence of films (zip), named by "
        "their SHA-256",
        do="Copy or download the study again; or delete this file, and the study is taken "
        "without it.",
    )
