"""``python -m benchmarks``: speed; ``film``: reading films; ``coverage``: the long simulations.

Each prints its tables and puts them into ``docs/benchmarks.md``, in place of those of last time.
"""

import datetime as dt
import os
import platform
import re
import sys
from pathlib import Path

from benchmarks import coverage, film, speed

PAGE = Path(__file__).parent.parent / "docs" / "benchmarks.md"
HEADINGS = {
    "speed": "Speed",
    "film": "Films of displays",
    "coverage": "Coverage and false verdicts",
}


def machine() -> str:
    """The machine in words: cores, memory, Python and numpy."""
    import numpy as np

    memory = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES") / 2**30
    return (
        f"{os.cpu_count()} cores, {memory:.0f} GiB of memory, {platform.machine()}, "
        f"Python {platform.python_version()}, numpy {np.__version__}"
    )


def put(which: str, text: str) -> None:
    """Replace the part of the page under ``which``'s heading, or add it."""
    heading = f"## {HEADINGS[which]}"
    part = f"{heading}\n\nMeasured {dt.date.today().isoformat()} on {machine()}.\n\n{text}\n"
    page = PAGE.read_text(encoding="utf-8") if PAGE.exists() else "# Benchmarks\n"
    old = re.compile(rf"^{re.escape(heading)}\n.*?(?=^## |\Z)", re.DOTALL | re.MULTILINE)
    if old.search(page):
        page = old.sub(lambda _: part + "\n", page)
    else:
        page = f"{page.rstrip()}\n\n{part}"
    PAGE.write_text(page.rstrip() + "\n", encoding="utf-8")


def main() -> None:
    """Run what was asked for."""
    which = sys.argv[1] if len(sys.argv) > 1 else "speed"
    if which not in HEADINGS:
        raise SystemExit(f"benchmarks: {which!r} is not one of {', '.join(HEADINGS)}")
    text = {"speed": speed.run, "film": film.run, "coverage": coverage.run}[which]()
    print(text)
    put(which, text)


if __name__ == "__main__":
    main()
