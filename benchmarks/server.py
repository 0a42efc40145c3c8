"""How fast the first page comes, how much memory the server takes, against a bare import."""

import http.client
import re
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

__all__ = ["server_table"]

PEER = "import fastapi, sqlalchemy, jinja2, uvicorn"
RUNS = 5
PAGES = ("/", "/api/v1/studies", "/s/{demo}/prepare", "/s/{demo}/break", "/devices")
# Bounds of the project: s to the first page, times the peer, MiB of memory idle.
BOUND_S, BOUND_RATIO, BOUND_MIB = 2.0, 1.5, 120


def _peer() -> float:
    start = time.perf_counter()
    subprocess.run([sys.executable, "-c", PEER], check=True)
    return time.perf_counter() - start


def _served(store: Path) -> tuple[float, float]:
    """Seconds from the command to the first page, and MiB once every kind of page was shown."""
    program = Path(sys.executable).parent / "breakwright"
    start = time.perf_counter()
    server = subprocess.Popen(
        [program, "serve", "--demo", "--port", "0", "--store", store],
        stdout=subprocess.PIPE,
        text=True,
    )
    assert server.stdout is not None
    try:
        found = next(m for line in server.stdout if (m := re.search(r":(\d+)/s/(\S+)/", line)))
        link = http.client.HTTPConnection("127.0.0.1", int(found[1]))
        seconds = 0.0
        for page in PAGES:
            link.request("GET", page.format(demo=found[2]))
            answer = link.getresponse()
            answer.read()
            if answer.status != 200:
                raise RuntimeError(f"{page}: status {answer.status}")
            seconds = seconds or time.perf_counter() - start
        link.close()
        status = Path(f"/proc/{server.pid}/status").read_text(encoding="ascii")
        return seconds, int(re.search(r"VmRSS:\s+(\d+)", status)[1]) / 1024  # type: ignore[index]
    finally:
        server.send_signal(signal.SIGINT)
        server.wait()
        server.stdout.close()


def server_table() -> list[str]:
    """The table, in Markdown; the best of several runs on a warm disk."""
    with tempfile.TemporaryDirectory() as folder:
        store = Path(folder, "bench.sqlite")
        _served(store)
        runs = [(_peer(), *_served(store)) for _ in range(RUNS)]
    peer = min(run[0] for run in runs)
    first = min(run[1] for run in runs)
    memory = max(run[2] for run in runs)
    return [
        "| | measured | against the import | bound |",
        "|---|---|---|---|",
        f"| `python -c '{PEER}'` | {peer:.2f} s | 1 | – |",
        f"| `breakwright serve` to the first page | {first:.2f} s | {first / peer:.2f} | "
        f"{BOUND_S:.1f} s, {BOUND_RATIO} |",
        f"| memory of the server, every kind of page shown | {memory:.0f} MiB | – | "
        f"{BOUND_MIB} MiB |",
    ]
