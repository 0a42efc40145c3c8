"""Is a part good enough? By its margin, its chance of giving first, and its maker's rating."""

from collections.abc import Collection
from typing import NamedTuple

from breakwright.model.part import Part
from breakwright.rig.contenders import total_before
from breakwright.rig.look import Look
from breakwright.rig.margins import ENOUGH

__all__ = ["RISK", "Verdict", "judge", "rating_of", "weak_parts"]

RISK = 0.01  # of breaking another way, two by two, that a part may add
# Advice aims lower, so that several parts that follow it stay under one in a hundred together.
_AIM = 0.005


class Verdict(NamedTuple):
    """How a part stands: its margin, and the chance of its ways before the asked one.

    ``rated`` is False where the strongest piece loads a rated part beyond its rating.
    """

    margin: float
    risk: float
    is_tested: bool
    rated: bool

    @property
    def good(self) -> bool:
        """Whether nothing more is wanted of the part."""
        return self._is_under(RISK)

    @property
    def cured(self) -> bool:
        """Whether advice may stop here."""
        return self._is_under(_AIM)

    def _is_under(self, risk: float) -> bool:
        return self.rated and self.risk <= risk and (self.is_tested or self.margin >= ENOUGH)


def weak_parts(look: Look) -> tuple[str, ...]:
    """Names of the parts that need advice, in the order of the load path."""
    if not look.pieces:
        return ()
    return tuple(p.name for p in look.study.parts if not judge(look, p).good)


def judge(look: Look, part: Part, ways: Collection[str] | None = None) -> Verdict:
    """How ``part`` stands in this look, by all of its ways or by some of them only.

    A part without any of those ways has nothing against it: its margin is 'enough'.
    """
    strongest = look.strongest().p99
    tested = look.tested is not None and part.name == look.tested.name
    rivals = {
        g: look.rivals_in_piece(g) if tested else look.rivals_in(part.name) for g in look.pieces
    }
    if ways is not None:
        rivals = {g: tuple(c for c in r if c.mechanism in ways) for g, r in rivals.items()}
    medians = [c.median for r in rivals.values() for c in r]
    risk = max(total_before(r, look.intended_in(g)) for g, r in rivals.items())
    margin = min(medians) / strongest if medians else ENOUGH
    rated = rating_of(part)
    within = tested or rated is None or strongest * part.largest_share <= rated
    return Verdict(margin, risk, tested, within)


def rating_of(part: Part) -> float | None:
    """What the maker rates a rated part for (N); it is not to be passed, whatever it breaks at."""
    return part.numbers.get("rated_N") if part.kind == "rated part" else None
