"""Where the answer to a study's present readings stands: which jobs run, which are done."""

from dataclasses import dataclass

from breakwright.usecases.bench.ports import Job, JobState
from breakwright.usecases.bench.state import Standing, StudyState
from breakwright.web.services import Services
from breakwright.web.work.asking import ALIVE, ask, ask_and_wait, ask_instead, standing
from breakwright.web.work.digest import readings_digest

__all__ = ["ANSWER", "Counts", "Progress", "again", "counts_of", "progress_of"]

ANSWER, QUICK = "answer", "quick-answer"
_ENDED = (JobState.CANCELLED, JobState.FAILED)


@dataclass(frozen=True, slots=True)
class Counts:
    """Pieces of a study: all of them, those read, left out, and in clash."""

    planned: int
    read: int
    void: int
    clashes: int

    @property
    def waiting(self) -> int:
        return self.planned - self.read - self.void


@dataclass(frozen=True, slots=True)
class Progress:
    """``shown`` is the job whose result the page shows: ``whole`` where it is done, else the
    ``quick`` one; None where neither is."""

    digest: str
    counts: Counts
    whole: Job | None
    quick: Job | None

    @property
    def shown(self) -> Job | None:
        for job in (self.whole, self.quick):
            if job is not None and job.state is JobState.DONE:
                return job
        return None

    @property
    def calibrated(self) -> bool:
        return self.whole is not None and self.whole.state is JobState.DONE

    @property
    def busy(self) -> bool:
        """Is anything on its way?"""
        return any(job is not None and job.state in ALIVE for job in (self.whole, self.quick))


def counts_of(state: StudyState) -> Counts:
    """Count the pieces of ``state``; a piece in clash has been read."""
    standings = [piece.standing for piece in state.pieces]
    clashes = standings.count(Standing.CLASH)
    return Counts(
        planned=len(standings),
        read=standings.count(Standing.READ) + clashes,
        void=standings.count(Standing.VOID),
        clashes=clashes,
    )


def progress_of(services: Services, state: StudyState, *, wait_s: float) -> Progress:
    """Return where the answer stands, having asked for what is missing.

    Waits up to ``wait_s`` for the quick answer. A computation that a person stopped, or that
    failed, is not begun again by itself (``again`` does that).
    """
    counts, digest = counts_of(state), readings_digest(state)
    if counts.read == 0:
        return Progress(digest, counts, None, None)
    given = {"readings": digest}
    whole = standing(services, state.id, ANSWER, given=given)
    if whole is None or whole.state not in _ENDED:
        whole = ask_instead(services, state.id, ANSWER, given=given)
    quick = None
    if whole.state is not JobState.DONE:
        quick = standing(services, state.id, QUICK, given=given)
        if quick is None or quick.state not in _ENDED:
            quick = ask_and_wait(services, state.id, QUICK, given=given, timeout_s=wait_s)
    return Progress(digest, counts, whole, quick)


def again(services: Services, state: StudyState) -> None:
    """Begin anew what was stopped or failed."""
    given = {"readings": readings_digest(state)}
    for kind in (QUICK, ANSWER):
        ask(services, state.id, kind, given=given)
