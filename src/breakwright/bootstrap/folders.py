"""Studies of the store out to folders and zip files, and in again."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from breakwright.files.bench.taking import Making
from breakwright.files.options import ReadOptions
from breakwright.model.errors import InputRefused, Problem
from breakwright.usecases.bench.ports import EventStore, Receipt
from breakwright.usecases.bench.state import StudyState

if TYPE_CHECKING:
    from breakwright.files.bench.incoming import Incoming

__all__ = ["Exported", "Making", "export_study", "keep_import", "read_import", "study_named"]


@dataclass(frozen=True, slots=True)
class Exported:
    """``files`` are the names written; ``missing`` the media that were never sent to the store;
    ``clashes`` the labels of pieces with two readings, of which the first is in the tables."""

    path: Path
    files: tuple[str, ...]
    missing: tuple[str, ...]
    clashes: tuple[str, ...]
    films: tuple[str, ...]


def export_study(
    store: EventStore, state: StudyState, path: Path, *, over: Sequence[str] = ()
) -> Exported:
    """Write the study as a folder, or as a zip file where ``path`` ends in .zip.

    Files that are there and say something else are left alone, and ImpossibleValue is raised,
    unless ``over`` names them; a zip file that is there is replaced.
    """
    from breakwright.files.bench.writing import MEDIA, folder_of, write_folder, write_zip

    def fetch(name: str) -> bytes | None:
        media = store.media(name)
        return None if media is None else media.data

    folder = folder_of(state, fetch)
    if path.suffix.lower() == ".zip":
        write_zip(folder, fetch, path)
    else:
        write_folder(folder, fetch, path, over=over)
    films = (*state.videos, *(video for piece in state.pieces for video in piece.videos))
    return Exported(
        path,
        (*folder.texts, *(f"{MEDIA}/{name}" for name in folder.media)),
        folder.missing,
        tuple(piece.label for piece in state.clashes),
        tuple(video.name for video in films),
    )


def read_import(
    source: bytes | Path,
    *,
    name: str,
    making: Making,
    options: ReadOptions | None = None,
    handles: Collection[tuple[str, str]] = (),
    as_new: bool = False,
) -> "Incoming":
    """Return what is in a folder, a zip file or a lone sheet: see ``files.bench.incoming``."""
    from breakwright.files.bench.incoming import read_incoming

    return read_incoming(
        source, name=name, making=making, options=options, handles=handles, as_new=as_new
    )


def keep_import(store: EventStore, incoming: "Incoming", *, received: str) -> Receipt:
    """Keep the media first and then the events, all or none of them."""
    for media in incoming.media():
        store.put_media(media)
    return store.append(incoming.events, received=received)


def study_named(store: EventStore, words: str) -> str:
    """Return the id of the study with this handle or id, or of the only one whose title begins
    so. Raises InputRefused with the list of studies."""
    lines = store.studies()
    exact = [line.id for line in lines if words in (line.id, line.handle)]
    begins = [line.id for line in lines if line.title.casefold().startswith(words.casefold())]
    found = exact[:1] or begins
    if len(found) == 1:
        return found[0]
    raise InputRefused(
        (
            Problem(
                "no-such-study",
                "more than one study begins so" if found else "no study here is called so",
                "store",
                read=words,
                allowed="; ".join(f"{line.handle} ({line.title})" for line in lines[:20])
                or "there is no study in this store yet",
                do="Give the short name of one of these."
                if lines
                else "Import one, or make one on the pages of 'breakwright serve'.",
            ),
        )
    )
