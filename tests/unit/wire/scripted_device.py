"""A device on a pseudo-terminal that says what it is told to, and whose cable can be pulled."""

import os
import tty
from pathlib import Path


class ScriptedDevice:
    """``port`` is a link, so that the device can come back under the same name, as udev does."""

    def __init__(self, folder: Path) -> None:
        self.port = folder / "ttyTEST0"
        self._master = self._slave = -1
        self.plug()

    def plug(self) -> None:
        self._master, self._slave = os.openpty()
        tty.setraw(self._slave)
        self.port.unlink(missing_ok=True)
        self.port.symlink_to(os.ttyname(self._slave))

    def say(self, data: bytes) -> None:
        """Send ``data``; waits while the other side does not read."""
        while data:
            data = data[os.write(self._master, data) :]

    def unplug(self) -> None:
        """Pull the cable. What was said and not yet read is lost, as on a real one."""
        if self._master >= 0:
            os.close(self._master)
            os.close(self._slave)
            self._master = self._slave = -1
            self.port.unlink(missing_ok=True)


def lines_of(loads: list[float], *, start: float = 0.0, every: float = 0.1) -> bytes:
    """Return lines 'seconds load' for loads in N."""
    return b"".join(b"%.3f %.1f\r\n" % (start + n * every, x) for n, x in enumerate(loads))


def pull(peak: float, *, samples: int = 40, rest: int = 10, after: int = 25) -> list[float]:
    """Return the loads of a steady rise to ``peak`` and its break, with rest around it."""
    rise = [peak * (n + 1) / samples for n in range(samples)]
    return [0.0] * rest + rise + [0.0] * after
