"""Check a rig before the first cut: what gives first, by how much, and what would help."""

from breakwright.model.study import Study
from breakwright.rig.advice import advise
from breakwright.rig.cautions import CAUTIONS
from breakwright.rig.frame import frame_of
from breakwright.rig.look import Catalogue, look_at
from breakwright.rig.margins import margins_of
from breakwright.rig.rig_notices import rig_notices
from breakwright.rig.weakest import Draws, race
from breakwright.strength.catalogue import kinds
from breakwright.strength.resolve import part_problems, predictions, resolve
from breakwright.usecases.rig_result import RIG_SCHEMA, RigResult

__all__ = ["check_rig", "strength_catalogue"]


def strength_catalogue() -> Catalogue:
    """The strength room's own kinds and equations."""
    return Catalogue(kinds(), resolve, predictions, lambda part: not part_problems(part))


def check_rig(
    study: Study, *, seed: int, draws: int = 200_000, catalogue: Catalogue | None = None
) -> RigResult:
    """Check every part of ``study`` against the strongest piece expected.

    The same study, seed and number of draws give the same result, to the bit. The parts must
    have passed ``strength.resolve.part_problems``; ``PartRefused`` is raised for one that has
    not. ``catalogue`` stands in for the strength room's own.
    """
    look = look_at(study, catalogue or strength_catalogue())
    luck = Draws(seed, draws)
    races = tuple(race(g, look.contenders(g), luck) for g in look.pieces)
    margins = margins_of(look)
    advice, no_advice = advise(look, margins, luck)
    frame = frame_of(look)
    return RigResult(
        schema=RIG_SCHEMA,
        title=study.title,
        invented=study.invented,
        unit=study.unit,
        groups=study.groups,
        reference=study.reference,
        tested=None if look.tested is None else look.tested.name,
        intended=look.intended,
        taken=look.taken,
        pieces=tuple(look.pieces.values()),
        races=races,
        margins=margins,
        advice=advice,
        no_advice=no_advice,
        frame=frame,
        cautions=CAUTIONS,
        notices=rig_notices(look, races, margins, frame),
        seed=seed,
        draws=draws,
    )
