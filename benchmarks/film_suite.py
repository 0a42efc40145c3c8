"""``python -m benchmarks.film_suite [CLIP …]``: read the catalogue's clips, hold them against the
truth.

Each clip of ``training.clips`` goes through the whole pipeline with marks as a person sets them
(corners off by about 0.8 px). ``--faults`` lists what was read wrongly; ``--workers N`` reads so
many clips at a time.
"""

import argparse
import time
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import fields, replace

from training.clips.catalogue import CLIPS, LINES, SEED, clips_for
from training.clips.truth import marks

from benchmarks.film_suite_clips import made
from benchmarks.film_suite_score import ClipScore, score
from breakwright.usecases.film import read_film
from breakwright.video.digit_network import digit_reader
from breakwright.video.film_file import open_film

__all__ = ["measure", "table"]

_TARGETS = (
    "targets: spans exact >= 99 %, wrong <= 0.2 % of what is claimed, no ghost, every peak held"
)


def measure(names: Sequence[str] = (), *, workers: int = 1) -> list[ClipScore]:
    """Read the clips ``names`` (none: all) and return their scores."""
    asked = list(names) or list(CLIPS)
    if workers == 1:
        return [_one(name) for name in asked]
    with ProcessPoolExecutor(workers) as pool:
        return list(pool.map(_one, asked))


def _one(name: str) -> ClipScore:
    import cv2

    cv2.setNumThreads(1)
    clip = CLIPS[name]
    path, truth = made(clip, seed=SEED)
    begun = time.perf_counter()
    found = read_film(
        open_film(path),
        marks(truth, at=clip.marked_at),
        digit_reader(),
        tell=_silent,
    )
    return replace(score(clip, found.reading, truth), seconds=time.perf_counter() - begun)


def _silent(done: float, whole: float) -> None:
    """Nobody waits for it."""
    del done, whole


def table(rows: Sequence[ClipScore]) -> str:
    """Return ``rows`` and their sum as a Markdown table."""
    lines = [
        "| clip | spans exact | frames right | wrong of claimed | ghosts | states | peaks held |"
        " narrow | doubts told | s |",
        "| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |",
    ]
    lines += [_line(row) for row in rows]
    if len(rows) > 1:
        lines.append(_line(_sum(rows)))
    return "\n".join(lines)


def _line(row: ClipScore) -> str:
    cells = [
        row.name,
        f"{_share(row.exact_spans, row.spans)} of {row.spans}",
        f"{_share(row.right, row.frames)} of {row.frames}",
        f"{row.wrong} of {row.claimed}",
        str(row.ghosts),
        _share(row.states_right, row.states),
        f"{row.held} of {row.peaks}",
        f"{row.narrow} of {row.peaks}",
        f"{row.told} of {row.must_tell}",
        f"{row.seconds:.1f}",
    ]
    return f"| {' | '.join(cells)} |"


def _share(part: int, whole: int) -> str:
    return f"{100.0 * part / whole:.1f} %" if whole else "–"


def _sum(rows: Sequence[ClipScore]) -> ClipScore:
    counted = [f.name for f in fields(ClipScore) if f.type in ("int", int)]
    sums = {name: sum(getattr(row, name) for row in rows) for name in counted}
    return replace(
        rows[0],
        name=f"all {len(rows)}",
        widths=(),
        codes=(),
        faults=(),
        seconds=sum(row.seconds for row in rows),
        **sums,
    )


def _by_line() -> str:
    rows = [f"| {line} | {', '.join(clips_for(line)) or '—'} |" for line in LINES]
    return "\n".join(["| what a tester must include | clips |", "| --- | --- |", *rows])


def main() -> None:
    """Run what was asked for."""
    parser = argparse.ArgumentParser(
        prog="python -m benchmarks.film_suite",
        description=__doc__,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("clips", nargs="*", metavar="CLIP")
    parser.add_argument("--workers", type=int, default=1)
    parser.add_argument("--faults", action="store_true")
    parser.add_argument("--lines", action="store_true", help="only which clip covers what")
    asked = parser.parse_args()
    if asked.lines:
        print(_by_line())
        return
    unknown = [name for name in asked.clips if name not in CLIPS]
    if unknown:
        parser.error(f"no clip {', '.join(unknown)}; there are {', '.join(CLIPS)}")
    rows = measure(asked.clips, workers=asked.workers)
    print(table(rows))
    print(f"\n{_TARGETS}")
    if asked.faults:
        for row in rows:
            print(f"\n{row.name}: doubts {', '.join(row.codes) or 'none'}")
            for fault in row.faults:
                print(f"  {fault}")


if __name__ == "__main__":
    main()
