"""Processes that write readings into a store, one after the other, and say each one kept.

    python writing_process.py

reads lines `URL STUDY FIRST HOW_MANY PIPE` and forks a writer for each, whose process id it
prints: a fork starts at once, where a new Python takes as long as fifty writes.
"""

import os
import random
import signal
import sys

# Not used here, but known to all who are forked.
import psycopg  # noqa: F401
from store_samples import NOW

from breakwright.model.event import Entry, Event, ReadingEntered
from breakwright.store.opening import open_store


def write(url: str, study: str, first: str, how_many: str, pipe: int) -> None:
    ids = random.Random(f"{study} {first}")
    store = open_store(url)
    os.write(pipe, b"ready\n")
    for count in range(int(first), int(first) + int(how_many)):
        event = Event(
            f"{ids.getrandbits(128):032x}",
            study,
            NOW,
            ReadingEntered("0" * 32, Entry((str(count),), "kgf")),
        )
        store.append([event], received=NOW)
        # In one go: half a line would be no acknowledgement.
        os.write(pipe, f"{event.id}\n".encode())
    store.close()
    os.write(pipe, b"done\n")


def main() -> None:
    # Nobody asks how they ended: the pipe tells.
    signal.signal(signal.SIGCHLD, signal.SIG_IGN)
    for line in sys.stdin:
        *what, name = line.split()
        writer = os.fork()
        if writer == 0:
            url, study, first, how_many = what
            try:
                write(url, study, first, how_many, os.open(name, os.O_WRONLY))
            finally:
                os._exit(0)
        sys.stdout.write(f"{writer}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
