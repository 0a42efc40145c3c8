"""What keeps people whole, by moment, as data: most of it common practice, two items sourced."""

from dataclasses import dataclass
from enum import StrEnum

__all__ = ["CAUTIONS", "COMMON", "Caution", "Moment"]

COMMON = "common practice, no source"
JACK_MANUALS = "makers' manuals of hydraulic jacks"
GLUE_SHEETS = "makers' safety data sheets of cyanoacrylate glues"


class Moment(StrEnum):
    """When a caution matters, in the order of the work."""

    BUILD = "building the rig"
    GLUE = "gluing"
    BEFORE = "before loading"
    LOAD = "loading"
    AFTER = "after the break"
    USE = "using the results"


@dataclass(frozen=True, slots=True)
class Caution:
    """One sentence to be read at its moment, and what it rests on."""

    code: str
    moment: Moment
    text: str
    source: str = COMMON


CAUTIONS: tuple[Caution, ...] = (
    Caution(
        "rig-stronger",
        Moment.BUILD,
        "Make every part of the rig at least 2.5 times as strong as the strongest piece expected.",
    ),
    Caution(
        "jack-square",
        Moment.BUILD,
        "Set the jack square on a steel plate and never load it from the side: it can kick out.",
        JACK_MANUALS,
    ),
    Caution(
        "jack-rating",
        Moment.BUILD,
        "Use a jack rated for at least twice the strongest piece expected.",
    ),
    Caution(
        "tether",
        Moment.BUILD,
        "Tie down jack, bolt, beam and scales, each by its own cord, so that nothing falls or "
        "flies when the load lets go.",
    ),
    Caution("shield", Moment.BUILD, "Put a shield between the piece and every person."),
    Caution("no-knots", Moment.BUILD, "Have no knot or split near the middle of a wooden beam."),
    Caution(
        "cyanoacrylate",
        Moment.GLUE,
        "Keep instant glue (cyanoacrylate) off cotton, wool and paper towels: it heats up fast "
        "there and may burn, smoke or catch fire.",
        GLUE_SHEETS,
    ),
    Caution(
        "glue-gear",
        Moment.GLUE,
        "Air the room, protect your eyes, wear nitrile gloves and not cotton ones, and read the "
        "glue's safety sheet.",
    ),
    Caution(
        "face",
        Moment.BEFORE,
        "Wear safety glasses and a face shield over them, and closed shoes; no gloves where "
        "they could be drawn in.",
    ),
    Caution(
        "out-of-line",
        Moment.BEFORE,
        "Let nobody stand in line with the bolt or the pull, or beside the loaded span.",
    ),
    Caution(
        "seat",
        Moment.BEFORE,
        "Load to a tenth of what you expect, stop, look; if anything tilts or slides, take the "
        "load off and set it right.",
    ),
    Caution(
        "steady",
        Moment.LOAD,
        "Load in steady strokes. Read the scale from aside or through a camera.",
    ),
    Caution(
        "stop-at-limit",
        Moment.LOAD,
        "Stop at the limit of the scale or of the rig, whichever comes first.",
    ),
    Caution(
        "crack",
        Moment.LOAD,
        "After a crack keep away until the load is off: what has cracked may still let go.",
    ),
    Caution("release", Moment.AFTER, "Take the load off first, then touch."),
    Caution(
        "inspect",
        Moment.AFTER,
        "Look the rig over after each break and retire whatever is bent, cracked or crushed.",
    ),
    Caution(
        "not-a-rating",
        Moment.USE,
        "Never use these results for lifting people, for loads overhead, for climbing or for "
        "vehicles. They describe this batch of pieces and nothing else.",
    ),
    Caution(
        "local-codes",
        Moment.USE,
        "Where a building code, a local rule or licensed practice asks for an engineered or "
        "tested part, ask a licensed engineer: nothing here takes that place.",
    ),
)
