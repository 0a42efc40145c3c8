"""What the pages of films need of the other rooms: stills, marks, a reading to look through."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from breakwright.bootstrap.film_marks import DisplayAsked
from breakwright.model.event import Entry
from breakwright.model.film import Break, DisplayMark, FilmReading, SpanCorrection
from breakwright.report.film_crops import FilmCrop
from breakwright.report.film_json import FilmSeen

__all__ = [
    "Bundled",
    "DemoFilm",
    "Still",
    "StudyDisplay",
    "bundled",
    "corrected_reading",
    "demo_film",
    "entry_of_break",
    "evidence",
    "marks_for",
    "propose_on",
    "read_for_review",
    "still_of",
    "study_displays",
]

# A film's last frame is often a little before where its header says that it ends.
_BEFORE_END_S = 0.5
_QUALITY = 85
_DEMO_FILM, _DEMO_PIECE = "peg-C1.mp4", "C1"


@dataclass(frozen=True, slots=True)
class StudyDisplay:
    """An instrument of the study as a display to be marked: loads in its ``unit``; None: not
    said. ``decimals`` is how many the resolution has."""

    name: str
    unit: str | None
    capacity: float | None
    resolution: float | None
    refresh: float | None
    decimals: int | None


@dataclass(frozen=True, slots=True)
class Still:
    """One frame as JPEG, upright, ``width`` by ``height`` px; ``time`` is its own, ``duration``
    the film's (s)."""

    jpeg: bytes
    width: int
    height: int
    time: float
    duration: float


@dataclass(frozen=True, slots=True)
class Bundled:
    """What a bundle holds: the program's reading, and which film it is of."""

    reading: FilmReading
    films: tuple[FilmSeen, ...]


@dataclass(frozen=True, slots=True)
class DemoFilm:
    """The film of the demo study: its bytes, its displays as forms with the keys of
    ``displays.toml``, and the label of the piece that it shows."""

    name: str
    data: bytes
    marks: tuple[dict[str, Any], ...]
    piece: str


def demo_film() -> DemoFilm:
    """Return the film that comes with the package; invented, as all of the demo study."""
    from importlib.resources import files

    from breakwright.files.displays_file import read_displays_text

    here = files("breakwright.demo")
    said = read_displays_text(
        here.joinpath("displays.toml").read_text("utf-8"), file="displays.toml"
    )
    name = said.film or _DEMO_FILM
    marks = tuple(
        {
            "name": one.instrument or one.name,
            "corners": [list(corner) for corner in one.corners],
            "time": one.time,
            **({} if one.decimals is None else {"decimals": one.decimals}),
        }
        for one in said.displays
    )
    return DemoFilm(name, here.joinpath(name).read_bytes(), marks, _DEMO_PIECE)


def study_displays(toml: str) -> tuple[StudyDisplay, ...]:
    """Return the displays that the study names. Raises InputRefused with every problem."""
    from breakwright.files.display_marks import instrument_facts_text

    return tuple(
        StudyDisplay(
            name=one.name,
            unit=None if one.unit is None else one.unit.value,
            capacity=one.capacity,
            resolution=one.resolution,
            refresh=one.refresh,
            decimals=None if one.resolution is None else _decimals(one.resolution),
        )
        for one in instrument_facts_text(toml)
    )


def _decimals(resolution: float) -> int:
    text = f"{resolution:.6f}".rstrip("0")
    return len(text.partition(".")[2])


def still_of(path: Path, time: float) -> Still:
    """Return the film's frame at ``time`` (s), or its last one. Raises InputRefused."""
    import cv2

    from breakwright.video.film_file import open_film

    source = open_film(path)
    facts = source.facts()
    start = max(0.0, min(time, facts.duration - _BEFORE_END_S))
    frame = next(source.frames(start=start), None) or next(source.frames())
    pixels = frame.patch(0, 0, facts.width, facts.height)
    colours = cv2.cvtColor(pixels, cv2.COLOR_YUV2BGR)
    jpeg = cv2.imencode(".jpg", colours, [cv2.IMWRITE_JPEG_QUALITY, _QUALITY])[1].tobytes()
    return Still(jpeg, facts.width, facts.height, frame.time, facts.duration)


def propose_on(path: Path) -> tuple[DisplayAsked, ...]:
    """Return the rows of digits that the program finds by itself. Raises InputRefused."""
    from breakwright.bootstrap.film_marks import propose_displays

    return propose_displays(path)


def marks_for(asked: Sequence[DisplayAsked], toml: str) -> tuple[DisplayMark, ...]:
    """Return the displays with what the study says of them. Raises InputRefused."""
    from breakwright.files.display_marks import display_marks, instrument_facts_text
    from breakwright.files.findings import Findings

    findings = Findings("displays")
    marks = display_marks(asked, instrument_facts_text(toml), findings, study="study.toml")
    findings.refuse_if_any()
    return marks


def read_for_review(
    path: Path, marks: Sequence[DisplayMark], *, tell: Callable[[float, float], None]
) -> tuple[FilmReading, tuple[FilmCrop, ...]]:
    """Read the film; return what was read and every picture that was kept.

    ``tell`` is told how far it is (s) and how long the film is (s). Raises InputRefused for what
    is no film, or has a display marked outside of its picture.
    """
    from breakwright.bootstrap.film_marks import refuse_outside
    from breakwright.usecases.film import read_film
    from breakwright.video.digit_network import digit_reader
    from breakwright.video.film_file import open_film

    source = open_film(path)
    asked = [DisplayAsked(mark.name, mark.quad.corners, time=mark.time) for mark in marks]
    refuse_outside(asked, source.facts(), film=path.name)
    read = read_film(source, tuple(marks), digit_reader(), tell=tell)
    crops = tuple(
        FilmCrop(track.mark.name, float(track.times[number]), jpeg)
        for track in read.tracks
        for number, jpeg in sorted(track.kept.items())
    )
    return read.reading, crops


def evidence(
    reading: FilmReading, crops: Sequence[FilmCrop], film: FilmSeen, *, path: Path
) -> tuple[bytes, bytes]:
    """Return two bundles (zip): one with every crop, for looking it through, and a small one with
    those that prove the peak and every doubt."""
    from breakwright.bootstrap.film_told import FilmTold, bundle_of
    from breakwright.report.film_crops import proving_crops

    whole = FilmTold(path, (film,), reading, tuple(crops))
    proving = proving_crops(reading, crops, whole.unit)
    return bundle_of(whole), bundle_of(FilmTold(path, (film,), reading, proving))


def bundled(form: Mapping[str, Any]) -> Bundled:
    """Return what a bundle's ``film.json`` holds. Raises ImpossibleValue for another one."""
    from breakwright.report.film_json import film_from

    return Bundled(film_from(form), tuple(FilmSeen(**film) for film in form["films"]))


def corrected_reading(reading: FilmReading, corrections: Sequence[SpanCorrection]) -> FilmReading:
    """Return the reading with a person's corrections; sum, breaks and doubts made anew."""
    if not corrections:
        return reading
    from breakwright.reading.film_correct import corrected

    return corrected(reading, corrections)


def entry_of_break(found: Break, reading: FilmReading, toml: str, *, film: str) -> Entry:
    """Return the pull as an entry of a trial. Raises InputRefused where the displays of the film
    are not those that the study reads."""
    from breakwright.files.bench.defined import defined
    from breakwright.usecases.film_entry import entry_of

    return entry_of(found, defined(toml).study, displays=reading.displays, film=film)
