"""Sentences for what a person should look at in a film. See ``film_words``."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum, auto
from types import MappingProxyType

__all__ = ["FILM_DOUBTS", "Counted", "DoubtText"]


class Counted(Enum):
    """What the amount of a doubt counts."""

    NOTHING = auto()
    VALUE = auto()  # in the display's own unit
    LOAD = auto()  # of the sum, N
    SECONDS = auto()
    SHARE = auto()  # of 1
    FACTOR = auto()


@dataclass(frozen=True, slots=True)
class DoubtText:
    """``says`` what was seen, with {who}, {amount} and {text}; ``do`` what to look at or do."""

    counted: Counted
    says: str
    do: str


_LOOK = "Look at its pictures in the contact sheet; correct the reading if it is wrong."

FILM_DOUBTS: Mapping[str, DoubtText] = MappingProxyType(
    {
        "ghost-at-peak": DoubtText(
            Counted.VALUE,
            "around the peak {who} showed two values at once, read as {text}; this mixture was "
            "not taken",
            _LOOK,
        ),
        "lone-peak": DoubtText(
            Counted.VALUE,
            "the largest number on {who}, {amount}, stood in fewer than two frames that agree",
            _LOOK,
        ),
        "unreadable-at-peak": DoubtText(
            Counted.SECONDS,
            "{who} showed something that could not be read around the break, for {amount}",
            "Look at its pictures in the contact sheet; if you can read them, correct the span.",
        ),
        "screen-lost": DoubtText(
            Counted.VALUE,
            "{who} was lost before the load fell ({text}); the last number on it was {amount}, so "
            "the peak is 'at least'",
            "Keep the display lit and in the picture to the end: see docs/filming.md.",
        ),
        "over-range": DoubtText(
            Counted.VALUE,
            "{who} ran out of range before the load fell; the last number on it was {amount}, so "
            "the peak is 'at least'",
            "Share the load between two scales, or take one that reaches further.",
        ),
        "frozen": DoubtText(
            Counted.SECONDS,
            "{who} stood at {text} for {amount} while another display moved: it may have hung",
            "Compare it with the others; if it had hung, correct the span to 'unreadable'.",
        ),
        "held-after-break": DoubtText(
            Counted.VALUE,
            "{who} went on showing {amount} after the load was gone: it may hold its peak",
            "Switch the hold off: with it the sum is made of peaks of different moments.",
        ),
        "decimals-doubtful": DoubtText(
            Counted.FACTOR,
            "the numbers on {who} jump by {amount} (read {text}): the decimal point was lost, or "
            "the decimals that were stated are wrong",
            "Check the decimals that you gave for it against the contact sheet.",
        ),
        "unit-switched": DoubtText(
            Counted.FACTOR,
            "the number on {who} changed by {amount} at once while nothing else moved: its unit "
            "may have been switched",
            "Look at which unit it shows before and after; read the two parts apart if so.",
        ),
        "never-read": DoubtText(
            Counted.SHARE,
            "nothing was read on {who}: in {amount} of the frames {text}",
            "Mark the digit row more tightly, or film closer.",
        ),
        "slow-refresh": DoubtText(
            Counted.SECONDS,
            "{who} showed a new number only every {amount}, so much may have been missed between "
            "two of them",
            "Pull more slowly near the end.",
        ),
        "beyond-capacity": DoubtText(
            Counted.VALUE,
            "{amount} was read on {who}, which is above its capacity",
            "Check the capacity and the decimals that you gave for it.",
        ),
        "below-zero": DoubtText(
            Counted.VALUE,
            "{who} stood below zero for a good while, at {amount}",
            "Was it zeroed with something on it, or hung the wrong way round?",
        ),
        "guessed-at-peak": DoubtText(
            Counted.SHARE,
            "the number on {who} at the peak, {text}, is right with a chance of {amount} only",
            _LOOK,
        ),
        "gap-in-film": DoubtText(
            Counted.SECONDS,
            "the film has no pictures for {amount}; what was shown then is not known",
            "Nothing, if it is far from the peak.",
        ),
        "ended-early": DoubtText(
            Counted.NOTHING,
            "the film could not be read to its end: {text}",
            "Read it again to its end; a film that is cut off has to be copied anew.",
        ),
        "no-break": DoubtText(
            Counted.LOAD,
            "the load never falls to zero in this film; the largest sum is {amount}",
            "Let the film run on until the load is gone, or see whether a display was lost.",
        ),
        "drop-without-break": DoubtText(
            Counted.LOAD,
            "the load fell and did not rise again, but {amount} stayed on: let off, or still "
            "bearing",
            "Say whether the piece broke.",
        ),
        "cut-under-load": DoubtText(
            Counted.LOAD,
            "the film begins or ends with {amount} on: what was before or after is not seen",
            "Begin with empty displays and end when the load is gone.",
        ),
        "slow-fall": DoubtText(
            Counted.SECONDS,
            "the load took {amount} to go down: it may have been let off by hand",
            "Say whether the piece broke.",
        ),
        "clock-uncertain": DoubtText(
            Counted.SECONDS,
            "the clocks of the two films are known against each other to {amount} only, and the "
            "range of the sum grows by it",
            "Clap once in view of both phones before the pull.",
        ),
    }
)
