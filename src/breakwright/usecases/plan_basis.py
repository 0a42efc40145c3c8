"""What a plan rests on: scatter, load, breaks of the wrong kind, and who said so."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from breakwright.model.gauge import Gauge
from breakwright.model.notice import Notice, Weight
from breakwright.model.study import Study
from breakwright.plan.scatter import (
    ASSUMED_CV,
    cv_of,
    pilot_factors,
    pilot_scatter,
    sigma_of,
)
from breakwright.rig.findings import PieceStrength
from breakwright.strength.trust import Trust
from breakwright.usecases.plan_result import Basis, PilotAdvice, PilotGain, ScatterOrigin
from breakwright.usecases.rig_result import RigResult
from breakwright.usecases.scales_result import ScalesResult

__all__ = ["basis_of", "capacity_of", "pilot_advice", "pilots_of", "wrong_ways"]

# Wood joints scatter more than this: a prediction that says less knows only part of the scatter.
_LEAST_CV = 0.05
_FEW = (3, 4, 5)
# A chance below this that the rig or another way goes first changes no number of pieces.
_RARE = 0.01
_MOST_WRONG = 0.9


@dataclass(frozen=True, slots=True)
class _Scatter:
    origin: ScatterOrigin
    sigma: float
    upper: float | None
    mechanism: str | None


def pilots_of(study: Study) -> tuple[float, ...]:
    """Loads (N) of pieces like the reference's that were broken beforehand.

    Those stated under what is expected; else the own tests of the part under test.
    """
    if study.expected.pilots:
        return study.expected.pilots
    tested = [part for part in study.parts if part.tested]
    return tested[0].own_tests if len(tested) == 1 else ()


def basis_of(
    study: Study, *, rig: RigResult | None, level: float
) -> tuple[Basis, tuple[Notice, ...]]:
    """What the plan supposes, and what must be said of it."""
    notices: list[Notice] = []
    reference = _reference(rig)
    pilots = pilots_of(study)
    scatter = _scatter(study, pilots, rig=rig, notices=notices)
    median, median_from = _median(study, pilots, reference)
    shares, wrong_from = wrong_ways(study, rig)
    worst = max(shares, key=lambda group: shares[group])
    if wrong_from == "rig" and shares[worst] > 0.0:
        facts = {"share": shares[worst]}
        notices.append(
            Notice("plan-wrong-way-from-rig", Weight.REMARK, groups=(worst,), facts=facts)
        )
    others = max(1, len(study.groups) - 1)
    basis = Basis(
        origin=scatter.origin,
        cv=cv_of(scatter.sigma),
        sigma=scatter.sigma,
        pilots=len(pilots),
        cv_upper=None if scatter.upper is None else cv_of(scatter.upper),
        mechanism=scatter.mechanism,
        median=median,
        median_from=median_from,
        wrong_way=shares[worst],
        wrong_way_from=wrong_from,
        level=level,
        error=(1.0 - level) / others,
        family="lognormal",
    )
    return basis, tuple(notices)


def _reference(rig: RigResult | None) -> PieceStrength | None:
    pieces = () if rig is None else rig.pieces
    return next((piece for piece in pieces if piece.is_reference), None)


def _scatter(
    study: Study, pilots: tuple[float, ...], *, rig: RigResult | None, notices: list[Notice]
) -> _Scatter:
    """The person's own number, else the pilots', else the prediction's, else a usual one."""
    reference = _reference(rig)
    found = pilot_scatter(pilots)
    if len(pilots) >= 2 and found is None:
        notices.append(Notice("plan-pilots-alike", Weight.WARNING, facts={"pilots": len(pilots)}))
    given = study.expected.cv
    if given is not None:
        sigma = sigma_of(given)
        if found is not None:
            low, high = pilot_factors(found.pilots)
            if not low * found.sigma <= sigma <= high * found.sigma:
                facts = {"given": given, "found": cv_of(found.sigma), "pilots": found.pilots}
                notices.append(Notice("plan-scatter-disagrees", Weight.WARNING, facts=facts))
        return _Scatter(ScatterOrigin.GIVEN, sigma, None, None)
    if found is not None:
        return _Scatter(ScatterOrigin.PILOTS, found.sigma, found.sigma_upper, None)
    if rig is not None and reference is not None and not reference.scatter_assumed:
        if reference.cv >= _LEAST_CV:
            way = rig.intended or rig.taken
            return _Scatter(ScatterOrigin.PREDICTED, reference.scatter, None, way)
        facts = {"predicted": reference.cv, "used": ASSUMED_CV}
        notices.append(Notice("plan-scatter-too-small", Weight.WARNING, facts=facts))
    notices.append(Notice("plan-scatter-assumed", Weight.WARNING, facts={"used": ASSUMED_CV}))
    return _Scatter(ScatterOrigin.ASSUMED, sigma_of(ASSUMED_CV), None, None)


def _median(
    study: Study, pilots: tuple[float, ...], reference: PieceStrength | None
) -> tuple[float | None, str | None]:
    if study.expected.median is not None:
        return study.expected.median, "given"
    if reference is not None:
        return reference.median, reference.origin.value
    if pilots:
        return math.exp(math.fsum(math.log(x) for x in pilots) / len(pilots)), "pilots"
    return None, None


def wrong_ways(study: Study, rig: RigResult | None) -> tuple[Mapping[str, float], str]:
    """The share of each group's pieces that breaks another way, and who said so.

    The share stated for all, 'given'; else one minus the chance, by the check of the rig, that
    the intended way comes first, 'rig'.
    """
    stated = study.expected.wrong_way
    if stated > 0.0 or rig is None:
        return dict.fromkeys(study.groups, stated), "given"
    shares = dict.fromkeys(study.groups, 0.0)
    for race in rig.races:
        share = 0.0 if race.intended_chance is None else 1.0 - race.intended_chance
        shares[race.group] = 0.0 if share < _RARE else min(share, _MOST_WRONG)
    return shares, "rig"


def capacity_of(
    study: Study, scales: ScalesResult | None
) -> tuple[float | None, tuple[Notice, ...]]:
    """The largest load (N) that can be read on a piece for certain, None: no limit known."""
    if scales is not None:
        if scales.limit is None and scales.sets and scales.main is None:
            return None, (Notice("plan-scales-unclear", Weight.WARNING),)
        return scales.limit, ()
    if len(study.instruments) == 1:
        limit = Gauge.of(study.instruments[0]).limit
        return (limit if math.isfinite(limit) else None), ()
    if study.instruments:
        return None, (Notice("plan-scales-unclear", Weight.WARNING),)
    return None, ()


def pilot_advice(basis: Basis, *, rig: RigResult | None, limited: bool) -> PilotAdvice:
    """Should a few pieces be broken first?

    Five where the scatter hangs on them alone; three where tables gave it, for they know nothing
    of the maker's hand, or where the load is known to an order of magnitude only.
    """
    have = basis.pilots
    reference = _reference(rig)
    uncertain = (
        reference is not None
        and reference.trust is Trust.ORDER
        and reference.calibrated_on == 0
        and limited
    )
    advised, because = None, None
    if basis.origin is ScatterOrigin.ASSUMED:
        advised, because = _FEW[-1], "scatter-assumed"
    elif basis.origin is ScatterOrigin.PILOTS and have < _FEW[-1]:
        advised, because = _FEW[-1], "few-pilots"
    elif uncertain:
        advised, because = _FEW[0], "load-uncertain"
    elif basis.origin is ScatterOrigin.PREDICTED:
        advised, because = _FEW[0], "scatter-predicted"
    more = 0 if advised is None else max(0, advised - have)
    return PilotAdvice(
        have=have,
        advised=advised if more else None,
        more=more,
        because=because if more else None,
        now=_gain(have) if have >= 2 else None,
        gains=tuple(_gain(n) for n in _FEW if n > have),
    )


def _gain(pilots: int) -> PilotGain:
    low, high = pilot_factors(pilots)
    return PilotGain(pilots, low, high)
