"""A serial port: opened with words for what can go wrong, and opened again when it was pulled."""

import errno
import os
import time
from types import ModuleType
from typing import Any

from breakwright.model.errors import InputRefused, Problem
from breakwright.wire.arrivals import Arrival, Back, Data, Gone, Quiet

__all__ = ["SerialPort"]

_WAIT_S = 0.1
_MOST_BYTES = 4096


class SerialPort:
    """``port`` is its name (/dev/ttyUSB0, COM3). Raises InputRefused where it cannot be opened
    at first; later it is tried again ``every`` seconds, for as long as it takes."""

    mid_line = True
    live = True

    def __init__(self, port: str, *, baud: int, every: float = 0.5) -> None:
        self.name = port
        self._baud = baud
        self._every = every
        self._serial = _library(port)
        self._tried = 0.0
        try:
            self._port: Any = self._open()
        except _failures() as failed:
            raise InputRefused([_problem(port, failed)]) from failed

    def read(self) -> Arrival:
        if self._port is None:
            return self._again()
        try:
            # One read for what is there already: a second one that fails would lose the first.
            data: bytes = self._port.read(max(1, min(self._port.in_waiting, _MOST_BYTES)))
        except _failures() as failed:
            self.close()
            self._tried = time.monotonic()
            return Gone(_words(failed), self._tried)
        now = time.monotonic()
        return Data(data, now) if data else Quiet(now)

    def close(self) -> None:
        port, self._port = self._port, None
        if port is not None:
            try:
                port.close()
            except _failures():
                return

    def _open(self) -> Any:
        return self._serial.Serial(self.name, self._baud, timeout=_WAIT_S, exclusive=_exclusive())

    def _again(self) -> Arrival:
        rest = self._tried + self._every - time.monotonic()
        if rest > 0.0:
            time.sleep(min(rest, _WAIT_S))
            return Quiet(time.monotonic())
        self._tried = time.monotonic()
        try:
            self._port = self._open()
        except _failures():
            return Quiet(time.monotonic())
        return Back(time.monotonic())


def _failures() -> tuple[type[Exception], ...]:
    # pyserial's own error is an OSError. A port that vanishes at the wrong moment also shows as a
    # TypeError inside the library, or as the terminal interface's own error where there is one.
    try:
        import termios
    except ImportError:
        return (OSError, ValueError, TypeError)
    return (OSError, ValueError, TypeError, termios.error)


def _exclusive() -> bool | None:
    # Two programs that read one port each get half of the lines. Only POSIX can refuse that so.
    return True if os.name == "posix" else None


def _library(port: str) -> ModuleType:
    try:
        import serial  # type: ignore[import-untyped, unused-ignore]
    except ImportError as missing:
        raise InputRefused(
            [
                Problem(
                    code="extra-missing",
                    message="reading a serial port needs a library that is not installed",
                    file=port,
                    do="Install it with: pip install 'breakwright[serial]'. Or pipe the lines "
                    "in: breakwright listen -",
                )
            ]
        ) from missing
    library: ModuleType = serial
    return library


def _words(failed: BaseException) -> str:
    number = getattr(failed, "errno", None)
    return os.strerror(number) if number else "the port does not answer any more"


def _problem(port: str, failed: Exception) -> Problem:
    number = getattr(failed, "errno", None)
    if number == errno.ENOENT:
        return Problem(
            code="port-missing",
            message="there is no such port",
            file=port,
            allowed=_ports_here(),
            do="Plug the cable in and look which port appears.",
        )
    if number in (errno.EACCES, errno.EPERM):
        return Problem(
            code="port-forbidden",
            message="you may not open this port",
            file=port,
            do="On most Linux systems: sudo usermod -aG dialout $USER, then log out and in again.",
        )
    if number in (errno.EBUSY, errno.EAGAIN):
        return Problem(
            code="port-busy",
            message="another program has this port open",
            file=port,
            do="Close it there (a serial monitor, another 'breakwright listen') and try again.",
        )
    return Problem(
        code="port-unfit",
        message="this cannot be read as a serial port: "
        + (os.strerror(number) if number else str(failed)),
        file=port,
        allowed=_ports_here(),
        do="Check the name of the port and the speed (--baud).",
    )


def _ports_here() -> str:
    try:
        from serial.tools.list_ports import comports  # type: ignore[import-untyped, unused-ignore]

        names = [str(port.device) for port in comports()]
    except (ImportError, OSError):
        names = []
    return ", ".join(names) if names else "no serial port was found on this machine"
