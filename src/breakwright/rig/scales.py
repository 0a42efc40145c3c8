"""One scale, or several under one load: when the set runs out, and how well it tells."""

import math
from collections.abc import Mapping, Sequence

from breakwright.model.instrument import Instrument
from breakwright.model.study import Study
from breakwright.rig.buying import buy_for
from breakwright.rig.findings import PieceStrength
from breakwright.rig.lognormal import share_above
from breakwright.rig.placing import aim_of, best_of, shares_at
from breakwright.rig.scale_findings import GroupRange, How, ScaleSet, ScaleView, ShareOrigin
from breakwright.rig.scale_views import Share, bears, view_of
from breakwright.rig.statics import doubled_error

__all__ = ["LARGER_SHARE", "sets_of"]

# Two scales under one load seldom share it evenly: 54 % on one of them is a load that lies off
# the middle by 4 % of the distance between them (common practice, no source).
LARGER_SHARE = 0.54
_WHOLE = Share(1.0, 1.0, 1.0)

Pieces = Mapping[str, PieceStrength]


def sets_of(study: Study, pieces: Pieces, *, offers: tuple[float, ...]) -> tuple[ScaleSet, ...]:
    """The set that shares the load, where the study says so; else each scale by itself.

    Scales share where the study states a sharing or gives positions for two or more of them.
    """
    instruments = study.instruments
    placed = [i for i in instruments if i.name in study.layout.scale_at]
    if len(instruments) >= 2 and (study.sharing is not None or len(placed) >= 2):
        return (_shared(study, pieces, offers=offers),)
    found = []
    for one in instruments:
        view = view_of(one, _WHOLE, at=None, rate=study.layout.rate)
        found.append(
            _set_of(study, [view], pieces, how=How.ALONE, origin=ShareOrigin.WHOLE, offers=offers)
        )
    return tuple(found)


def _shared(study: Study, pieces: Pieces, *, offers: tuple[float, ...]) -> ScaleSet:
    layout, instruments = study.layout, study.instruments
    places = _places(study)
    if places is None:
        equal = 1.0 / len(instruments)
        shares: Sequence[Share] = [Share(equal, equal, equal)] * len(instruments)
        origin = ShareOrigin.EQUAL
    else:
        shares, origin = shares_at(aim_of(layout, places), layout.wander, places)
    views = [
        view_of(one, share, at=layout.scale_at.get(one.name), rate=layout.rate)
        for one, share in zip(instruments, shares, strict=True)
    ]
    return _set_of(study, views, pieces, how=How.SHARED, origin=origin, offers=offers)


def _places(study: Study) -> list[float] | None:
    """Positions of all scales along the beam; None where one is missing or all are one."""
    at = study.layout.scale_at
    if any(i.name not in at for i in study.instruments):
        return None
    places = [at[i.name] for i in study.instruments]
    return places if max(places) > min(places) else None


def _set_of(
    study: Study,
    views: Sequence[ScaleView],
    pieces: Pieces,
    *,
    how: How,
    origin: ShareOrigin,
    offers: tuple[float, ...],
) -> ScaleSet:
    layout = study.layout
    loads = [b for b in map(bears, _instruments(study, views)) if b is not None]
    known = len(loads) == len(views)
    # A scale that bears nothing has no limit and never runs out.
    limits = {v.name: v.limit for v in views if v.limit is not None}
    limit = min(limits.values()) if known else None
    bests = [v.limit_high for v in views if v.limit_high is not None]
    places = _places(study) if how is How.SHARED else None
    aim = None if places is None else aim_of(layout, places)
    best = best_of(places, loads, wander=layout.wander) if places and known else None
    off = error = None
    if places is not None and aim is not None and len(places) == 2:
        off = abs(aim - 0.5 * sum(places)) + layout.wander
        error = float(doubled_error(off, abs(places[1] - places[0])))
    missed = [v.missed for v in views]
    alone = how is How.ALONE
    return ScaleSet(
        how=how,
        origin=origin,
        scales=tuple(views),
        limit=limit,
        limit_high=min(bests) if known and bests else None,
        first_out=min(limits, key=lambda n: limits[n]) if known else None,
        sum_capacity=sum(loads) if known else None,
        load_at=aim,
        wander=layout.wander,
        best_at=None if best is None else best.at,
        best_limit=None if best is None else best.limit,
        off_centre=off,
        doubled_error=error,
        relative_width=_relative_width(views),
        resolution_error=math.sqrt(sum(2.0 * v.step**2 / 12.0 for v in views)),
        missed=max(m for m in missed if m is not None) if None not in missed else None,
        groups=tuple(_range(study, p, views, limit=limit) for p in pieces.values()),
        buy=buy_for(views, pieces.values(), offers=offers),
        limit_if_two=limit / LARGER_SHARE if alone and limit is not None else None,
        larger_share=LARGER_SHARE if alone else None,
    )


def _instruments(study: Study, views: Sequence[ScaleView]) -> list[Instrument]:
    by_name = {i.name: i for i in study.instruments}
    return [by_name[v.name] for v in views]


def _relative_width(views: Sequence[ScaleView]) -> float:
    """Half the range of the sum's factor over its middle, at the scales' middle shares.

    The shares are of the load on the piece, so the display shows share/factor: a factor that
    may be from k to K makes that part of the sum uncertain by (K - k)/(K + k).
    """
    total = 0.0
    for view in views:
        low = view.factor[0] * view.correction[0]
        high = view.factor[1] * view.correction[1]
        total += view.share[1] * (high - low) / (high + low)
    return total


def _range(
    study: Study, piece: PieceStrength, views: Sequence[ScaleView], *, limit: float | None
) -> GroupRange:
    chance = chance_low = None
    if limit is not None:
        chance = share_above(limit, piece.median, piece.sigma)
        bests = [v.limit_high for v in views if v.limit_high is not None]
        # A scale that may bear nothing never runs out at best.
        chance_low = share_above(min(bests), piece.median, piece.sigma) if bests else 0.0
    checked = [
        v.verified * v.factor[0] / v.share[2]
        for v in views
        if v.verified is not None and v.share[2] > 0.0
    ]
    n = study.wish.pieces
    return GroupRange(
        group=piece.group,
        chance=chance,
        chance_low=chance_low,
        pieces=n,
        expected=None if n is None or chance is None else n * chance,
        chance_unverified=share_above(min(checked), piece.median, piece.sigma) if checked else None,
    )
