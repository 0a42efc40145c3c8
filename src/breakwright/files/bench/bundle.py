"""A folder, a zip file or a lone sheet from outside, read without trusting anything in it."""

import io
import stat
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from breakwright.files.bench.defined import SHEET, STUDY
from breakwright.files.bench.history import HISTORY
from breakwright.files.findings import Findings
from breakwright.files.raw import text_of
from breakwright.model.errors import InputRefused, Problem

__all__ = ["Bundle", "open_bundle"]

_MOST_FILES = 20_000
_LARGEST = 64 * 1024 * 1024
_LARGEST_OF_ALL = 4 * 1024 * 1024 * 1024
_STEP = 1024 * 1024
_SHEETS = (".csv", ".tsv", ".txt")


@dataclass(frozen=True)
class Bundle:
    """``names`` maps the path of each file, as seen from the study's folder, to where it lies:
    a path on the disk or the name of a member of ``archive``. ``called`` is for messages."""

    called: str
    names: Mapping[str, str]
    archive: zipfile.ZipFile | None = None

    def text(self, name: str) -> str | None:
        """Return a file as text, None where there is none. Raises InputRefused."""
        data = self.data(name)
        if data is None:
            return None
        findings = Findings(name)
        text = text_of(data, findings)
        findings.refuse_if_any()
        return text

    def data(self, name: str) -> bytes | None:
        """Return a file's bytes, None where there is none. Raises InputRefused for a file that
        is larger than any honest one or cannot be unpacked."""
        place = self.names.get(name)
        if place is None:
            return None
        try:
            if self.archive is None:
                with Path(place).open("rb") as file:
                    data = file.read(_LARGEST + 1)
            else:
                data = self._unpacked(place)
        except (
            OSError,
            zipfile.BadZipFile,
            NotImplementedError,
            RuntimeError,
            ValueError,
        ) as error:
            raise InputRefused((_damaged(name, str(error)),)) from error
        except Exception as error:
            # zlib and lzma raise errors of their own for a member that was cut off.
            if type(error).__module__ not in ("zlib", "lzma", "_lzma"):
                raise
            raise InputRefused((_damaged(name, str(error)),)) from error
        if len(data) > _LARGEST:
            raise InputRefused((_too_large(name, _LARGEST),))
        return data

    def _unpacked(self, member: str) -> bytes:
        assert self.archive is not None
        # What a member claims to hold is not believed: the bytes are counted as they come.
        out = io.BytesIO()
        with self.archive.open(member) as packed:
            while out.tell() <= _LARGEST and (chunk := packed.read(_STEP)):
                out.write(chunk)
        return out.getvalue()


def open_bundle(source: bytes | Path, *, name: str) -> Bundle:
    """Return what lies in ``source``: the bytes of an upload, or a path. ``name`` is what the
    person calls it. Raises InputRefused with every problem."""
    if isinstance(source, Path) and source.is_dir():
        return _of_folder(source, name)
    if isinstance(source, Path) and source.name == STUDY:
        return _of_folder(source.parent, name)
    data: bytes | Path = source
    head = source[:4] if isinstance(source, bytes) else _head(source, name)
    if head.startswith(b"PK"):
        return _of_zip(io.BytesIO(data) if isinstance(data, bytes) else data, name)
    if isinstance(source, bytes):
        return _Lone(name, {SHEET: name}, sheet=source)
    return Bundle(name, {SHEET: str(source)})


@dataclass(frozen=True)
class _Lone(Bundle):
    """A sheet that came without a folder, as bytes."""

    sheet: bytes = b""

    def data(self, name: str) -> bytes | None:
        return self.sheet if name == SHEET else None


def _head(path: Path, name: str) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(4)
    except OSError as error:
        words = error.strerror or type(error).__name__
        raise InputRefused(
            (
                Problem(
                    "cannot-read",
                    f"the file could not be read: {words}",
                    name,
                    do="Check the path and the disk, then try again.",
                ),
            )
        ) from error


def _of_folder(folder: Path, called: str) -> Bundle:
    names: dict[str, str] = {}
    top = [*sorted(folder.iterdir()), *sorted(folder.glob("media/*"))]
    for path in top:
        # A link could lead anywhere; only what lies in the folder itself is taken.
        if path.is_file() and not path.is_symlink() and not path.parent.is_symlink():
            names[path.relative_to(folder).as_posix()] = str(path)
    _demand_study(names, called)
    return Bundle(called, names)


def _of_zip(file: io.BytesIO | Path, called: str) -> Bundle:
    try:
        archive = zipfile.ZipFile(file)
    except (zipfile.BadZipFile, OSError, ValueError) as error:
        raise InputRefused((_damaged(called, str(error)),)) from error
    members = [m for m in archive.infolist() if not m.is_dir()]
    problems = [p for m in members[:_MOST_FILES] if (p := _unsafe(m)) is not None]
    total = sum(m.file_size for m in members)
    if len(members) > _MOST_FILES or total > _LARGEST_OF_ALL:
        problems.append(_too_large(called, _LARGEST_OF_ALL))
    names: dict[str, str] = {}
    for member in members:
        path = PurePosixPath(member.filename)
        if path.parts[:1] == ("__MACOSX",) or path.name == ".DS_Store":
            continue
        if member.filename in names:
            problems.append(_damaged(called, f"{member.filename} is in it twice"))
        names[path.as_posix()] = member.filename
    if problems:
        raise InputRefused(problems[:20])
    names = _without_top(names)
    _demand_study(names, called)
    return Bundle(called, names, archive)


def _unsafe(member: zipfile.ZipInfo) -> Problem | None:
    name = member.filename
    path = PurePosixPath(name)
    mode = member.external_attr >> 16
    outside = path.is_absolute() or ".." in path.parts or "\\" in name or ":" in name
    if not outside and not stat.S_ISLNK(mode) and not member.flag_bits & 1:
        return None
    return Problem(
        "zip-unsafe",
        "a file in this archive is encrypted, a link, or would lie outside of its folder",
        name[:120],
        allowed="plain files inside one folder, as 'export' writes them",
        do="Do not unpack it; ask whoever sent it for a study exported by Breakwright.",
    )


def _without_top(names: Mapping[str, str]) -> dict[str, str]:
    """Take off the one folder that holds everything, as zipping a folder by hand puts there."""
    tops = {name.split("/", 1)[0] for name in names}
    if len(tops) == 1 and all("/" in name for name in names):
        return {name.split("/", 1)[1]: place for name, place in names.items()}
    return dict(names)


def _demand_study(names: Mapping[str, str], called: str) -> None:
    if not {STUDY, SHEET, HISTORY} & names.keys():
        sheets = sorted(n for n in names if n.lower().endswith(_SHEETS))
        raise InputRefused(
            (
                Problem(
                    "no-study-here",
                    f"there is neither {STUDY} nor {SHEET} in it",
                    called,
                    read=", ".join(sorted(names)[:8]) or "nothing",
                    allowed=f"a study folder with {STUDY} and {SHEET}, zipped or not, or a lone "
                    "CSV sheet",
                    do=f"Import the sheet itself: {sheets[0]}" if sheets else "Check the file.",
                ),
            )
        )


def _damaged(name: str, words: str) -> Problem:
    return Problem(
        "zip-damaged",
        f"this archive, or a file in it, cannot be read: {words}"[:200],
        name,
        allowed="a whole zip file, or a folder",
        do="Copy or download it again; it may have been cut off.",
    )


def _too_large(name: str, largest: int) -> Problem:
    return Problem(
        "import-too-large",
        "this unpacks to more than any study holds",
        name,
        allowed=f"up to {largest // (1024 * 1024)} MB",
        do="Check that it is the study. Films are not part of it and stay where they are.",
    )
