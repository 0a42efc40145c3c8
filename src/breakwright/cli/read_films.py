"""The whole of 'breakwright read': which films, where their displays are, and the end."""

import os
import re
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import click

from breakwright.bootstrap.film_marks import (
    DISPLAYS_FILE,
    Wanted,
    displays_beside,
    displays_of_file,
    displays_of_options,
    draw_displays,
    propose_displays,
    write_displays,
)
from breakwright.bootstrap.film_told import read_two_films, write_told
from breakwright.cli.progress import shown_progress
from breakwright.cli.read_job import FilmDone, FilmJob, finished
from breakwright.cli.read_options import Asked
from breakwright.cli.read_pool import interrupted_softly, read_jobs
from breakwright.cli.read_sheet import put_into_sheet
from breakwright.cli.read_words import say_done, say_json
from breakwright.cli.trouble import say_problems, say_trouble
from breakwright.model.errors import InputRefused, Problem

__all__ = ["read_as_asked"]

BAD_INPUT = 2
INTERRUPTED = 130
_FILMS = (".mp4", ".mov", ".m4v", ".mkv", ".webm", ".avi", ".3gp", ".mts", ".m2ts", ".mpg")
# Two hands on two phones press within a frame of each other at best; what a person reads off
# two films side by side is known to about this (s): common practice, no source.
_BY_HAND_S = 0.05


def read_as_asked(asked: Asked) -> int:
    """Do what was asked; return the exit status. Raises InputRefused, UsageError."""
    films = _films(asked.films)
    if asked.propose:
        return _propose(films, asked)
    jobs = [_job(film, asked, several=len(films) > 1) for film in films]
    if asked.bundle is not None and len(jobs) > 1:
        raise click.UsageError("--bundle goes with one film.")
    if asked.other is not None and len(jobs) > 1:
        raise click.UsageError("--with goes with one film.")
    with (
        interrupted_softly() as stop,
        shown_progress(wanted=not asked.quiet and not asked.as_json) as share,
    ):
        done: list[FilmDone] = []
        if asked.other is not None:
            pair: list[FilmDone] = []
            both = (replace(jobs[0], bundle=None), _other_job(asked))
            read_jobs(both, workers=1, stop=stop, share=share, done=pair.append)
            if len(pair) == len(both):
                done.append(_together(pair, jobs[0], asked))
        else:
            read_jobs(
                jobs,
                workers=asked.workers or max(1, (os.cpu_count() or 1) // 2),
                stop=stop,
                share=share,
                done=done.append,
            )
        stopped = stop()
    return _end(done, jobs, asked, stopped=stopped)


def _end(done: Sequence[FilmDone], jobs: Sequence[FilmJob], asked: Asked, *, stopped: bool) -> int:
    order = {job.film: number for number, job in enumerate(jobs)}
    found = sorted(done, key=lambda one: order[one.film])
    if asked.as_json:
        say_json([one.told for one in found if one.told is not None], several=len(jobs) > 1)
    else:
        for one in found:
            say_done(one, quiet=asked.quiet)
    problems = [problem for one in found for problem in one.problems]
    if problems:
        say_problems(problems)
    status = BAD_INPUT if problems else 0
    if asked.study is not None and (asked.pieces or asked.in_order) and not stopped:
        fit = [one.told for one in found if one.told is not None and not one.problems]
        status = max(status, put_into_sheet(fit, asked))
    if stopped:
        left = len(jobs) - len(found)
        begun = "" if not left else f"; {left} film{' was' if left == 1 else 's were'} not begun"
        say_trouble(f"interrupted; what was read so far is kept{begun}")
        return INTERRUPTED
    return status


def _films(paths: Sequence[Path]) -> list[Path]:
    """Return the films that the paths lead to, those of a folder in the order of their names."""
    films: list[Path] = []
    for path in paths:
        if not path.is_dir():
            films.append(path)
            continue
        inside = sorted(
            (p for p in path.iterdir() if p.suffix.lower() in _FILMS and p.is_file()),
            key=lambda p: [int(s) if s.isdecimal() else s for s in re.split(r"(\d+)", p.name)],
        )
        if not inside:
            raise InputRefused(
                [
                    Problem(
                        "no-films",
                        "there is no film in this folder",
                        str(path),
                        allowed="files that end in " + ", ".join(_FILMS),
                        do="Name the film itself, or the folder that holds the films.",
                    )
                ]
            )
        films += inside
    return list(dict.fromkeys(films))


def _job(film: Path, asked: Asked, *, several: bool) -> FilmJob:
    return FilmJob(
        film,
        _wanted(film, asked.displays, asked.displays_file, option="--display"),
        asked.study,
        _folder(film, asked.out, several=several),
        said=asked.of_all,
        again=asked.again,
        bundle=asked.bundle,
    )


def _other_job(asked: Asked) -> FilmJob:
    assert asked.other is not None
    wanted = _wanted(asked.other, asked.other_displays, asked.other_file, option="--with-display")
    folder = _folder(asked.other, asked.out, several=True)
    return FilmJob(asked.other, wanted, asked.study, folder, said=asked.of_all, again=asked.again)


def _folder(film: Path, out: Path | None, *, several: bool) -> Path:
    name = f"{film.stem}-read"
    if out is None:
        return film.with_name(name)
    return out / name if several else out


def _wanted(film: Path, options: Sequence[str], file: Path | None, *, option: str) -> Wanted:
    if options:
        return displays_of_options(options, option=option)
    beside = file
    if beside is None and film.is_file():
        beside = displays_beside(film)
    if beside is not None:
        return displays_of_file(beside)
    if not film.exists():
        # What is wrong with the film is said first: it is the nearer mistake.
        return Wanted(())
    raise InputRefused(
        [
            Problem(
                "display-missing",
                "it was not said where the displays are",
                str(film),
                allowed=f'{option} "NAME: X,Y X,Y X,Y X,Y @ T", {option}s FILE, or a '
                f"{DISPLAYS_FILE} beside the film",
                do=f"Let 'breakwright read {film.name} --propose' look for them.",
            )
        ]
    )


def _together(pair: Sequence[FilmDone], job: FilmJob, asked: Asked) -> FilmDone:
    """Bring two films of one break onto one clock, and write what they tell together."""
    first, second = pair
    problems = (*first.problems, *second.problems)
    if first.told is None or second.told is None:
        return replace(first, problems=problems)
    try:
        told = read_two_films(first.told, second.told, offset=asked.offset, within=_BY_HAND_S)
    except InputRefused as refused:
        said = [
            replace(
                p,
                do="Give --offset SECONDS: what to add to the second film's times to get those of "
                "the first.",
            )
            if p.code == "film-silent"
            else p
            for p in refused.problems
        ]
        return replace(first, told=None, problems=(*problems, *said))
    folder = job.folder.with_name(f"{job.folder.name}-both")
    both = FilmDone(first.film, told, problems=problems, written=write_told(told, folder))
    return finished(both, replace(job, folder=folder))


def _propose(films: Sequence[Path], asked: Asked) -> int:
    status = 0
    for film in films:
        folder = asked.out or film.parent
        found = propose_displays(film)
        if not found:
            say_problems(
                [
                    Problem(
                        "no-display-found",
                        "no row of digits was found in this film",
                        str(film),
                        allowed="digits that are in the picture, sharp and lit",
                        do='Mark them yourself: --display "NAME: X,Y X,Y X,Y X,Y @ T"; '
                        "docs/filming.md says how to film so that they are found.",
                    )
                ]
            )
            status = BAD_INPUT
            continue
        folder.mkdir(parents=True, exist_ok=True)
        picture = draw_displays(
            film,
            found,
            folder / f"{film.stem}-displays.png",
            title=f"{film.name}: what looks like a display",
        )
        file = write_displays(found, film, folder / f"{film.stem}.{DISPLAYS_FILE}")
        many = "1 row" if len(found) == 1 else f"{len(found)} rows"
        click.echo(f"{film.name}: {many} of digits found.")
        click.echo(f"Look at them:   {picture}")
        click.echo(f"Then correct:   {file}")
        click.echo(
            "Take out what is no display, give each its name and unit (or its instrument), and "
            f"check the corners. Then: breakwright read {film}"
        )
    return status
