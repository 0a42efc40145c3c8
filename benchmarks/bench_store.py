"""Readings a second acknowledged from the disk, against plain inserts of the same bytes.

``python -m benchmarks.bench_store`` prints the table. Every line of it writes one reading a
transaction into SQLite with WAL and synchronous=FULL in one and the same folder, in turns, so that
a disk that is slow for a while is slow for all of them.
"""

import http.client
import json
import os
import re
import secrets
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from breakwright.model.event import Body, Entry, Event, PieceAdded, ReadingEntered, StudyMade
from breakwright.store.opening import open_store
from breakwright.usecases.bench.event_form import event_form

__all__ = ["run"]

READINGS = 100  # a round
ROUNDS = 5
MOST_PIECES = READINGS * ROUNDS  # each is read once, as at a bench
NOW = "2026-01-31T09:30:00Z"
STUDY = "a" * 32
TOML = 'title = "Speed"\ngroups = ["plain"]\nreference = "plain"\nunit = "N"\n'

Write = Callable[[Event], None]


def event(body: Body) -> Event:
    return Event(secrets.token_hex(16), STUDY, NOW, body, device="benchmark")


def piece(number: int) -> str:
    return f"{number:032x}"


def reading(number: int) -> Event:
    return event(
        ReadingEntered(piece(number), Entry((f"{400 + number % 90}",), "N", date="2026-01-31"))
    )


def beginning() -> list[Event]:
    pieces = [
        event(PieceAdded(piece(n), f"A{n}", "plain", order=n)) for n in range(1, MOST_PIECES + 1)
    ]
    return [event(StudyMade(TOML, "speed")), *pieces]


def plain_writer(path: Path) -> Write:
    """The peer: one INSERT of the event's JSON, an index on its id, nothing else."""
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("PRAGMA journal_mode=WAL")
    connection.execute("PRAGMA synchronous=FULL")
    connection.execute("CREATE TABLE events (seq INTEGER PRIMARY KEY, id TEXT UNIQUE, form TEXT)")

    def write(one: Event) -> None:
        form = json.dumps(event_form(one))
        connection.execute("INSERT INTO events (id, form) VALUES (?, ?)", (one.id, form))

    return write


def store_writer(path: Path) -> Write:
    store = open_store(str(path))
    store.append(beginning(), received=NOW)

    def write(one: Event) -> None:
        store.append([one], received=NOW)

    return write


def http_writer(port: int) -> Write:
    """One call of the API a reading, over one connection, as an outbox sends them."""
    connection = http.client.HTTPConnection("127.0.0.1", port)
    last = time.perf_counter()

    def send(*events: Event) -> None:
        nonlocal last
        if time.perf_counter() - last > 1.0:
            connection.close()  # the server hangs up on an idle one; the next call opens it anew
        text = json.dumps({"events": [event_form(one) for one in events]})
        connection.request("POST", "/api/v1/events", text, {"Content-Type": "application/json"})
        answer = connection.getresponse()
        said = answer.read()
        if answer.status != 200:
            raise SystemExit(f"benchmarks: the server said {answer.status}: {said[:200]!r}")
        last = time.perf_counter()

    send(*beginning())
    return lambda one: send(one)


def serve(folder: Path) -> tuple["subprocess.Popen[str]", int]:
    command = [str(Path(sys.executable).parent / "breakwright"), "serve", "--port", "0"]
    process = subprocess.Popen(
        [*command, "--store", str(folder / "served.sqlite")],
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1", "BREAKWRIGHT_DATA": str(folder)},
    )
    assert process.stdout is not None
    for line in process.stdout:
        found = re.search(r"http://127\.0\.0\.1:(\d+)", line)
        if found:
            return process, int(found[1])
    raise SystemExit("benchmarks: the server did not start")


def rates(writers: dict[str, Write]) -> dict[str, list[float]]:
    """Return readings a second of each writer and round."""
    found: dict[str, list[float]] = {name: [] for name in writers}
    for turn in range(ROUNDS):
        for name, write in writers.items():
            events = [reading(turn * READINGS + n) for n in range(1, READINGS + 1)]
            start = time.perf_counter()
            for one in events:
                write(one)
            found[name].append(READINGS / (time.perf_counter() - start))
    return found


def run() -> str:
    """The table, as text for ``docs/benchmarks.md``."""
    with tempfile.TemporaryDirectory(dir=Path.cwd()) as name:
        folder = Path(name)
        server, port = serve(folder)
        try:
            found = rates(
                {
                    "plain `sqlite3`, one INSERT": plain_writer(folder / "plain.sqlite"),
                    "the store, `append`": store_writer(folder / "store.sqlite"),
                    "`POST /api/v1/events`, one device": http_writer(port),
                }
            )
        finally:
            server.terminate()
            server.wait()
    peer = statistics.median(next(iter(found.values())))
    lines = [
        f"One reading a transaction on SQLite, WAL, synchronous=FULL; the median of {ROUNDS} "
        f"rounds of {READINGS}, taken in turns in one folder; a study of {MOST_PIECES} pieces.",
        "",
        "| what | readings a second | slowest and fastest round | share of the peer |",
        "|---|---|---|---|",
    ]
    for what, each in found.items():
        middle = statistics.median(each)
        lines.append(
            f"| {what} | {middle:,.0f} | {min(each):,.0f} to {max(each):,.0f} | "
            f"{middle / peer:.2f} |"
        )
    return "\n".join(lines)


if __name__ == "__main__":
    print(run())
