"""The check of the scales as data. Loads in N on the piece; see ``rig/scale_findings.py``.

``main`` is the set that the pieces will be read with: PLAN takes ``limit`` and the chances of
``sets[main].groups`` from it.
"""

from dataclasses import dataclass

from breakwright.model.notice import Notice
from breakwright.model.units import ForceUnit
from breakwright.rig.scale_findings import Buy, FittingPiece, ScaleSet

__all__ = ["SCALES_SCHEMA", "ScalesResult"]

SCALES_SCHEMA = "breakwright/scales/1"


@dataclass(frozen=True, slots=True)
class ScalesResult:
    """Which scale runs out, when, and what would fit.

    ``sets`` is empty where the study names no scale; ``main`` is its index of the set in use
    (None: no scale named; where nobody said how several share, the one that reads the most).
    ``limit`` is the whole load
    up to which that set reads for certain (None: not known). ``buy_one`` is what a single scale
    that bears the whole load would need. ``fitting`` answers 'which piece fits my scale?' and is
    empty without a limit or a part under test.
    """

    schema: str
    title: str
    invented: bool
    unit: ForceUnit
    groups: tuple[str, ...]
    reference: str
    sets: tuple[ScaleSet, ...]
    main: int | None
    limit: float | None
    buy_one: tuple[Buy, ...]
    fitting: tuple[FittingPiece, ...]
    notices: tuple[Notice, ...]
    seed: int
