"""A film of two scales as it could have been read, and a store in which it lies; all invented.

The sum is last seen at 8 s as 12.00 + 12.50 kgf; «right scale» then goes dark, the break comes at
9 s. On «left scale» the span from 6 s on was read as 9.80 where 9.00 stood.
"""

import hashlib
import json
from pathlib import Path

import av
import cv2
import numpy as np

from breakwright.bootstrap.bench import demo_events
from breakwright.bootstrap.film_pages import corrected_reading, evidence
from breakwright.model.event import Event, FilmRead, VideoAdded
from breakwright.model.film import (
    DisplayMark,
    DisplayTrace,
    FilmFacts,
    FilmReading,
    Quad,
    Shown,
    Span,
    SpanCorrection,
)
from breakwright.report.film_crops import FilmCrop
from breakwright.report.film_json import FilmSeen
from breakwright.usecases.bench.ports import Media
from breakwright.web.services import Services, new_id
from breakwright.web.uploads import VIDEO_FOLDER

__all__ = ["FILM", "MARKS", "NOW", "VIDEO", "film_bytes", "film_study", "read_by_machine"]

NOW = "2026-01-31T09:30:00.000Z"
VIDEO, FILM = "ab" * 16, "cd" * 16
NAMES = ("left scale", "right scale")
CORNERS = (
    ((40.0, 30.0), (140.0, 30.0), (140.0, 62.0), (40.0, 62.0)),
    ((180.0, 30.0), (280.0, 30.0), (280.0, 62.0), (180.0, 62.0)),
)
MARKS = [
    {"name": name, "corners": [list(c) for c in corners], "time": 0.5, "decimals": 2}
    for name, corners in zip(NAMES, CORNERS, strict=True)
]
_STEP_S = 0.5


def _mark(name: str) -> DisplayMark:
    quad = Quad(*CORNERS[NAMES.index(name)])
    return DisplayMark(name, quad, 0.5, "kgf", 2, 0.05, 50.0, 0.25, 4)


def _span(start: float, end: float, value: float | None) -> Span:
    shown = Shown.BLANK if value is None else Shown.VALUE
    text = "" if value is None else f"{value:.2f}"
    return Span(start, end, shown, value, text, 0.999, 12, max(0.0, start - 0.04))


def _trace(name: str, top: float, *, dark: bool, wrong: float | None) -> DisplayTrace:
    count = 12
    spans = [_span(0.0, 2.0, 0.0)]
    for i in range(count):
        start = 2.0 + _STEP_S * i
        value = round(top * (i + 1) / count / 0.05) * 0.05
        if wrong is not None and i == 8:
            value = wrong
        spans.append(_span(start, start + _STEP_S, round(value, 2)))
    if dark:
        spans.append(_span(8.0, 11.0, None))
    else:
        spans += [_span(8.0, 9.0, round(top + 0.5, 2)), _span(9.0, 11.0, 0.0)]
    return DisplayTrace(_mark(name), tuple(spans), 0.5, 2, 0.05, 0.0, 0.0)


def read_by_machine() -> FilmReading:
    """Return the reading, its sum and its pull made as after any correction."""
    facts = FilmFacts(320, 240, 0, 275, 11.0, "h264", sound=False)
    displays = (
        _trace("left scale", 12.0, dark=False, wrong=9.8),
        _trace("right scale", 12.5, dark=True, wrong=None),
    )
    bare = FilmReading(facts, displays, (), (), ())
    same = SpanCorrection("left scale", 0.0, 2.0, Shown.VALUE, 0.0, "nothing new")
    made = corrected_reading(bare, [same])
    return FilmReading(facts, displays, made.total, made.breaks, made.doubts)


def crop_of(text: str) -> bytes:
    """A picture of a display that shows ``text``."""
    picture = np.full((64, 160), 190, np.uint8)
    cv2.putText(picture, text, (20, 44), cv2.FONT_HERSHEY_SIMPLEX, 1.1, 30, 3)
    return bytes(cv2.imencode(".jpg", picture)[1])


def _crops(reading: FilmReading) -> list[FilmCrop]:
    return [
        FilmCrop(trace.mark.name, span.start, crop_of(span.text))
        for trace in reading.displays
        for span in trace.spans
    ]


def film_bytes(folder: Path, *, seconds: float = 2.0) -> bytes:
    """A film of 320 by 240 px at 10 frames a second with two displays that count up."""
    path = folder / "made.mp4"
    with av.open(str(path), "w") as out:
        stream = out.add_stream("libx264", rate=10)
        stream.width, stream.height, stream.pix_fmt = 320, 240, "yuv420p"
        for number in range(int(seconds * 10)):
            picture = np.full((240, 320, 3), 60, np.uint8)
            for (left, top), _, (right, bottom), _ in CORNERS:
                cv2.rectangle(
                    picture,
                    (int(left) - 12, int(top) - 10),
                    (int(right) + 12, int(bottom) + 10),
                    (200, 205, 200),
                    -1,
                )
                cv2.putText(
                    picture,
                    f"{number / 10:05.2f}",
                    (int(left), int(bottom) - 4),
                    cv2.FONT_HERSHEY_SIMPLEX,
                    1.0,
                    (20, 20, 20),
                    3,
                )
            for packet in stream.encode(av.VideoFrame.from_ndarray(picture, format="bgr24")):
                out.mux(packet)
        for packet in stream.encode():
            out.mux(packet)
    return path.read_bytes()


def film_study(services: Services, *, read: bool = True, film: bytes = b"film") -> str:
    """Put the demo study there, with a film of C1 (read already or not); return its handle."""
    events = list(demo_events(NOW, new_id))
    services.record(events)
    study = events[0].study
    state = services.bench.state(study)
    assert state is not None
    piece = state.piece("C1")
    assert piece is not None
    folder = services.folder / VIDEO_FOLDER
    folder.mkdir(parents=True, exist_ok=True)
    (folder / f"{VIDEO}.mp4").write_bytes(film)
    digest = hashlib.sha256(film).hexdigest()
    video = VideoAdded(f"{VIDEO}.mp4", "peg C1.mp4", len(film), digest, piece.id)
    services.record([Event(VIDEO, study, NOW, video)])
    if read:
        reading = read_by_machine()
        seen = FilmSeen("peg C1.mp4", digest)
        whole, _ = evidence(reading, _crops(reading), seen, path=Path("peg C1.mp4"))
        media = Media(f"{hashlib.sha256(whole).hexdigest()}.zip", "application/zip", whole)
        services.bench.store.put_media(media)
        body = FilmRead(digest, "peg C1.mp4", media.name, json.dumps(MARKS), VIDEO)
        services.record([Event(FILM, study, NOW, body, "server")])
    return state.handle
