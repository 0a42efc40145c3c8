"""What films told, put into the sheet of a study folder: matched to pieces, checked, written."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from breakwright.bootstrap.film_told import FilmTold
from breakwright.model.errors import InputRefused, Problem
from breakwright.model.event import Entry
from breakwright.usecases.film_matching import FilmedPull, Match, matched

if TYPE_CHECKING:
    from breakwright.files.study_file import StudyFile

__all__ = ["Proposal", "SheetChange", "propose_readings", "put_readings", "write_readings"]

_SPECIMENS = "specimens.csv"


@dataclass(frozen=True, slots=True)
class Proposal:
    """A pull, the piece that it is thought to be of (None: none is left), and its reading."""

    match: Match
    entry: Entry


@dataclass(frozen=True, slots=True)
class SheetChange:
    """The sheet ``path`` with readings put in. ``replaced`` is what stood there before: piece ->
    its loads, header and row; ``same`` are pieces whose row said so already; ``begun``: the sheet
    is a copy of the plan's list of pieces, since there was none yet."""

    path: Path
    text: str
    replaced: Mapping[str, tuple[str, tuple[str, ...], tuple[str, ...]]]
    same: tuple[str, ...]
    begun: bool


def propose_readings(
    told: Sequence[FilmTold],
    study: Path,
    *,
    named: Sequence[str],
    in_order: bool,
    failure: str | None = None,
) -> tuple[Proposal, ...]:
    """Return every pull of the films with its piece: those ``named`` first, and, if ``in_order``,
    then the pieces without a reading in the planned order.

    Raises InputRefused where the study cannot be read or its displays are not those of the film.
    """
    from breakwright.files.planning import read_plan_source
    from breakwright.files.sheet_row import waiting_pieces
    from breakwright.usecases.film_entry import entry_of

    source = read_plan_source(study)
    text, path, _ = _sheet(study)
    waiting = waiting_pieces(text, file=str(path)) if in_order else ()
    pulls = [FilmedPull(one.films[0].name, found) for one in told for found in one.reading.breaks]
    of_film = {one.films[0].name: one.reading for one in told}
    return tuple(
        Proposal(
            match,
            entry_of(
                match.pull.found,
                source.study,
                displays=of_film[match.pull.film].displays,
                film=match.pull.film,
                failure=failure,
            ),
        )
        for match in matched(pulls, waiting, named=named)
    )


def put_readings(proposals: Sequence[Proposal], study: Path) -> SheetChange:
    """Return the study's sheet with the readings put into the rows of their pieces; nothing is
    written. Raises InputRefused with what stands in the way."""
    from breakwright.files.sheet_row import put_in

    text, path, begun = _sheet(study)
    file = _study_file(study)
    replaced = {}
    same = []
    for proposal in proposals:
        piece = proposal.match.piece
        if piece is None:
            continue
        put = put_in(text, file, proposal.entry, piece=piece, file=str(path))
        text = put.text
        if put.same:
            same.append(piece)
        elif put.was:
            replaced[piece] = (put.was, *put.before)
    return SheetChange(path, text, replaced, tuple(same), begun)


def write_readings(change: SheetChange, *, when: str, because: str) -> Path | None:
    """Write the sheet, whole or not at all, and before it what it replaces; return the file that
    keeps that, None where nothing was replaced."""
    from breakwright.files.atomic import write_beside
    from breakwright.files.replaced_rows import keep_replaced

    kept = None
    for _, header, row in change.replaced.values():
        kept = keep_replaced(change.path.parent, when=when, because=because, header=header, row=row)
    write_beside(change.path, change.text.encode())
    return kept


def _study_file(study: Path) -> "StudyFile":
    from breakwright.files.findings import Findings
    from breakwright.files.locate import locate_study
    from breakwright.files.study_file import read_study_file

    findings = Findings(str(study))
    place = locate_study(study, findings)
    findings.file = str(place)
    file = read_study_file(place, findings)
    findings.refuse_if_any()
    assert file is not None
    return file


def _sheet(study: Path) -> tuple[str, Path, bool]:
    """Return the sheet's text and path, and whether it is the plan's list of pieces still."""
    file = _study_file(study)
    path = Path(file.file).parent / file.table.sheet
    source = path if path.exists() else path.with_name(_SPECIMENS)
    if not source.is_file():
        raise InputRefused(
            [
                Problem(
                    "study-without-sheet",
                    f"there is neither {path.name} nor {_SPECIMENS} to put the reading into",
                    file.file,
                    allowed="a sheet with a row for each piece",
                    do="Let 'breakwright plan' write specimens.csv, or make the sheet.",
                )
            ]
        )
    # Line ends are kept as they are.
    with source.open(encoding="utf-8", newline="") as opened:
        try:
            text = opened.read()
        except UnicodeDecodeError:
            from breakwright.files.findings import Findings
            from breakwright.files.raw import read_text

            findings = Findings(str(source))
            read_text(source, findings)
            findings.refuse_if_any()
            raise
    return text, path, source != path
