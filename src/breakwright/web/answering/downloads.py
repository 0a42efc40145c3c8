"""Files that a job makes for taking home: asked for, watched, fetched."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from breakwright.usecases.bench.ports import Job, JobState
from breakwright.usecases.bench.state import StudyState
from breakwright.web.answering.progress import Progress
from breakwright.web.services import Services
from breakwright.web.work.answers import result_of
from breakwright.web.work.asking import ALIVE, ask, standing
from breakwright.web.work.tools import MADE

__all__ = ["OFFERS", "Download", "Offer", "ask_for", "downloads_of", "file_of"]


@dataclass(frozen=True, slots=True)
class Offer:
    """``kind`` of job; ``needs_answer``: only from a calibrated answer."""

    kind: str
    name: str
    what: str
    needs_answer: bool


OFFERS = (
    Offer("report", "Report", "one HTML page with everything, to read, print or send", True),
    Offer("pictures", "Pictures", "every chart as SVG and PNG, on light and dark ground", True),
    Offer(
        "package",
        "Data package",
        "the whole study as a folder: readings, corrections, photos; any tool opens it",
        False,
    ),
)


@dataclass(frozen=True, slots=True)
class Download:
    """An offer as it stands for the present readings: its job, None where nobody asked for it."""

    offer: Offer
    job: Job | None
    possible: bool

    @property
    def running(self) -> bool:
        return self.job is not None and self.job.state in ALIVE

    @property
    def ready(self) -> bool:
        return self.job is not None and self.job.state is JobState.DONE

    @property
    def size(self) -> str:
        """How large the file is, in words."""
        size = float(result_of(self.job)["size"])
        return f"{size / 1e6:.1f} MB" if size >= 1e6 else f"{max(1.0, size / 1e3):.0f} kB"


def downloads_of(
    services: Services, state: StudyState, progress: Progress, *, unit: str
) -> tuple[Download, ...]:
    """Return every offer as it stands."""
    return tuple(_download(services, state, progress, offer, unit) for offer in OFFERS)


def ask_for(
    services: Services, state: StudyState, progress: Progress, *, kind: str, unit: str
) -> Job | None:
    """Have the file made; None where there is no such offer or no answer to make it from."""
    offer = next((o for o in OFFERS if o.kind == kind), None)
    given = None if offer is None else _given(state, progress, offer, unit)
    return None if given is None else ask(services, state.id, kind, given=given)


def file_of(services: Services, job: Job) -> tuple[Path, dict[str, Any]]:
    """Return where the file of ``job`` lies and what its result says of it.

    Raises ImpossibleValue where the job made no file.
    """
    made = result_of(job)
    # The name comes from our own worker; only its last part is ever used.
    return services.folder / MADE / Path(made["file"]).name, made


def _download(
    services: Services, state: StudyState, progress: Progress, offer: Offer, unit: str
) -> Download:
    given = _given(state, progress, offer, unit)
    if given is None:
        return Download(offer, None, possible=False)
    job = standing(services, state.id, offer.kind, given=given)
    if job is not None and job.state is JobState.DONE and not file_of(services, job)[0].exists():
        job = None  # made on another machine, or swept away: it can be made again
    return Download(offer, job, possible=True)


def _given(state: StudyState, progress: Progress, offer: Offer, unit: str) -> dict[str, Any] | None:
    if not offer.needs_answer:
        return {"readings": progress.digest, "last": state.last, "handle": state.handle}
    whole = progress.whole
    if whole is None or not progress.calibrated or result_of(whole)["answer"] is None:
        return None
    return {"job": whole.id, "unit": unit, "handle": state.handle}
