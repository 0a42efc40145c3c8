"""Speed and memory as ratios against a peer in the same run on the same machine."""

import os
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from benchmarks import bench_store
from benchmarks.peers import PEERS, PeerRun, Resamples
from benchmarks.planning import planning_table
from benchmarks.server import server_table
from breakwright.stats.cells import from_intervals
from breakwright.stats.families import LOGNORMAL
from breakwright.stats.fit import fit_batch

__all__ = ["run"]

DATA_SETS = 10_000
PIECES = 10
SHARE_CAPPED = 0.3
PEER_DATA_SETS = 100  # a loop's time a fit does not depend on how many it makes


def resamples(count: int) -> Resamples:
    """Lognormal readings with sigma 0.2, a common capacity at the 70 % point; (count, n)."""
    rng = np.random.default_rng(7)
    load = np.exp(6.0 + 0.2 * rng.standard_normal((count, PIECES)))
    cap = np.exp(6.0 + 0.2 * LOGNORMAL.quantile_at(1.0 - SHARE_CAPPED))
    capped = load >= cap
    # A data set that is wholly capped has no estimate in any library: keep the work the same.
    keep = ~capped.all(axis=1)
    lower, upper = np.where(capped, cap, load)[keep], np.where(capped, np.inf, load)[keep]
    return Resamples(lower, upper, "lognormal")


def engine(count: int) -> tuple[float, PeerRun]:
    """Two groups a data set, so 2 x count fits; seconds of CPU for all, from raw intervals."""
    data = resamples(count)
    start = time.process_time()
    for _ in range(2):
        low, high = np.log(data.lower).T, np.log(data.upper).T
        batch = from_intervals(low, high, centre=6.0)
        size = batch.size
        found = fit_batch(batch, LOGNORMAL.law, alpha=np.zeros(size), beta=np.full(size, 5.0))
    seconds = time.process_time() - start
    return seconds, PeerRun("breakwright", seconds / (2 * size), found.mu + 6.0, found.sigma)


def _fits_table() -> list[str]:
    seconds, ours = engine(DATA_SETS)
    lines = [
        f"{DATA_SETS} two-group resamples, n = {PIECES} each, lognormal, "
        f"{100 * SHARE_CAPPED:.0f} % capped: {seconds:.3f} s of CPU on one core for all.",
        "",
        "| library | CPU a fit, µs | times slower | largest difference in mu, sigma |",
        "|---|---|---|---|",
        f"| {ours.library} | {1e6 * ours.seconds:.2f} | 1 | – |",
    ]
    data, count = resamples(DATA_SETS), PEER_DATA_SETS
    for loop in PEERS:
        peer = loop(Resamples(data.lower[:count], data.upper[:count], data.family))
        there = np.isfinite(peer.mu)
        apart_mu = np.abs(peer.mu - ours.mu[:count])[there]
        apart_sigma = np.abs(peer.sigma - ours.sigma[:count])[there]
        failed = int((~there).sum())
        note = f" ({failed} of {count} failed)" if failed else ""
        lines.append(
            f"| {peer.library}{note} | {1e6 * peer.seconds:,.0f} | "
            f"{peer.seconds / ours.seconds:,.0f} | {apart_mu.max():.1e}, {apart_sigma.max():.1e} |"
        )
    return lines


def _wall(command: Sequence[str], *, repeats: int) -> tuple[float, float]:
    """Best wall time of several runs (s) and the largest memory of all children so far (MiB)."""
    best = float("inf")
    for _ in range(repeats):
        start = time.perf_counter()
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        best = min(best, time.perf_counter() - start)
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024.0
    return best, peak


def write_sheet(path: Path, pieces: int) -> None:
    """Two groups in turn, lognormal, capped at 600 N; invented by a seeded generator."""
    rng = np.random.default_rng(pieces)
    lines = ["specimen,group,load_N,density_kg_m3"]
    for i in range(pieces):
        load = float(np.exp(6.0 + (0.2 if i % 2 else 0.0) + 0.2 * rng.standard_normal()))
        cell = ">600" if load > 600.0 else f"{load:.1f}"
        lines.append(f"s{i},{'wedged' if i % 2 else 'plain'},{cell},{rng.normal(680, 30):.0f}")
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")


def _commands_table() -> list[str]:
    program = [str(Path(sys.executable).parent / "breakwright")]
    lines = ["| command | wall time, s | against `import lifelines` |", "|---|---|---|"]
    with tempfile.TemporaryDirectory() as folder:
        small, large = Path(folder, "small.csv"), Path(folder, "large.csv")
        write_sheet(small, 20)
        write_sheet(large, 100_000)
        peer, _ = _wall([sys.executable, "-c", "import lifelines"], repeats=3)
        lines.append(f"| `python -c 'import lifelines'` | {peer:.2f} | 1 |")
        report = str(Path(folder, "report.html"))
        demo, planned = str(Path(folder, "demo")), str(Path(folder, "planned"))
        subprocess.run([*program, "demo", demo], check=True, stdout=subprocess.DEVNULL)
        for name, command, repeats in (
            ("`breakwright --help`", [*program, "--help"], 3),
            ("`answer`, 2 x 10 pieces, B = 4,000", [*program, "answer", str(small)], 3),
            ("the same with `--report`", [*program, "answer", str(small), "--report", report], 2),
            ("`answer`, 100,000 rows", [*program, "answer", str(large)], 1),
            ("`rig` on the demo study, 200,000 draws", [*program, "rig", demo], 2),
            ("`plan` on the demo study", [*program, "plan", demo, "--out", planned], 1),
        ):
            seconds, peak = _wall(command, repeats=repeats)
            lines.append(f"| {name} | {seconds:.2f} | {seconds / peer:.2f} |")
        lines += ["", f"Largest memory of all these processes: {peak:.0f} MiB."]
    return lines


def run() -> str:
    """The tables of speed, as the text for ``docs/benchmarks.md``."""
    lines = ["### Fits", "", *_fits_table(), "", "### Whole commands", "", *_commands_table()]
    lines += ["", "### Before the first cut", "", *planning_table()]
    lines += ["", "### The server", "", *server_table(), "", bench_store.run()]
    return "\n".join([*lines, "", f"{os.cpu_count()} cores."])
