"""What a database complains of, in the errors and words of the bench."""

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import DBAPIError
from sqlalchemy.exc import TimeoutError as NoConnectionLeft

from breakwright.model.errors import BreakwrightError
from breakwright.store.address import Address
from breakwright.usecases.bench.ports import StoreFull, StoreUnfit, StoreUnreachable

__all__ = ["fault_of", "plain_faults"]

# SQLite's primary result codes (https://www.sqlite.org/rescode.html); the extended ones of
# Python's sqlite3 hold them in their lowest byte.
_PERM, _BUSY, _LOCKED, _READONLY, _IOERR = 3, 5, 6, 8, 10
_CORRUPT, _FULL, _CANTOPEN, _NOTADB = 11, 13, 14, 26

# A disk with less room than this cannot take one more page of the log.
_NO_ROOM = 1 << 16


@contextmanager
def plain_faults(address: Address) -> Iterator[None]:
    """Turn what a database raises inside into StoreFull, StoreUnreachable or StoreUnfit where
    it is one of those; anything else passes, being a fault of the program."""
    try:
        yield
    except NoConnectionLeft as error:
        raise StoreUnreachable(
            f"{address.shown}: too much is asked of the store at once; try again in a moment"
        ) from error
    except (DBAPIError, sqlite3.Error) as error:
        driver = error.orig if isinstance(error, DBAPIError) else error
        fault = fault_of(driver, address)
        if fault is None:
            raise
        raise fault from error


def fault_of(error: BaseException | None, address: Address) -> BreakwrightError | None:
    """Return what a driver's ``error`` means for a person; None where it is none of these."""
    if error is None:
        return None
    if address.path is not None:
        return _of_sqlite(error, address)
    return _of_postgres(error, address)


def _of_sqlite(error: BaseException, address: Address) -> BreakwrightError | None:
    code: int = getattr(error, "sqlite_errorcode", 0) & 0xFF
    shown = address.shown
    if code == _FULL or (code in (_IOERR, _CANTOPEN) and _disk_full(address)):
        return StoreFull(
            f"{shown}: the disk is full. Nothing of this was kept, all before it was: make room "
            "on the disk and send it again"
        )
    if code in (_BUSY, _LOCKED):
        return StoreUnreachable(
            f"{shown}: another program has held the store locked for too long; close it (a "
            "database viewer with unsaved changes?) and send this again"
        )
    if code in (_PERM, _READONLY):
        return StoreUnreachable(
            f"{shown}: the store cannot be written: the file or its folder is write-protected"
        )
    if code == _CANTOPEN:
        return StoreUnreachable(f"{shown}: the store cannot be opened; may its folder be written?")
    if code == _IOERR:
        return StoreUnreachable(
            f"{shown}: the disk cannot be read or written ({error}). Nothing of this was kept; "
            "is the disk still there?"
        )
    if code == _NOTADB:
        return StoreUnfit(f"{shown}: this is no SQLite file, and it was left as it is")
    if code == _CORRUPT:
        return StoreUnfit(
            f"{shown}: the file is damaged ({error}). Keep it as it is and open a backup of it"
        )
    return None


def _disk_full(address: Address) -> bool:
    assert address.path is not None
    try:
        return shutil.disk_usage(address.path.parent).free < _NO_ROOM
    except OSError:
        return False


def _of_postgres(error: BaseException, address: Address) -> BreakwrightError | None:
    # https://www.postgresql.org/docs/current/errcodes-appendix.html; without one, no server
    # answered.
    code: str | None = getattr(error, "sqlstate", None)
    shown, words = address.shown, str(error).strip().partition("\n")[0]
    if code == "53100":
        return StoreFull(
            f"{shown}: the disk of the database is full. Nothing of this was kept, all before it "
            "was: make room on its disk and send it again"
        )
    if code == "55P03":
        return StoreUnreachable(
            f"{shown}: another program has held the store locked for too long; send this again"
        )
    away = code is None and type(error).__name__ in ("OperationalError", "ConnectionTimeout")
    # Connection lost (08), not let in (28), no such database (3D), out of means (53), asked to
    # stop (57), the system's own error (58), read-only (25006).
    if away or (code and (code[:2] in ("08", "28", "3D", "53", "57", "58") or code == "25006")):
        return StoreUnreachable(f"{shown}: the database cannot be reached: {words}")
    if code == "42501":
        return StoreUnreachable(f"{shown}: this user may not do that in the database: {words}")
    return None
