"""The word that lets other devices in, kept so that a phone stays let in after a restart."""

import hmac
import os
import secrets
from pathlib import Path

__all__ = ["COOKIE", "kept_token", "same_token", "write_private"]

COOKIE = "breakwright-device"
_FILE = "device-token"
_FEWEST = 24


def kept_token(folder: Path, *, anew: bool) -> str:
    """Return the token kept in ``folder``, made on first use or ``anew``; 128 bits of chance.

    The file can be read by its owner only.
    """
    path = folder / _FILE
    if not anew:
        try:
            there = path.read_text(encoding="ascii").strip()
        except (FileNotFoundError, UnicodeDecodeError):
            there = ""
        if len(there) >= _FEWEST:
            return there
    token = secrets.token_hex(16)
    folder.mkdir(parents=True, exist_ok=True)
    write_private(path, token.encode("ascii") + b"\n")
    return token


def write_private(path: Path, data: bytes) -> None:
    """Put ``data`` into ``path``, whole or not at all, for its owner's eyes only."""
    part = path.with_name(f"{path.name}.{secrets.token_hex(4)}")
    handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    part.replace(path)


def same_token(given: str, token: str) -> bool:
    """Compare in a time that does not depend on how much of it is right."""
    return hmac.compare_digest(given.encode("utf-8", "replace"), token.encode("ascii"))
