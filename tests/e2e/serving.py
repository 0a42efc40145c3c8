"""A real ``breakwright serve`` for tests: started on a free port, waited for, killed at the end."""

import os
import queue
import re
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

BIN = Path(sys.executable).parent
START_S = 60.0
STOP_S = 20.0
_ADDRESS = re.compile(r"Breakwright is at\s+((https?://[^/\s]+)\S*)")


@dataclass
class Server:
    """``url`` has no slash at its end; ``first`` is the address it printed (of the demo study
    with ``--demo``); ``lines`` all that it has said up to its last start."""

    store: Path
    arguments: tuple[str, ...] = ()
    port: int = 0
    url: str = ""
    first: str = ""
    lines: list[str] = field(default_factory=list)
    process: subprocess.Popen[str] | None = None
    _reader: threading.Thread | None = None

    @property
    def pid(self) -> int:
        assert self.process is not None
        return self.process.pid

    def start(self) -> None:
        """Start it (again: at the same address, with the same store) and wait until it is ready."""
        command = [str(BIN / "breakwright"), "serve", "--port", str(self.port)]
        command += ["--store", str(self.store), *self.arguments]
        self.process = subprocess.Popen(
            command,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            env={**os.environ, "PYTHONUNBUFFERED": "1", "BREAKWRIGHT_DATA": str(self.store.parent)},
        )
        said: queue.Queue[str | None] = queue.Queue()
        self._reader = threading.Thread(target=_pass_on, args=(self.process, said), daemon=True)
        self._reader.start()
        self.lines = []
        while True:
            line = said.get(timeout=START_S)
            if line is None:
                raise AssertionError("the server ended:\n" + "".join(self.lines))
            self.lines.append(line)
            found = _ADDRESS.search(line)
            if found:
                self.first, self.url = found[1], found[2]
            if line.startswith("To stop"):
                break
        self.port = int(self.url.rpartition(":")[2])

    def stop(self) -> int:
        """Stop it as Ctrl-C does; return its exit status."""
        return self._end(signal.SIGINT)

    def kill(self) -> None:
        """Kill it as a power cut would."""
        self._end(signal.SIGKILL)

    def _end(self, how: signal.Signals) -> int:
        if self.process is None:
            return 0
        self.process.send_signal(how)
        status = self.process.wait(STOP_S)
        # A worker that outlives a killed server for a moment holds the same output open.
        if self._reader is not None:
            self._reader.join(STOP_S)
        self.process = self._reader = None
        return status


@contextmanager
def serving(folder: Path, *arguments: str) -> Iterator[Server]:
    """Give a server whose store is ``folder``/bench.sqlite (there already, or new)."""
    server = Server(folder / "bench.sqlite", arguments)
    server.start()
    try:
        yield server
    finally:
        server.kill()


def _pass_on(process: subprocess.Popen[str], said: "queue.Queue[str | None]") -> None:
    assert process.stdout is not None
    with process.stdout as spoken:
        for line in spoken:
            said.put(line)
    said.put(None)
