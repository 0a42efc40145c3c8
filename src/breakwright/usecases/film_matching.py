"""Which pull in a film, or in a folder of films, is of which piece."""

from collections.abc import Sequence
from dataclasses import dataclass

from breakwright.model.film import Break

__all__ = ["FilmedPull", "Match", "matched"]


@dataclass(frozen=True, slots=True)
class FilmedPull:
    """One pull: its ``film``'s name and what was found there."""

    film: str
    found: Break


@dataclass(frozen=True, slots=True)
class Match:
    """``piece`` is a label; None: there is no piece left for this pull."""

    pull: FilmedPull
    piece: str | None


def matched(
    pulls: Sequence[FilmedPull], waiting: Sequence[str], *, named: Sequence[str] = ()
) -> tuple[Match, ...]:
    """Return each pull with its piece: the ``named`` ones first, in the order in which they were
    named, then those that are ``waiting`` in the planned order.

    It is a proposal for a person to check: a pull that slipped and was taken up again, or a piece
    that was tested without the camera, shifts all that follow. A piece is given once.

    >>> from breakwright.model.trial import Ending
    >>> def pull(n):
    ...     return FilmedPull("a.mp4", Break(n, 0.0, 9.0, (8.0, 8.1), 8.0, 1.0, 2.0, (),
    ...                                      Ending.BROKE, None, ()))
    >>> [m.piece for m in matched([pull(1), pull(2), pull(3)], ["B", "C"], named=["C"])]
    ['C', 'B', None]
    """
    labels = [*named, *(label for label in waiting if label not in named)]
    return tuple(
        Match(pull, labels[place] if place < len(labels) else None)
        for place, pull in enumerate(pulls)
    )
