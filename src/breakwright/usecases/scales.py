"""Check the scales before the first cut: when they run out, what to buy, which piece fits."""

from collections.abc import Sequence

from breakwright.model.study import Study
from breakwright.rig.buying import buy_alone
from breakwright.rig.fits import fitting_pieces
from breakwright.rig.look import Catalogue, look_at
from breakwright.rig.scale_findings import FittingPiece, ScaleSet
from breakwright.rig.scale_notices import scale_notices
from breakwright.rig.scales import sets_of
from breakwright.rig.weakest import Draws
from breakwright.usecases.rig import strength_catalogue
from breakwright.usecases.rig_result import RigResult
from breakwright.usecases.scales_result import SCALES_SCHEMA, ScalesResult

__all__ = ["check_scales"]


def check_scales(
    study: Study,
    rig: RigResult,
    *,
    seed: int,
    draws: int = 20_000,
    offers: tuple[float, ...] = (),
    catalogue: Catalogue | None = None,
) -> ScalesResult:
    """Check the scales of ``study`` against the pieces that ``rig`` expects.

    ``offers`` are capacities that the person could buy (N, by display). ``draws`` serve only the
    chance that a resized piece still breaks the way it should; the rest is closed form. The same
    arguments give the same result, to the bit.
    """
    pieces = {p.group: p for p in rig.pieces}
    sets = sets_of(study, pieces, offers=offers)
    main = _in_use(sets)
    limit = None if main is None else sets[main].limit
    fitting: tuple[FittingPiece, ...] = ()
    if limit is not None:
        look = look_at(study, catalogue or strength_catalogue())
        fitting = fitting_pieces(look, limit, Draws(seed, draws))
    return ScalesResult(
        schema=SCALES_SCHEMA,
        title=study.title,
        invented=study.invented,
        unit=study.unit,
        groups=study.groups,
        reference=study.reference,
        sets=sets,
        main=main,
        limit=limit,
        buy_one=buy_alone(rig.pieces, offers=offers),
        fitting=fitting,
        notices=scale_notices(study, sets, main, pieces=pieces, fitting=fitting),
        seed=seed,
    )


def _in_use(sets: Sequence[ScaleSet]) -> int | None:
    """The only set; of several scales of which nobody said how they share, the one that reads
    the most."""
    if not sets:
        return None
    return max(range(len(sets)), key=lambda k: sets[k].limit or 0.0)
