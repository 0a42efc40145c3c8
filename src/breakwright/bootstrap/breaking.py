"""What a person at the rig needs of a ``study.toml``: displays, unit, the break that counts."""

from dataclasses import dataclass

from breakwright.model.trial import Sharing
from breakwright.model.units import ForceUnit

__all__ = ["RigSide", "cautions_at_the_rig", "rig_side"]


@dataclass(frozen=True, slots=True)
class RigSide:
    """``displays`` has a name for each field to type a load into ('' where the study names none),
    and ``limits`` whether the last load that it shows is known; ``choices`` are the instruments of
    which one is read, where they do not share the load; ``apart`` says that each display keeps
    its own peak, so that the largest sum is worth noting."""

    unit: ForceUnit
    displays: tuple[str, ...]
    limits: tuple[bool, ...]
    choices: tuple[str, ...]
    apart: bool
    groups: tuple[str, ...]
    counts: str | None
    invented: bool


def rig_side(toml: str) -> RigSide:
    """Return what the text says of the work at the rig. Raises InputRefused with every problem."""
    from breakwright.files.bench.defined import defined

    said = defined(toml)
    study, instruments = said.study, said.instruments
    read = () if said.by_scale else instruments
    return RigSide(
        unit=study.unit,
        displays=tuple(instrument.name for instrument in read) or ("",),
        limits=tuple(instrument.capacity is not None for instrument in read) or (False,),
        choices=tuple(instrument.name for instrument in instruments) if said.by_scale else (),
        apart=said.shared and study.sharing is Sharing.SEPARATE_PEAKS,
        groups=said.groups,
        counts=study.counts,
        invented=study.invented,
    )


def cautions_at_the_rig() -> tuple[str, ...]:
    """Return the cautions of the moments at the rig and what the results are not, a line each."""
    from breakwright.rig.cautions import CAUTIONS, Moment

    moments = (Moment.BEFORE, Moment.LOAD, Moment.AFTER, Moment.USE)
    return tuple(caution.text for caution in CAUTIONS if caution.moment in moments)
