"""Kinds of part that are no fastener in wood, collected for the catalogue."""

from breakwright.strength.kinds_glued import DOWEL_JOINT, GLUED_LAP
from breakwright.strength.kinds_members import BEAM, METAL_BEAM, POST
from breakwright.strength.kinds_plates import PLATE_WITH_HOLE
from breakwright.strength.kinds_tapped import TAPPED_PLATE
from breakwright.strength.kinds_threaded import BOLT
from breakwright.strength.kinds_washer import WASHER
from breakwright.strength.kinds_whole import OWN_TESTS, RATED_PART
from breakwright.strength.mechanism import Kind

__all__ = ["KINDS"]

KINDS: tuple[Kind, ...] = (
    BOLT,
    TAPPED_PLATE,
    PLATE_WITH_HOLE,
    WASHER,
    BEAM,
    METAL_BEAM,
    POST,
    GLUED_LAP,
    DOWEL_JOINT,
    RATED_PART,
    OWN_TESTS,
)
