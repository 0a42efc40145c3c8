"""Write a file in one piece: it is there whole, or what was there before is still there."""

import contextlib
import os
import tempfile
from pathlib import Path

__all__ = ["write_beside"]


def write_beside(path: Path, data: bytes | str) -> None:
    """Write ``data`` (text as UTF-8, line ends as given) to ``path``, replacing what was there.

    The bytes go to a temporary file in the same folder, onto the disk, and then take the name.
    Interrupted at any moment, by an error or by Ctrl-C, it leaves the old file and no other.
    Raises ``OSError`` where the folder is missing, full or not writable.
    """
    content = data.encode("utf-8") if isinstance(data, str) else data
    # Through a link, the file behind it is replaced and the link stays.
    target = Path(os.path.realpath(path))
    handle, name = tempfile.mkstemp(
        prefix=f".{target.name[:80]}.", suffix=".part", dir=target.parent
    )
    part = Path(name)
    try:
        try:
            _write_all(handle, content)
            os.fsync(handle)
        finally:
            os.close(handle)
        part.chmod(_permissions(target))
        part.replace(target)
    except BaseException:
        part.unlink(missing_ok=True)
        raise
    _sync_folder(target.parent)


def _write_all(handle: int, content: bytes) -> None:
    view = memoryview(content)
    while view:
        view = view[os.write(handle, view) :]


def _permissions(target: Path) -> int:
    """The old file's permissions; for a new one, what a plain new file would get."""
    with contextlib.suppress(FileNotFoundError):
        return target.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def _sync_folder(folder: Path) -> None:
    # So that the new name outlives a power cut; some file systems cannot do it, and then the
    # file itself is safe all the same.
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
