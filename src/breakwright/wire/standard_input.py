"""Lines piped into the program: read in a thread, so that silence can be told from an end."""

import os
import queue
import threading
import time

from breakwright.wire.arrivals import Arrival, Data, Ended, Quiet

__all__ = ["StandardInput"]

_WAIT_S = 0.1
_MOST_BYTES = 65536


class StandardInput:
    """Reads file descriptor ``handle`` (0: standard input) to its end."""

    name = "standard input"
    mid_line = False
    live = False

    def __init__(self, handle: int = 0) -> None:
        self._arrivals: queue.Queue[Arrival] = queue.Queue()
        self._thread = threading.Thread(target=self._read_on, args=(handle,), daemon=True)
        self._thread.start()

    def read(self) -> Arrival:
        try:
            return self._arrivals.get(timeout=_WAIT_S)
        except queue.Empty:
            return Quiet(time.monotonic())

    def close(self) -> None:
        """The thread ends with its input; a daemon, it keeps no program from ending."""

    def _read_on(self, handle: int) -> None:
        while True:
            try:
                data = os.read(handle, _MOST_BYTES)
            except OSError:
                data = b""
            if not data:
                self._arrivals.put(Ended(time.monotonic()))
                return
            self._arrivals.put(Data(data, time.monotonic()))
