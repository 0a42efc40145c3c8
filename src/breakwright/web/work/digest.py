"""A short name for all that an answer depends on: the same readings, the same name."""

import hashlib
import json

from breakwright.usecases.bench.state import StudyState
from breakwright.version import VERSION

__all__ = ["readings_digest"]


def readings_digest(state: StudyState) -> str:
    """Return a hash of the study's definition and of every piece as it stands.

    Photos, notes of preparation and who typed what change no answer, and so not the digest.
    """
    pieces = [
        [
            piece.label,
            piece.group,
            piece.block,
            piece.order,
            piece.day,
            piece.operator,
            piece.pair,
            sorted(piece.measured.items()),
            None if piece.reading is None else repr(piece.reading.entry),
            piece.void,
        ]
        for piece in state.pieces
    ]
    text = json.dumps([VERSION, state.toml, pieces])
    return hashlib.sha256(text.encode()).hexdigest()[:32]
