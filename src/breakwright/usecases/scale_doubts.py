"""What a person should know about the scales of a study: limits, checks, refresh. Loads in N."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from breakwright.model.calibration import coarsest_check
from breakwright.model.gauge import Bench, Gauge
from breakwright.model.notice import Notice, Weight
from breakwright.model.outcome import Cause
from breakwright.model.steps import range_ran_out
from breakwright.model.study import Study
from breakwright.model.trial import Ending, Reading, Trial
from breakwright.usecases.result import PieceResult

__all__ = ["notice_of", "scale_notices"]

# A choice of ours, no source: a range of factors wider than this moves a reading by more than
# the steps of any ordinary display do.
_WIDE = 1.05
_BEYOND = 1.0 + 1e-9


@dataclass(frozen=True, slots=True)
class _Row:
    trial: Trial
    piece: PieceResult
    reading: Reading
    gauge: Gauge


def scale_notices(study: Study, pieces: Sequence[PieceResult]) -> tuple[Notice, ...]:
    """Notices about the instruments; ``pieces`` as ``pieces_of(study)`` gives them."""
    bench = Bench.of(study)
    used = [
        (trial, piece)
        for trial, piece in zip(study.trials, pieces, strict=True)
        if trial.void is None and trial.readings
    ]
    rows: dict[str | None, list[_Row]] = {}
    for trial, piece in used:
        for reading in trial.readings:
            gauge = bench.gauge(reading)
            rows.setdefault(gauge.name, []).append(_Row(trial, piece, reading, gauge))
    return (
        *_unclear(study, rows),
        *_limits(study, rows),
        *_checks(study, rows),
        *_refreshes(study, used, bench),
    )


def notice_of(
    code: str,
    weight: Weight,
    *,
    study: Study,
    pieces: Sequence[PieceResult] = (),
    facts: Mapping[str, str | float | int | None],
) -> Notice:
    """A notice about ``pieces``, their groups in the order of the study, and how many they are."""
    names = {piece.group for piece in pieces}
    return Notice(
        code=code,
        weight=weight,
        groups=tuple(group for group in study.groups if group in names),
        pieces=tuple(dict.fromkeys(piece.specimen for piece in pieces)),
        facts={**facts, "count": len(pieces)},
    )


def _unclear(study: Study, rows: Mapping[str | None, Sequence[_Row]]) -> Iterator[Notice]:
    stray = rows.get(None, ())
    if study.instruments and stray:
        named = sorted({row.reading.instrument for row in stray if row.reading.instrument})
        yield notice_of(
            "instrument-unclear",
            Weight.WARNING,
            study=study,
            pieces=_pieces(stray),
            facts={
                "named": ", ".join(named) or None,
                "known": ", ".join(i.name for i in study.instruments),
            },
        )


def _limits(study: Study, rows: Mapping[str | None, Sequence[_Row]]) -> Iterator[Notice]:
    endless = [name for name, found in rows.items() if math.isinf(found[0].gauge.usable)]
    if endless:
        # Without a limit, how often other pieces would have been cut short is anyone's guess.
        cut = [
            row.piece
            for name in endless
            for row in rows[name]
            if row.piece.cause in (Cause.OVER_RANGE, Cause.AT_LEAST)
        ]
        yield notice_of(
            "no-limit-stated",
            Weight.WARNING if cut else Weight.REMARK,
            study=study,
            pieces=_once(cut),
            facts={"instruments": _names(endless)},
        )
    for name, found in rows.items():
        gauge = found[0].gauge
        half = gauge.resolution / 2.0
        beyond = [r for r in found if r.reading.shown.lower - half > gauge.usable * _BEYOND]
        at_end = [
            row
            for row in found
            if row.trial.ending is Ending.BROKE
            and not math.isinf(row.reading.shown.upper)
            and row.reading.shown.lower - half <= gauge.usable * _BEYOND
            and range_ran_out(row.reading.shown, resolution=gauge.resolution, usable=gauge.usable)
        ]
        for code, weight, which in (
            ("reading-above-capacity", Weight.WARNING, beyond),
            ("reading-at-capacity", Weight.REMARK, at_end),
        ):
            if which:
                yield notice_of(
                    code,
                    weight,
                    study=study,
                    pieces=_pieces(which),
                    facts={
                        "instrument": name,
                        "usable": gauge.usable,
                        "largest": max(row.reading.shown.lower for row in which),
                    },
                )


def _checks(study: Study, rows: Mapping[str | None, Sequence[_Row]]) -> Iterator[Notice]:
    unchecked = [name for name, found in rows.items() if not found[0].gauge.calibration.checked]
    if unchecked:
        yield notice_of(
            "never-checked",
            Weight.REMARK,
            study=study,
            facts={"instruments": _names(unchecked)},
        )
    for name, found in rows.items():
        gauge = found[0].gauge
        checked = gauge.calibration
        if gauge.instrument is None or not checked.checked:
            continue
        beyond = [row for row in found if gauge.beyond_checked(row.reading.shown)]
        if beyond:
            yield notice_of(
                "unverified-above",
                Weight.WARNING,
                study=study,
                pieces=_pieces(beyond),
                facts={
                    "instrument": name,
                    "verified_up_to": checked.verified_up_to,
                    "largest": max(r.reading.shown.lower for r in beyond) * checked.smallest,
                },
            )
        if checked.largest > checked.smallest * _WIDE:
            coarse = coarsest_check(gauge.instrument)
            yield notice_of(
                "calibration-wide",
                Weight.WARNING,
                study=study,
                pieces=_pieces(found),
                facts={
                    "instrument": name,
                    "smallest": checked.smallest,
                    "largest": checked.largest,
                    "coarsest_weight": None if coarse is None else coarse.weight.true,
                    "smallest_without": None if coarse is None else coarse.without_it.smallest,
                    "largest_without": None if coarse is None else coarse.without_it.largest,
                },
            )


def _refreshes(
    study: Study, used: Sequence[tuple[Trial, PieceResult]], bench: Bench
) -> Iterator[Notice]:
    if all(instrument.refresh is None for instrument in study.instruments):
        return
    unbounded: list[PieceResult] = []
    missed: list[PieceResult] = []
    most, share, step, slowest = 0.0, 0.0, 0.0, 0.0
    for trial, piece in used:
        if piece.upper is None:
            continue  # nothing above is known anyway
        gauges = [bench.gauge(reading) for reading in trial.readings]
        refresh = max((gauge.refresh or 0.0 for gauge in gauges), default=0.0)
        if refresh == 0.0:
            continue
        if trial.rate is None:
            unbounded.append(piece)
            slowest = max(slowest, refresh)
            continue
        unseen = trial.rate * refresh
        finest = max(gauge.resolution for gauge in gauges)
        if unseen > finest:
            missed.append(piece)
            if unseen > most:
                most, step = unseen, finest
            if piece.lower:
                share = max(share, unseen / piece.lower)
    if missed:
        yield notice_of(
            "missed-between-refreshes",
            Weight.WARNING,
            study=study,
            pieces=missed,
            facts={"most": most, "resolution": step, "largest_share": share},
        )
    if unbounded:
        yield notice_of(
            "refresh-without-rate",
            Weight.WARNING,
            study=study,
            pieces=unbounded,
            facts={"refresh_s": slowest},
        )


def _pieces(rows: Sequence[_Row]) -> list[PieceResult]:
    return _once([row.piece for row in rows])


def _once(pieces: Sequence[PieceResult]) -> list[PieceResult]:
    """Each piece once, though two of its readings may have been meant."""
    return list({id(piece): piece for piece in pieces}.values())


def _names(names: Sequence[str | None]) -> str | None:
    """The instruments' names; None where the study names none."""
    return ", ".join(name for name in names if name is not None) or None
