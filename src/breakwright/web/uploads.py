"""Films of several GB onto the disk, piece by piece: a part file and a note of what it is to be.

All of it is in the files: after a restart of the server an upload goes on where it stood.
"""

import errno
import hashlib
import json
import os
import re
import shutil
import time
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path

from breakwright.model.errors import ImpossibleValue
from breakwright.usecases.bench.ports import StoreFull
from breakwright.web.doors.limits import size_words
from breakwright.web.doors.token import write_private

__all__ = ["PART_FOLDER", "VIDEO_FOLDER", "Upload", "Uploads"]

PART_FOLDER = "uploads"
VIDEO_FOLDER = "videos"
_ID = re.compile(r"[0-9a-f]{32}")
_ENDINGS = frozenset({".avi", ".m4v", ".mkv", ".mov", ".mp4", ".webm"})
# Readings must still find room when a film has filled the rest.
_RESERVE = 256 * 2**20
_KEPT_S = 14 * 24 * 3600
_BLOCK = 4 * 2**20


@dataclass(frozen=True, slots=True)
class Upload:
    """``study`` and ``piece`` are ids; ``name`` what the person called it, never a path here."""

    id: str
    study: str
    name: str
    size: int
    piece: str | None = None
    sha256: str | None = None

    @property
    def file(self) -> str:
        """The film's name on the disk: ours, with an ending from a short list."""
        ending = Path(self.name).suffix.lower()
        return f"{self.id}{ending if ending in _ENDINGS else '.bin'}"


class Uploads:
    """The uploads under ``folder``. Everything here blocks: not for the event loop."""

    def __init__(self, folder: Path) -> None:
        self._parts = folder / PART_FOLDER
        self._videos = folder / VIDEO_FOLDER

    def begin(self, upload: Upload) -> Upload:
        """Note a new upload; the same one again goes on. Raises StoreFull, ImpossibleValue."""
        there = self.find(upload.id)
        if there is not None:
            if there != upload:
                raise ImpossibleValue(f"another upload has the id {upload.id}")
            return there
        self._parts.mkdir(parents=True, exist_ok=True)
        free = shutil.disk_usage(self._parts).free - _RESERVE
        if upload.size > free:
            raise StoreFull(
                f"The film has {size_words(upload.size)}, and there is room for "
                f"{size_words(max(0, free))} on the server's disk."
            )
        write_private(self._note(upload.id), json.dumps(asdict(upload)).encode("utf-8"))
        self._part(upload.id).touch(mode=0o600)
        return upload

    def find(self, upload_id: str) -> Upload | None:
        """Return the upload of this id, on its way or just done."""
        if _ID.fullmatch(upload_id) is None:
            return None
        try:
            noted: Mapping[str, object] = json.loads(self._note(upload_id).read_bytes())
            return Upload(**noted)  # type: ignore[arg-type]
        except (FileNotFoundError, ValueError, TypeError):
            return None

    def offset(self, upload: Upload) -> int:
        """Return how many bytes of it are here."""
        try:
            return self._part(upload.id).stat().st_size
        except FileNotFoundError:
            there = self._videos / upload.file
            return upload.size if there.exists() else 0

    def append(self, upload: Upload, data: bytes, *, at: int) -> int:
        """Put ``data`` at the place ``at`` and return the place after it. Raises StoreFull, with
        all that came before still there."""
        try:
            with self._part(upload.id).open("r+b") as file:
                file.seek(at)
                file.write(data)
        except OSError as error:
            if error.errno in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
                raise StoreFull(
                    "The server's disk is full. What has come of the film so far is kept; the "
                    "upload goes on from there when there is room."
                ) from error
            raise
        return at + len(data)

    def finish(self, upload: Upload) -> str:
        """Put the whole film in its place and return its SHA-256. Raises ImpossibleValue where
        bytes are missing, or are not those that were meant; then it begins anew."""
        final, part = self._videos / upload.file, self._part(upload.id)
        if not final.exists():
            have = self.offset(upload)
            if have != upload.size:
                raise ImpossibleValue(f"{have} of {upload.size} bytes have come so far")
            found = _sum(part)
            if upload.sha256 not in (None, found):
                os.truncate(part, 0)
                raise ImpossibleValue(
                    "what came is not what was sent (the SHA-256 differs); send it again from 0"
                )
            self._videos.mkdir(parents=True, exist_ok=True)
            part.replace(final)
            return found
        return _sum(final)

    def forget(self, upload: Upload) -> None:
        """Drop the note and what has come; a film in its place stays."""
        self._part(upload.id).unlink(missing_ok=True)
        self._note(upload.id).unlink(missing_ok=True)

    def sweep(self) -> int:
        """Drop what nobody has added to for two weeks; return how many files went."""
        gone = 0
        before = time.time() - _KEPT_S
        for path in self._parts.glob("*.*") if self._parts.exists() else ():
            part = path.with_suffix(".part")
            newest = max(p.stat().st_mtime for p in (path, part) if p.exists())
            if newest < before:
                path.unlink(missing_ok=True)
                gone += 1
        return gone

    def video(self, file: str) -> Path | None:
        """Return where the film of this name lies."""
        stem, dot, _ = file.partition(".")
        path = self._videos / file
        known = _ID.fullmatch(stem) is not None and dot and "/" not in file and path.is_file()
        return path if known else None

    def _note(self, upload_id: str) -> Path:
        return self._parts / f"{upload_id}.json"

    def _part(self, upload_id: str) -> Path:
        return self._parts / f"{upload_id}.part"


def _sum(path: Path) -> str:
    """Return the file's SHA-256 once it is on the disk for good."""
    whole = hashlib.sha256()
    with path.open("r+b") as file:
        while block := file.read(_BLOCK):
            whole.update(block)
        os.fsync(file.fileno())
    return whole.hexdigest()
