"""The check of the rig as data: what a table, a page, a picture or ``--json`` is made from.

All loads are in N, whatever unit people are shown; ``None`` stands for 'there is none'. The
smaller pieces are explained in ``rig/findings.py`` and ``rig/cautions.py``.
"""

from dataclasses import dataclass

from breakwright.model.notice import Notice
from breakwright.model.units import ForceUnit
from breakwright.rig.cautions import Caution
from breakwright.rig.findings import (
    Advice,
    Frame,
    GroupRace,
    Margin,
    NoAdvice,
    PieceStrength,
)

__all__ = ["RIG_SCHEMA", "RigResult"]

RIG_SCHEMA = "breakwright/rig/1"


@dataclass(frozen=True, slots=True)
class RigResult:
    """Which part gives first, with what chance, and what would help.

    ``tested`` names the part under test and ``intended`` the way it should break; where no way
    is marked, ``intended`` is None and ``taken`` is the weakest way, which was taken for it.
    ``pieces`` (one a group) is empty where neither a part under test nor an expected median is
    stated; then there are no races and no margins. ``advice`` is sorted by part: first
    what cures it wholly and leaves the piece as it is, the smallest change before all.
    """

    schema: str
    title: str
    invented: bool
    unit: ForceUnit
    groups: tuple[str, ...]
    reference: str
    tested: str | None
    intended: str | None
    taken: str | None
    pieces: tuple[PieceStrength, ...]
    races: tuple[GroupRace, ...]
    margins: tuple[Margin, ...]
    advice: tuple[Advice, ...]
    no_advice: tuple[NoAdvice, ...]
    frame: Frame
    cautions: tuple[Caution, ...]
    notices: tuple[Notice, ...]
    seed: int
    draws: int
