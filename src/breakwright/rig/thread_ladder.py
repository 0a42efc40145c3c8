"""Named threads to try instead of a part's own: the usual coarse ones of the same system."""

from collections.abc import Mapping

from breakwright.strength.metal_tables import table
from breakwright.strength.thread_names import Thread, UnknownThread, find_thread

__all__ = ["THREAD", "named_thread", "thread_ladder"]

THREAD = "thread"


def named_thread(words: Mapping[str, str]) -> Thread | None:
    """The thread that a part's words name; None where there is none."""
    name = words.get(THREAD)
    if name is None:
        return None
    try:
        return find_thread(name)
    except UnknownThread:
        return None


def thread_ladder(thread: Thread) -> Mapping[float, str]:
    """Names of coarse threads of the same system by diameter in mm, the smallest first.

    The part's own thread stands in it under its own name, fine or coarse.

    >>> found = thread_ladder(find_thread("5/16-18"))
    >>> [(round(d, 2), n) for d, n in found.items() if 6.0 < d < 10.0]
    [(6.35, '1/4-20'), (7.94, '5/16-18'), (9.53, '3/8-16')]
    """
    if thread.name.startswith("M"):
        names = [row["size"] for row in table("threads_metric.csv")]
    else:
        rows = table("threads_inch.csv")
        names = [f"{r['size']}-{r['coarse_per_in']}" for r in rows if r["coarse_per_in"]]
    found = {round(t.diameter_mm, 6): t.name for t in map(find_thread, names)}
    found[round(thread.diameter_mm, 6)] = thread.name
    return dict(sorted(found.items()))
