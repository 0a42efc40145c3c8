"""What a person should know of a reading that is taken as it is."""

from breakwright.files.bench.defined import Defined
from breakwright.files.bench.entry_row import ran_out
from breakwright.model.event import Entry
from breakwright.model.loadtext import number_text
from breakwright.usecases.bench.state import PieceState

__all__ = ["entry_remarks"]


def entry_remarks(study: Defined, piece: PieceState, entry: Entry) -> tuple[str, ...]:
    """Return a sentence for each."""
    remarks = [
        f"{_display(study, entry, place)} was left empty: taken as at least {number_text(load)} "
        f"{entry.unit}, the last load that it can show."
        for place, load in ran_out(study, entry).items()
    ]
    if piece.void is not None:
        remarks.append(
            f"Piece {piece.label} is left out ({piece.void}); the reading is kept, and does not "
            "count."
        )
    return tuple(remarks)


def _display(study: Defined, entry: Entry, place: int) -> str:
    if study.by_scale:
        return f"«{entry.scale}»"
    if place < len(study.instruments):
        return f"«{study.instruments[place].name}»"
    return "The display"
