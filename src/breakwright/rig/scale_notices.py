"""What the check of the scales has to point out, as codes and numbers."""

from collections.abc import Iterable, Mapping, Sequence

from breakwright.model.notice import Notice, Weight
from breakwright.model.study import Study
from breakwright.rig.findings import PieceStrength
from breakwright.rig.placing import overhangs
from breakwright.rig.rig_notices import Facts, noted
from breakwright.rig.scale_findings import FittingPiece, How, ScaleSet, ScaleView, ShareOrigin

__all__ = ["scale_notices"]

# From when on a thing is worth a word (judgement, no source).
_FEW_CAPPED, _MANY_CAPPED = 0.01, 0.10
_UNVERIFIED = 0.05
_BETTER_PLACE = 1.05
_MISSED_A_LITTLE, _MISSED_MUCH = 0.01, 0.05
_COARSE = 0.02
_WIDE = 0.05
_TARE = 0.10


def scale_notices(
    study: Study,
    sets: Sequence[ScaleSet],
    main: int | None,
    *,
    pieces: Mapping[str, PieceStrength],
    fitting: Sequence[FittingPiece],
) -> tuple[Notice, ...]:
    """Everything worth pointing out of the set in use, and of each scale in it."""
    found: list[Notice] = []
    if not study.instruments:
        found.append(noted("no-scale", Weight.WARNING))
    if not pieces:
        found.append(noted("no-strength-known", Weight.WARNING))
    if main is None:
        return tuple(found)
    used = sets[main]
    if len(sets) > 1:
        facts: Facts = {"scale": used.scales[0].name, "count": len(sets)}
        found.append(noted("sharing-not-stated", Weight.WARNING, (), facts))
    found += _too_small(used)
    found += _where(study, used)
    for scale in used.scales:
        found += _of_scale(scale)
    found += _beyond_checks(used)
    weakest = min((p.median for p in pieces.values()), default=None)
    found += _how_well(used, weakest)
    if fitting and all(f.then is None for f in fitting) and used.limit is not None:
        found.append(noted("no-piece-fits", Weight.WARNING, (), {"limit_N": used.limit}))
    return tuple(found)


def _too_small(used: ScaleSet) -> Iterable[Notice]:
    for group in used.groups:
        if group.chance is None or group.chance <= _FEW_CAPPED:
            continue
        buy = used.buy[0] if used.buy else None
        facts: Facts = {
            "limit_N": used.limit,
            "chance": group.chance,
            "pieces": group.pieces,
            "expected": group.expected,
            "first_out": used.first_out,
            "buy_N": max(buy.each) if buy is not None else None,
        }
        weight = Weight.WARNING if group.chance > _MANY_CAPPED else Weight.REMARK
        yield noted("scale-too-small", weight, (group.group,), facts)


def _where(study: Study, used: ScaleSet) -> Iterable[Notice]:
    if used.how is not How.SHARED:
        return
    if used.origin is ShareOrigin.EQUAL:
        yield noted("shares-assumed-equal", Weight.WARNING, (), {"count": len(used.scales)})
        return
    if used.origin is ShareOrigin.RANGE:
        yield noted("shares-not-known", Weight.WARNING, (), {"count": len(used.scales)})
    places = [s.at for s in used.scales if s.at is not None]
    if study.layout.load_at is None:
        yield noted("load-position-assumed", Weight.REMARK, (), {"at_mm": used.load_at})
    if overhangs(study.layout, places):
        facts: Facts = {
            "load_at_mm": used.load_at,
            "wander_mm": used.wander,
            "first_mm": min(places),
            "last_mm": max(places),
        }
        yield noted("load-outside-supports", Weight.WARNING, (), facts)
    if used.limit is None or used.best_limit is None:
        return
    if used.best_limit > _BETTER_PLACE * used.limit and used.origin is ShareOrigin.STATICS:
        facts = {
            "load_at_mm": used.load_at,
            "limit_N": used.limit,
            "best_at_mm": used.best_at,
            "best_limit_N": used.best_limit,
            "first_out": used.first_out,
        }
        yield noted("off-centre", Weight.WARNING, (), facts)
    if used.doubled_error:
        facts = {"error": used.doubled_error, "off_centre_mm": used.off_centre}
        yield noted("one-scale-doubled", Weight.REMARK, (), facts)


def _of_scale(scale: ScaleView) -> Iterable[Notice]:
    named: Facts = {"scale": scale.name}
    if scale.capacity is None:
        yield noted("capacity-not-stated", Weight.WARNING, (), named)
    elif scale.tare > _TARE * scale.capacity:
        facts: Facts = {
            "scale": scale.name,
            "tare_N": scale.tare,
            "capacity_N": scale.capacity,
            "usable_N": scale.usable,
        }
        yield noted("tare-eats-range", Weight.REMARK, (), facts)
    if scale.verified is None:
        yield noted("never-checked", Weight.WARNING, (), named)


def _beyond_checks(used: ScaleSet) -> Iterable[Notice]:
    checked = [s for s in used.scales if s.verified is not None and s.share[2] > 0.0]
    if not checked:
        return
    first = min(checked, key=lambda s: (s.verified or 0.0) * s.factor[0] / s.share[2])
    for group in used.groups:
        chance = group.chance_unverified
        if chance is not None and chance > _UNVERIFIED:
            facts: Facts = {"scale": first.name, "verified_N": first.verified, "chance": chance}
            yield noted("unverified-range", Weight.WARNING, (group.group,), facts)


def _how_well(used: ScaleSet, weakest: float | None) -> Iterable[Notice]:
    if used.missed is None:
        unknown = [s.name for s in used.scales if s.refresh is None]
        facts: Facts = {"scales": ", ".join(unknown) or None}
        yield noted("peak-may-be-missed", Weight.REMARK, (), facts)
    elif weakest is not None and used.missed > _MISSED_A_LITTLE * weakest:
        much = used.missed > _MISSED_MUCH * weakest
        facts = {"missed_N": used.missed, "share": used.missed / weakest}
        yield noted("missed-at-peak", Weight.WARNING if much else Weight.REMARK, (), facts)
    step = sum(s.step for s in used.scales)
    if weakest is not None and step > _COARSE * weakest:
        facts = {"step_N": step, "share": step / weakest}
        yield noted("coarse-display", Weight.REMARK, (), facts)
    if used.relative_width > _WIDE:
        yield noted("rig-factor-wide", Weight.WARNING, (), {"width": used.relative_width})
