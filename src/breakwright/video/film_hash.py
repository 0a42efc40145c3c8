"""Which film it was: its checksum, read piece by piece."""

import hashlib
from pathlib import Path

__all__ = ["film_hash"]


def film_hash(path: Path) -> str:
    """Return the SHA-256 of the file's bytes as 64 hexadecimal digits."""
    with path.open("rb") as film:
        return hashlib.file_digest(film, "sha256").hexdigest()
