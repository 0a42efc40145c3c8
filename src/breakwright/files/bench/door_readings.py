"""What speaks against a reading: the strict reader's own problems, and a failure's spelling."""

from breakwright.files.bench.defined import Defined, defined
from breakwright.files.bench.entry_row import READING, read_entry
from breakwright.files.bench.known import Known
from breakwright.files.nearest import look_alike_key
from breakwright.model.errors import InputRefused, Problem
from breakwright.model.event import Entry

__all__ = ["reading_problems"]


def reading_problems(
    known: Known, piece: str, entry: Entry, *, study: Defined | None = None
) -> list[Problem]:
    """Return what speaks against ``entry`` of ``piece`` (its id) in the study as it is known, or
    in ``study``."""
    there = known.piece(piece)
    assert there is not None
    problems: list[Problem] = []
    try:
        if study is None:
            assert known.toml is not None
            study = defined(known.toml)
        read_entry(study, entry, piece=there.label, group=there.group)
    except InputRefused as refused:
        problems += refused.problems
    return [*problems, *_spelling(known, there.id, entry)]


def _spelling(known: Known, piece: str, entry: Entry) -> list[Problem]:
    """The same failure spelled two ways would be two failures in the answer."""
    if entry.failure is None:
        return []
    key = look_alike_key(entry.failure)
    written = known.failures(besides=piece)
    other = next((w for w in sorted(written) if look_alike_key(w) == key), None)
    if other is None or other == entry.failure.strip():
        return []
    return [
        Problem(
            "failure-spelling",
            f"'{entry.failure}' and '{other}' look alike: are they one failure?",
            READING,
            column_name="failure",
            read=entry.failure,
            allowed="one way of writing each failure",
            do=f"Write '{other}' if it is the same; if not, use another word.",
        )
    ]
