"""What a kind of work is: in which lane it runs, and which function does it."""

from dataclasses import dataclass

__all__ = ["LANES", "LONG", "QUICK", "Kind"]

# Work that a person waits for must not queue behind work that takes half a minute.
QUICK, LONG = "quick", "long"
LANES = (QUICK, LONG)


@dataclass(frozen=True, slots=True)
class Kind:
    """``lane`` is quick or long; ``function`` of ``module`` does the work, and is imported by the
    worker only."""

    lane: str
    module: str
    function: str
