"""The films of a study that were read, with the corrections and acceptances that still stand."""

from collections.abc import Sequence

from breakwright.model.event import (
    FilmAccepted,
    FilmRead,
    ReadingAmended,
    ReadingEntered,
    Recorded,
    SpanCorrected,
)
from breakwright.usecases.bench.state import FilmState

__all__ = ["films_of"]


def films_of(live: Sequence[Recorded]) -> tuple[FilmState, ...]:
    """Return the films that the events ``live`` (none of them taken back) tell of.

    A correction may have overtaken the reading that it is of; one whose film is not there has no
    effect.
    """
    bodies = [(r.event.id, r.event.body) for r in live]
    readings = {i for i, body in bodies if isinstance(body, ReadingEntered | ReadingAmended)}
    return tuple(
        FilmState(
            event=recorded.event.id,
            read=recorded.event.body,
            made=recorded.event.made,
            corrections={
                i: body
                for i, body in bodies
                if isinstance(body, SpanCorrected) and body.film == recorded.event.id
            },
            accepted={
                i: body
                for i, body in bodies
                if isinstance(body, FilmAccepted)
                and body.film == recorded.event.id
                and body.reading in readings
            },
        )
        for recorded in live
        if isinstance(recorded.event.body, FilmRead)
    )
