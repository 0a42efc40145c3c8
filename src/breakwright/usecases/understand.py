"""From a study to its pieces: every row of the sheet as it was understood, left-out ones too.

What a person should know about how the rows were understood is in ``understanding_notices``.
To see the wrong-way breaks taken as strengths, understand the study again with no mode that
counts: ``pieces_of(dataclasses.replace(study, counts=None))``.
"""

import math
from collections.abc import Sequence

from breakwright.model.algebra import outcome_on
from breakwright.model.gauge import Bench
from breakwright.model.notice import Notice
from breakwright.model.study import Study
from breakwright.model.trial import Trial
from breakwright.usecases.result import PieceResult
from breakwright.usecases.row_doubts import row_notices
from breakwright.usecases.scale_doubts import scale_notices

__all__ = ["pieces_of", "understanding_notices"]


def pieces_of(study: Study) -> tuple[PieceResult, ...]:
    """Every trial of ``study`` as a piece, in the order of the sheet. Loads in N.

    A void piece with a reading keeps the outcome that it would have had, with its cause; a void
    piece without one has neither.
    """
    bench = Bench.of(study)
    return tuple(_piece(trial, bench) for trial in study.trials)


def understanding_notices(study: Study, pieces: Sequence[PieceResult]) -> tuple[Notice, ...]:
    """What a person should know about how the rows were understood, left-out pieces apart.

    ``pieces`` are those of ``pieces_of(study)``. Each code has its paragraph in
    ``docs/messages.md``; loads in ``facts`` are in N.
    """
    return (*scale_notices(study, pieces), *row_notices(study, pieces))


def _piece(trial: Trial, bench: Bench) -> PieceResult:
    outcome = outcome_on(trial, bench) if trial.readings else None
    interval = None if outcome is None else outcome.interval
    return PieceResult(
        specimen=trial.specimen,
        group=trial.group,
        written=tuple([reading.text for reading in trial.readings]),
        lower=None if interval is None else interval.lower,
        upper=None if interval is None else _finite(interval.upper),
        kind=None if interval is None else interval.kind,
        cause=None if outcome is None else outcome.cause,
        limit=None if outcome is None else _finite(outcome.limit),
        failure=trial.failure,
        void=trial.void,
        block=trial.block,
        order=trial.order,
        date=trial.date,
        note=trial.note,
        covariates=trial.covariates,
        steps=() if outcome is None else outcome.steps,
        line=trial.line,
    )


def _finite(load: float) -> float | None:
    return None if math.isinf(load) else load
