"""Tiny films, and a stand-in for the reader that finds one pull wherever it is asked to look."""

from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np

from breakwright.bootstrap.film_told import FilmTold
from breakwright.model.film import (
    Break,
    DisplayMark,
    DisplayTrace,
    FilmDoubt,
    FilmFacts,
    FilmReading,
    PeakWindow,
    Shown,
    Span,
    SumSpan,
)
from breakwright.model.trial import Ending
from breakwright.model.units import ForceUnit, to_newtons
from breakwright.report.film_crops import FilmCrop
from breakwright.report.film_json import FilmSeen
from breakwright.video.film_file import film_hash, open_film

LOADS = (20.70, 21.10)
CORNERS = "10,10 50,10 50,30 10,30"


def small_film(path: Path, *, seed: int = 0) -> Path:
    """A second of moving noise, 96 x 64; nothing can be read off it."""
    import av

    random = np.random.default_rng(seed)
    with av.open(str(path), "w") as container:
        stream = container.add_stream("mpeg4", rate=10)
        stream.width, stream.height, stream.pix_fmt = 96, 64, "yuv420p"
        for _ in range(10):
            pixels = random.integers(0, 255, (64, 96, 3), np.uint8)
            container.mux(stream.encode(av.VideoFrame.from_ndarray(pixels, format="rgb24")))
        container.mux(stream.encode())
    return path


def told_of(
    path: Path, marks: Sequence[DisplayMark], *, pulls: int = 1, doubts: Sequence[FilmDoubt] = ()
) -> FilmTold:
    """What a film of ``pulls`` pulls would tell: 20.70 on the first display, 21.10 on the next."""
    import cv2

    traces = []
    for mark, load in zip(marks, LOADS, strict=False):
        spans = []
        for n in range(pulls):
            at = 10.0 * n
            rows = ((0.0, 4.0, 0.0), (4.0, 8.0, load), (8.0, 10.0, 0.0))
            spans += [
                Span(at + a, at + b, Shown.VALUE, v, f"{v:.2f}", 0.999, 30, at + a - 0.03)
                for a, b, v in rows
            ]
        traces.append(DisplayTrace(mark, tuple(spans), 0.25, 2, 0.05, 0.0, 0.0))
    total = sum(LOADS[: len(marks)])
    breaks = tuple(
        Break(
            n + 1,
            10.0 * n + 4.0,
            10.0 * n + 8.0,
            (10.0 * n + 7.9, 10.0 * n + 8.0),
            10.0 * n + 7.5,
            to_newtons(total - 0.05, ForceUnit.KGF),
            to_newtons(total + 0.05, ForceUnit.KGF),
            tuple(
                PeakWindow(m.name, v, v, Shown.VALUE, 3 * n + 1)
                for m, v in zip(marks, LOADS, strict=False)
            ),
            Ending.BROKE,
            None,
            (),
        )
        for n in range(pulls)
    )
    reading = FilmReading(
        FilmFacts(96, 64, 0, 10, 10.0 * pulls, "mpeg4", sound=False),
        tuple(traces),
        (SumSpan(0.0, 10.0 * pulls, 0.0, to_newtons(total, ForceUnit.KGF)),),
        breaks,
        tuple(doubts),
    )
    jpeg = cv2.imencode(".jpg", np.full((20, 60, 3), 150, np.uint8))[1].tobytes()
    crops = tuple(FilmCrop(t.mark.name, s.start + 0.1, jpeg) for t in traces for s in t.spans)
    return FilmTold(path, (FilmSeen(path.name, film_hash(path)),), reading, crops)


def stand_in(
    *,
    pulls: int = 1,
    doubts: Sequence[FilmDoubt] = (),
    meanwhile: Callable[[Path], None] = lambda _: None,
) -> Callable[..., FilmTold]:
    """Return what stands in for the reading of a film's file."""

    def read(
        path: Path,
        marks: Sequence[DisplayMark],
        *,
        tell: Callable[[float, float], None],
        stop: Callable[[], bool],
    ) -> FilmTold:
        open_film(path)
        assert not stop()
        tell(0.5, 1.0)
        meanwhile(path)
        return told_of(path, marks, pulls=pulls, doubts=doubts)

    return read
