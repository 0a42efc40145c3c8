"""What the check of a rig has to point out, as codes and numbers."""

from collections.abc import Iterable, Mapping

from breakwright.model.notice import Notice, Weight
from breakwright.rig.findings import Frame, GroupRace, Level, Margin, Origin, PieceStrength
from breakwright.rig.judging import rating_of
from breakwright.rig.look import Look
from breakwright.strength.trust import Trust

__all__ = ["Facts", "noted", "rig_notices"]

Facts = Mapping[str, str | float | int | None]

_SURE = 0.99
_MOSTLY = 0.95
# What is stored at the break is pointed out from here on (judgement, no source): 10 J is a
# 1 kg hammer falling a metre; 10 m/s hurts.
_MUCH_ENERGY = 10.0
_MUCH_SPEED = 10.0


def noted(
    code: str, weight: Weight, groups: tuple[str, ...] = (), facts: Facts | None = None
) -> Notice:
    return Notice(code, weight, groups, (), facts or {})


def rig_notices(
    look: Look, races: Iterable[GroupRace], margins: Iterable[Margin], frame: Frame
) -> tuple[Notice, ...]:
    """Everything worth pointing out, the gravest first in each matter."""
    found: list[Notice] = [*_what_is_missing(look)]
    found += _of_pieces(look.pieces.values())
    found += _of_margins(margins)
    found += _of_rated_parts(look)
    found += _of_races(races, margins)
    found += _of_frame(frame)
    return tuple(found)


def _what_is_missing(look: Look) -> Iterable[Notice]:
    if not look.study.parts:
        yield noted("no-parts", Weight.WARNING)
    elif look.tested is None:
        yield noted("no-tested-part", Weight.WARNING)
    elif look.intended is None:
        facts: Facts = {"part": look.tested.name, "taken": look.taken}
        yield noted("no-intended-mechanism", Weight.WARNING, (), facts)
    if not look.pieces:
        yield noted("no-strength-known", Weight.WARNING)


def _of_pieces(pieces: Iterable[PieceStrength]) -> Iterable[Notice]:
    for piece in pieces:
        if piece.is_reference and piece.scatter_assumed:
            yield noted("scatter-assumed", Weight.WARNING, (piece.group,), {"cv": piece.cv})
        if piece.is_reference and piece.trust is Trust.ORDER:
            facts: Facts = {
                "median_N": piece.median,
                "p5_N": piece.p5,
                "p95_N": piece.p95,
            }
            yield noted("break-three-first", Weight.WARNING, (piece.group,), facts)
        if piece.origin is Origin.RATIO_WORTH:
            yield noted("ratio-assumed", Weight.REMARK, (piece.group,), {"median_N": piece.median})
        if piece.origin is Origin.SAME and not piece.is_reference:
            yield noted("groups-taken-alike", Weight.REMARK, (piece.group,))


def _of_margins(margins: Iterable[Margin]) -> Iterable[Notice]:
    for one in margins:
        facts: Facts = {
            "part": one.part,
            "mechanism": one.mechanism,
            "margin": one.margin,
            "margin_characteristic": one.margin_characteristic,
            "median_N": one.median,
            "p5_N": one.p5,
            "strongest_piece_N": one.strongest_piece,
            "chance_before": one.chance_before,
        }
        group = (one.strongest_group,)
        if one.level is Level.DANGER:
            yield noted("part-weaker-than-piece", Weight.WARNING, group, facts)
        elif one.level is Level.LOW:
            yield noted("part-margin-low", Weight.WARNING, group, facts)
        elif one.level is Level.ENOUGH and one.margin_characteristic < 1.0:
            yield noted("part-margin-uncertain", Weight.REMARK, group, facts)
        if one.level is not Level.OWN and one.trust is Trust.ORDER and one.governs:
            named: Facts = {"part": one.part, "mechanism": one.mechanism}
            yield noted("part-order-of-magnitude", Weight.REMARK, (), named)


def _of_rated_parts(look: Look) -> Iterable[Notice]:
    """A maker's rating is not to be passed, however large the factor behind it."""
    if not look.pieces:
        return
    strongest = look.strongest()
    for part in look.study.parts:
        rated = rating_of(part)
        if rated is None or part.tested:
            continue
        on_one = strongest.p99 * part.largest_share
        if on_one > rated:
            facts: Facts = {
                "part": part.name,
                "rated_N": rated,
                "on_one_N": on_one,
                "strongest_piece_N": strongest.p99,
            }
            yield noted("rated-part-overloaded", Weight.WARNING, (strongest.group,), facts)


def _of_races(races: Iterable[GroupRace], margins: Iterable[Margin]) -> Iterable[Notice]:
    medians = {(m.part, m.mechanism): m.median for m in margins}
    for one in races:
        chance = one.intended_chance
        if chance is None or chance >= _SURE:
            continue
        rival = next(w for w in one.ways if not w.intended)
        facts: Facts = {
            "intended_chance": chance,
            "part": rival.part,
            "mechanism": rival.mechanism,
            "rival_chance": rival.chance,
            "rival_median_N": medians.get((rival.part, rival.mechanism)),
        }
        weight = Weight.WARNING if chance < _MOSTLY else Weight.REMARK
        yield noted("intended-not-first", weight, (one.group,), facts)


def _of_frame(frame: Frame) -> Iterable[Notice]:
    needed, stroke = frame.stroke_needed, frame.stroke
    if needed is not None and stroke is not None and needed > stroke:
        yield noted("stroke-short", Weight.WARNING, (), {"needed_mm": needed, "stroke_mm": stroke})
    most = frame.strongest
    if most is not None and (
        most.energy >= _MUCH_ENERGY or (most.speed is not None and most.speed >= _MUCH_SPEED)
    ):
        facts: Facts = {
            "energy_J": most.energy,
            "load_N": most.load,
            "deflection_mm": most.deflection,
            "mass_kg": most.loose_mass,
            "speed_m_s": most.speed,
        }
        yield noted("energy-high", Weight.WARNING, (), facts)
    if frame.unknown and frame.parts:
        facts = {"parts": ", ".join(frame.unknown), "count": len(frame.unknown)}
        yield noted("deflection-partly-unknown", Weight.REMARK, (), facts)
