"""A film read from its file to what is written about it: data, table, chart, contact sheet."""

import json
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from breakwright.model.film import DisplayMark, FilmFacts, FilmReading
from breakwright.model.units import ForceUnit
from breakwright.report.film_crops import FilmCrop
from breakwright.report.film_json import FilmSeen

if TYPE_CHECKING:
    from breakwright.reading.film_ports import DigitReader, Frame, FrameSource

__all__ = [
    "FilmTold",
    "bundle_of",
    "film_dict",
    "film_facts",
    "is_growing",
    "read_film_file",
    "read_two_films",
    "told_before",
    "write_told",
]

FORM = "film.json"
_CROP = re.compile(r"display-(\d+)-at-(\d+\.\d+)s\.jpg")

Tell = Callable[[float, float], None]
Stop = Callable[[], bool]


@dataclass(frozen=True, slots=True)
class FilmTold:
    """What was read of the film at ``path``: ``films`` says which bytes it was, ``crops`` are
    the pictures that prove it."""

    path: Path
    films: tuple[FilmSeen, ...]
    reading: FilmReading
    crops: tuple[FilmCrop, ...]

    @property
    def unit(self) -> ForceUnit:
        """The unit in which people are shown the sum."""
        from breakwright.report.film_words import film_unit

        return film_unit(self.reading)


def read_film_file(
    path: Path,
    marks: Sequence[DisplayMark],
    *,
    tell: Tell,
    stop: Stop,
    reader: "DigitReader | None" = None,
) -> FilmTold:
    """Read the film at ``path``. Where ``stop`` says so it ends there, and keeps what it has.

    ``tell`` is told how far it is (s) and how long the film is (s). Raises InputRefused for what
    is no film.
    """
    from breakwright.usecases.film import read_film
    from breakwright.video.digit_network import digit_reader
    from breakwright.video.film_file import film_hash, open_film

    seen = FilmSeen(path.name, film_hash(path))
    source = _Stoppable(open_film(path), stop)
    read = read_film(source, tuple(marks), reader or digit_reader(), tell=tell)
    crops = tuple(
        FilmCrop(track.mark.name, float(track.times[number]), jpeg)
        for track in read.tracks
        for number, jpeg in sorted(track.kept.items())
    )
    return _proven(FilmTold(path, (seen,), read.reading, crops))


def read_two_films(
    first: FilmTold, second: FilmTold, *, offset: float | None, within: float
) -> FilmTold:
    """Return both films of one break on the first one's clock.

    What happens at t in the second happened at t + ``offset`` (s) in the first, ``within`` so
    many s; None: the sound of the break tells. Raises InputRefused where a film has no sound.
    """
    from breakwright.reading.film_sound import offset_by_sound
    from breakwright.reading.film_two import joined
    from breakwright.video.film_file import film_sound

    uncertainty = within
    if offset is None:
        a, b = film_sound(first.path), film_sound(second.path)
        heard = offset_by_sound(a.samples, a.rate, b.samples, b.rate)
        offset, uncertainty = heard.seconds, heard.uncertainty
    reading = joined(first.reading, second.reading, offset=offset, uncertainty=uncertainty)
    films = (
        *first.films,
        *(replace(film, offset=offset, uncertainty=uncertainty) for film in second.films),
    )
    moved = tuple(replace(crop, time=crop.time + offset) for crop in second.crops)
    return _proven(FilmTold(first.path, films, reading, (*first.crops, *moved)))


def _proven(told: FilmTold) -> FilmTold:
    from breakwright.report.film_crops import proving_crops

    return replace(told, crops=proving_crops(told.reading, told.crops, told.unit))


def film_facts(path: Path) -> FilmFacts:
    """Return what the film's header says. Raises InputRefused for what is no film."""
    from breakwright.video.film_file import open_film

    return open_film(path).facts()


def is_growing(path: Path, size: int) -> bool:
    """Has the file another size than the ``size`` it had when its reading began?"""
    return path.stat().st_size != size


def film_dict(told: FilmTold) -> dict[str, Any]:
    """Return what ``film.json`` holds."""
    from breakwright.report.film_json import film_form

    return film_form(told.reading, films=told.films)


def write_told(told: FilmTold, folder: Path) -> tuple[Path, ...]:
    """Write film.json, trace.csv, the chart, the contact sheet and the crops into ``folder``
    (made if missing), each whole or not at all, film.json last; return where they lie, without
    the crops one by one."""
    from breakwright.files.atomic import write_beside

    (folder / "crops").mkdir(parents=True, exist_ok=True)
    for old in (folder / "crops").iterdir():
        if _CROP.fullmatch(old.name):
            old.unlink()
    for name, data in _crops(told).items():
        write_beside(folder / "crops" / name, data)
    files = {**_pictures(told), **_tables(told)}
    for name, data in files.items():
        write_beside(folder / name, data)
    return tuple(folder / name for name in reversed(files))


def _tables(told: FilmTold) -> dict[str, bytes]:
    from breakwright.report.film_csv import trace_csv

    form = json.dumps(film_dict(told), ensure_ascii=False, allow_nan=False, indent=1)
    return {
        "trace.csv": trace_csv(told.reading, told.unit).encode(),
        FORM: f"{form}\n".encode(),
    }


def _pictures(told: FilmTold) -> dict[str, bytes]:
    from breakwright.report.charts.drawing import png, svg
    from breakwright.report.charts.film import film_figure
    from breakwright.report.charts.theme import DARK, LIGHT, PICTURE, Theme
    from breakwright.report.film_sheet import contact_sheet

    made = {
        "contact-sheet.png": contact_sheet(
            told.reading,
            told.crops,
            unit=told.unit,
            film=" and ".join(film.name for film in told.films),
        )
    }
    for colours in (DARK, LIGHT):
        figure = film_figure(told.reading, Theme(colours, PICTURE), unit=told.unit)
        name = "chart" if colours is LIGHT else "chart-dark"
        made[f"{name}.svg"] = svg(figure).encode()
        made[f"{name}.png"] = png(figure, scale=2.0)
    return made


def _crops(told: FilmTold) -> dict[str, bytes]:
    from breakwright.report.film_crops import crop_name

    place = {trace.mark.name: n for n, trace in enumerate(told.reading.displays, start=1)}
    return {crop_name(crop, place[crop.display]): crop.jpeg for crop in told.crops}


def bundle_of(told: FilmTold) -> bytes:
    """Return the crops, the trace and film.json as a zip file: the film itself is not in it."""
    from breakwright.files.film_bundle import film_bundle

    return film_bundle(_tables(told), crops=_crops(told))


def told_before(path: Path, marks: Sequence[DisplayMark], folder: Path) -> FilmTold | None:
    """Return what ``folder`` holds of an earlier run over the same bytes with the same displays
    and the same version, read to its end; None where there is no such thing."""
    from breakwright.report.film_json import film_from
    from breakwright.version import VERSION
    from breakwright.video.film_file import film_hash

    try:
        form: Mapping[str, Any] = json.loads((folder / FORM).read_text("utf-8"))
        reading = film_from(form)
        films = tuple(FilmSeen(**film) for film in form["films"])
    except (OSError, ValueError, KeyError, TypeError):
        return None
    same = (
        form.get("version") == VERSION
        and len(films) == 1
        and tuple(trace.mark for trace in reading.displays) == tuple(marks)
        and not (reading.facts.ended_early or "").startswith(_STOPPED)
    )
    if not same or films[0].sha256 != film_hash(path):
        return None
    return FilmTold(path, films, reading, _kept_crops(folder, reading))


def _kept_crops(folder: Path, reading: FilmReading) -> tuple[FilmCrop, ...]:
    found = []
    for file in sorted((folder / "crops").glob("display-*.jpg")):
        name = _CROP.fullmatch(file.name)
        if name and 0 < int(name[1]) <= len(reading.displays):
            display = reading.displays[int(name[1]) - 1].mark.name
            found.append(FilmCrop(display, float(name[2]), file.read_bytes()))
    return tuple(found)


_STOPPED = "it was stopped by a person"


class _Stoppable:
    """A film that ends where a person wants it to, and says so."""

    def __init__(self, source: "FrameSource", stop: Stop) -> None:
        self._source = source
        self._stop = stop
        self._frames = 0
        self._last = 0.0
        self._stopped = False

    def facts(self) -> FilmFacts:
        facts = self._source.facts()
        if not self._stopped:
            return facts
        return replace(
            facts,
            frames=self._frames,
            duration=self._last,
            ended_early=f"{_STOPPED} at {self._last:.2f} s",
        )

    def frames(self, *, start: float = 0.0) -> "Iterator[Frame]":
        for frame in self._source.frames(start=start):
            if self._stop():
                self._stopped = True
                return
            self._frames += 1
            self._last = frame.time
            yield frame
