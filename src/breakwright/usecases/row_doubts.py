"""What a person should know about how the rows of a sheet were understood. Loads in N."""

from collections import Counter
from collections.abc import Iterator, Sequence

from breakwright.model.gauge import Bench, same_word
from breakwright.model.notice import Notice, Weight
from breakwright.model.study import Study
from breakwright.model.trial import Ending, Trial
from breakwright.usecases.result import PieceResult
from breakwright.usecases.scale_doubts import notice_of

__all__ = ["row_notices"]

_Used = Sequence[tuple[Trial, PieceResult]]


def row_notices(study: Study, pieces: Sequence[PieceResult]) -> tuple[Notice, ...]:
    """Notices about failures and sums; ``pieces`` as ``pieces_of(study)`` gives them."""
    used = [
        (trial, piece)
        for trial, piece in zip(study.trials, pieces, strict=True)
        if trial.void is None and trial.readings
    ]
    return (*_failures(study, used), *_sums(study, used), *_nothing_learned(study, used))


def _failures(study: Study, used: _Used) -> Iterator[Notice]:
    words = [same_word(trial.failure) for trial, _ in used]
    seen = Counter(word for word in words if word is not None)
    spelling: dict[str, str] = {}
    for (trial, _), word in zip(used, words, strict=True):
        if word is not None:
            spelling.setdefault(word, (trial.failure or "").strip())
    modes = ", ".join(f"{spelling[word]} {count}" for word, count in seen.most_common())
    counts = same_word(study.counts)
    if counts is None:
        if len(seen) > 1:
            yield notice_of(
                "failure-modes-mixed",
                Weight.WARNING,
                study=study,
                pieces=[piece for (_, piece), w in zip(used, words, strict=True) if w is not None],
                facts={"modes": modes, "kinds": len(seen)},
            )
        return
    if seen and counts not in seen:
        yield notice_of(
            "counted-mode-never-seen",
            Weight.WARNING,
            study=study,
            facts={"counts": study.counts, "modes": modes},
        )
    silent = [
        piece
        for (_, piece), word in zip(used, words, strict=True)
        if word is None and piece.upper is not None
    ]
    if silent:
        yield notice_of(
            "failure-not-stated",
            Weight.WARNING,
            study=study,
            pieces=silent,
            facts={"counts": study.counts},
        )


def _sums(study: Study, used: _Used) -> Iterator[Notice]:
    bench = Bench.of(study)
    if bench.displays < 2:
        return
    shared = [piece for trial, piece in used if len(trial.readings) > 1]
    if study.sharing is None and shared:
        yield notice_of("sharing-not-stated", Weight.WARNING, study=study, pieces=shared, facts={})
    short = [
        piece
        for trial, piece in used
        if len(trial.readings) < bench.displays and trial.ending is Ending.BROKE
    ]
    if short:
        yield notice_of(
            "display-missing",
            Weight.WARNING,
            study=study,
            pieces=short,
            facts={"displays": bench.displays},
        )
    above = [piece for trial, piece in used if _sum_too_large(trial, bench)]
    if above:
        yield notice_of("together-above-peaks", Weight.WARNING, study=study, pieces=above, facts={})


def _sum_too_large(trial: Trial, bench: Bench) -> bool:
    """Whether the sum noted for one moment is more than all the peaks put together."""
    if trial.together is None or len(trial.readings) < bench.displays:
        return False
    peaks = sum(reading.shown.upper for reading in trial.readings)
    steps = sum(bench.gauge(reading).resolution for reading in trial.readings)
    return trial.together > (peaks + steps) * (1.0 + 1e-9)


def _nothing_learned(study: Study, used: _Used) -> Iterator[Notice]:
    empty = [piece for _, piece in used if piece.lower == 0.0 and piece.upper is None]
    if empty:
        yield notice_of("nothing-learned", Weight.WARNING, study=study, pieces=empty, facts={})
