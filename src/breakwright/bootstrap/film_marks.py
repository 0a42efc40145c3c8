"""The displays of a film as they were asked for, and the frame in which they were marked."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from breakwright.files.display_asked import DisplayAsked
from breakwright.model.errors import InputRefused
from breakwright.model.film import DisplayMark, FilmFacts

__all__ = [
    "DISPLAYS_FILE",
    "DisplayAsked",
    "Wanted",
    "displays_beside",
    "displays_of_file",
    "displays_of_options",
    "draw_displays",
    "make_marks",
    "propose_displays",
    "refuse_outside",
    "write_displays",
]

DISPLAYS_FILE = "displays.toml"
# A corner that a finger put at the edge may lie a little beyond it (px).
_EDGE = 2.0


@dataclass(frozen=True, slots=True)
class Wanted:
    """The displays to be read, and the study that their file names, as a path."""

    displays: tuple[DisplayAsked, ...]
    study: Path | None = None


def displays_of_options(options: Sequence[str], *, option: str = "--display") -> Wanted:
    """Return the displays that the command line names. Raises InputRefused with every problem."""
    from breakwright.files.display_option import read_display_option
    from breakwright.files.findings import Findings

    findings = Findings(option)
    displays = [read_display_option(text, findings) for text in options]
    findings.refuse_if_any()
    return Wanted(tuple(one for one in displays if one is not None))


def displays_of_file(path: Path) -> Wanted:
    """Return the displays of a ``displays.toml``. Raises InputRefused with every problem."""
    from breakwright.files.displays_file import read_displays

    found = read_displays(path)
    return Wanted(found.displays, None if found.study is None else path.parent / found.study)


def displays_beside(film: Path) -> Path | None:
    """Return the file that says where the displays of ``film`` stand, if one lies beside it:
    NAME.displays.toml, or a displays.toml that names this film or no film at all."""
    from breakwright.files.displays_file import read_displays

    own = film.with_name(f"{film.stem}.{DISPLAYS_FILE}")
    if own.is_file():
        return own
    common = film.with_name(DISPLAYS_FILE)
    if not common.is_file():
        return None
    named = read_displays(common).film
    return common if named is None or Path(named).name == film.name else None


def make_marks(
    wanted: Wanted, study: Path | None, *, said: DisplayAsked | None = None
) -> tuple[DisplayMark, ...]:
    """Return the displays with what ``study`` knows of their instruments and, where neither says
    it, what ``said`` says of all of them. Raises InputRefused with every problem."""
    from breakwright.files.display_marks import display_marks, instrument_facts, with_defaults
    from breakwright.files.findings import Findings

    place = study or wanted.study
    instruments = () if place is None else instrument_facts(place)
    displays = wanted.displays if said is None else with_defaults(wanted.displays, said)
    findings = Findings("displays")
    marks = display_marks(
        displays, instruments, findings, study=None if place is None else str(place)
    )
    findings.refuse_if_any()
    return marks


def refuse_outside(displays: Sequence[DisplayAsked], facts: FilmFacts, *, film: str) -> None:
    """Raise InputRefused where a display was marked outside the frame or after the film's end."""
    from breakwright.files.findings import Findings

    findings = Findings(film)
    wide, high = facts.width, facts.height
    for one in displays:
        outside = [
            f"{x:g},{y:g}"
            for x, y in one.corners
            if not (-_EDGE <= x <= wide - 1 + _EDGE and -_EDGE <= y <= high - 1 + _EDGE)
        ]
        if outside:
            findings.problem(
                "corners-outside",
                f"«{one.name}»: a corner lies outside the picture",
                file=one.file,
                line=one.line,
                read=" ".join(outside),
                allowed=f"0,0 to {wide - 1},{high - 1}: the upright picture of {film}",
                do="Mark the digit row anew; 'breakwright read FILM --propose' shows the picture.",
            )
        if one.time > facts.duration + 1.0 and facts.duration > 0.0:
            findings.problem(
                "display-after-end",
                f"«{one.name}»: the film has no picture at {one.time:g} s",
                file=one.file,
                line=one.line,
                read=f"{one.time:g}",
                allowed=f"0 to {facts.duration:.2f} s",
                do="Give the time of the frame in which the corners hold.",
            )
    findings.refuse_if_any()


def draw_displays(film: Path, displays: Sequence[DisplayAsked], to: Path, *, title: str) -> Path:
    """Write a picture of the film with the corners drawn, as they were marked, and return its
    path. Raises InputRefused where the film cannot be read."""
    from breakwright.files.atomic import write_beside
    from breakwright.report.film_marked import marked_frame
    from breakwright.video.film_file import open_film

    source = open_film(film)
    facts = source.facts()
    time = min((one.time for one in displays), default=0.0)
    frame = next(source.frames(start=min(time, max(0.0, facts.duration - 0.5))), None)
    if frame is None:
        frame = next(source.frames())
    pixels = frame.patch(0, 0, facts.width, facts.height)
    to.parent.mkdir(parents=True, exist_ok=True)
    write_beside(
        to, marked_frame(pixels, [(one.name, one.corners) for one in displays], title=title)
    )
    return to


def propose_displays(film: Path) -> tuple[DisplayAsked, ...]:
    """Return rows of digits that the program finds by itself in the film, the likeliest first.

    Raises InputRefused where the film cannot be read.
    """
    from breakwright.reading.film_propose import propose
    from breakwright.video.film_file import open_film

    source = open_film(film)
    facts = source.facts()
    frames = []
    times = []
    for share in (0.1, 0.3, 0.5, 0.7):
        frame = next(source.frames(start=share * facts.duration), None)
        if frame is not None:
            frames.append(frame.patch(0, 0, facts.width, facts.height))
            times.append(frame.time)
    quads = propose(frames)
    time = times[0] if times else 0.0
    return tuple(
        DisplayAsked(
            f"display {number}",
            tuple((round(x, 1), round(y, 1)) for x, y in quad.corners),
            time=round(time, 3),
        )
        for number, quad in enumerate(quads, start=1)
    )


def write_displays(displays: Sequence[DisplayAsked], film: Path, to: Path) -> Path:
    """Write a ``displays.toml`` for the film and return its path. Raises InputRefused where the
    file is there and says something else."""
    from breakwright.files.atomic import write_beside
    from breakwright.files.displays_file import displays_text
    from breakwright.model.errors import Problem

    text = displays_text(displays, film=film.name)
    if to.exists() and to.read_bytes() != text.encode():
        raise InputRefused(
            [
                Problem(
                    "file-in-the-way",
                    "this file is there already and says something else; it was left alone",
                    str(to),
                    allowed="a place where nothing stands yet",
                    do="Rename it, or give --out DIR.",
                )
            ]
        )
    write_beside(to, text)
    return to
