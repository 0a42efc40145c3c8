"""What a kind of work is: in which lane it runs, and which function does it."""

from dataclasses import dataclass

__all__ = ["FILM", "LANES", "LONG", "QUICK", "Kind"]

# Work that a person waits for must not queue behind work that takes half a minute, nor an answer
# behind a film, which takes as long as it runs.
QUICK, LONG, FILM = "quick", "long", "film"
LANES = (QUICK, LONG, FILM)


@dataclass(frozen=True, slots=True)
class Kind:
    """``lane`` is one of ``LANES``; ``function`` of ``module`` does the work, and is imported by
    the worker only."""

    lane: str
    module: str
    function: str
