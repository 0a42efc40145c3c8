"""Kinds of part that hold by wood: nails, screws, screwed joints, pins."""

from breakwright.strength.kinds_bearing import BEARING_KINDS
from breakwright.strength.kinds_joint import JOINT_KINDS
from breakwright.strength.kinds_pull import PULL_KINDS
from breakwright.strength.mechanism import Kind

__all__ = ["KINDS"]

KINDS: tuple[Kind, ...] = (*PULL_KINDS, *JOINT_KINDS, *BEARING_KINDS)
