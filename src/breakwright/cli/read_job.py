"""One film read from its file to its folder; runs here or in a worker process."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from breakwright.bootstrap.film_marks import (
    DisplayAsked,
    Wanted,
    draw_displays,
    make_marks,
    refuse_outside,
)
from breakwright.bootstrap.film_told import (
    FilmTold,
    bundle_of,
    film_facts,
    is_growing,
    read_film_file,
    told_before,
    write_told,
)
from breakwright.model.errors import InputRefused, Problem

__all__ = ["FilmDone", "FilmJob", "finished", "read_job"]

_CORNERS = ("corners-cross", "corners-outside")
_PICTURE = "displays.png"

Tell = Callable[[float, float], None]
Stop = Callable[[], bool]


@dataclass(frozen=True, slots=True)
class FilmJob:
    """What is to be read, and where what is written about it goes. ``said``: what holds for every
    display that says nothing else; ``again``: even if an earlier run has read it; ``bundle``: a
    zip file to write."""

    film: Path
    wanted: Wanted
    study: Path | None
    folder: Path
    said: DisplayAsked | None = None
    again: bool = False
    bundle: Path | None = None


@dataclass(frozen=True, slots=True)
class FilmDone:
    """What came of a job. ``before``: an earlier run had read it; ``problems`` are those for which
    it must not be used as it is; ``written`` are files."""

    film: Path
    told: FilmTold | None = None
    before: bool = False
    problems: tuple[Problem, ...] = ()
    written: tuple[Path, ...] = ()


def read_job(job: FilmJob, *, tell: Tell, stop: Stop) -> FilmDone:
    """Read the film and write its folder. What is wrong with the input comes back as problems."""
    try:
        return _read(job, tell=tell, stop=stop)
    except InputRefused as refused:
        return _refused(job, refused.problems)


def _read(job: FilmJob, *, tell: Tell, stop: Stop) -> FilmDone:
    facts = film_facts(job.film)
    marks = make_marks(job.wanted, job.study, said=job.said)
    refuse_outside(job.wanted.displays, facts, film=job.film.name)
    earlier = None if job.again else told_before(job.film, marks, job.folder)
    if earlier is not None:
        return finished(FilmDone(job.film, earlier, before=True), job)
    size = job.film.stat().st_size
    told = read_film_file(job.film, marks, tell=tell, stop=stop)
    done = FilmDone(job.film, told)
    if is_growing(job.film, size):
        done = replace(done, problems=(_growing(job.film),))
    return finished(replace(done, written=write_told(told, job.folder)), job)


def finished(done: FilmDone, job: FilmJob) -> FilmDone:
    """Return ``done`` with its bundle written and with what must not be passed over."""
    from breakwright.report.film_refusals import film_problems

    assert done.told is not None
    written = list(done.written)
    problems = [*done.problems]
    found = film_problems(done.told.reading, film=str(job.film))
    if found:
        picture = _drawn(job, found[0].message)
        written += [] if picture is None else [picture]
        problems += [_with_picture(problem, picture) for problem in found]
    if job.bundle is not None:
        from breakwright.bootstrap.bench import write_whole

        write_whole(job.bundle, bundle_of(done.told))
        written.append(job.bundle)
    return replace(done, problems=tuple(problems), written=tuple(written))


def _refused(job: FilmJob, problems: tuple[Problem, ...]) -> FilmDone:
    if not any(problem.code in _CORNERS for problem in problems):
        return FilmDone(job.film, problems=problems)
    picture = _drawn(job, next(p.message for p in problems if p.code in _CORNERS))
    shown = tuple(
        _with_picture(problem, picture) if problem.code in _CORNERS else problem
        for problem in problems
    )
    return FilmDone(job.film, problems=shown, written=() if picture is None else (picture,))


def _drawn(job: FilmJob, title: str) -> Path | None:
    """Draw what was marked; where even the film cannot be read there is nothing to draw on."""
    try:
        return draw_displays(job.film, job.wanted.displays, job.folder / _PICTURE, title=title)
    except InputRefused:
        return None


def _with_picture(problem: Problem, picture: Path | None) -> Problem:
    if picture is None:
        return problem
    return replace(problem, do=f"{problem.do or ''} What was marked: {picture}".strip())


def _growing(film: Path) -> Problem:
    return Problem(
        "film-growing",
        "the film grew while it was read: it is still being recorded or copied",
        str(film),
        allowed="a film that is complete",
        do="Wait for the copy to end, then read it again. What was read so far is kept.",
    )
