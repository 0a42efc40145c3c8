"""What a film of displays tells: marks, spans, the sum, the breaks and what to doubt.

Times are seconds on the film's own clock, from its first frame. Places are pixels of the upright
frame (rotation applied), x to the right and y down, the centre of the first pixel at (0, 0).
Values are in the display's own unit until a reading is made of them.
"""

import math
from dataclasses import dataclass
from enum import StrEnum

from breakwright.model.errors import ImpossibleValue
from breakwright.model.trial import Ending

__all__ = [
    "Break",
    "DisplayMark",
    "DisplayTrace",
    "FilmDoubt",
    "FilmFacts",
    "FilmReading",
    "PeakWindow",
    "Quad",
    "Shown",
    "Span",
    "SpanCorrection",
    "SumSpan",
]

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Quad:
    """The corners of a digit row as it reads: top left, top right, bottom right, bottom left of
    the digits themselves, whichever way the camera was held."""

    top_left: Point
    top_right: Point
    bottom_right: Point
    bottom_left: Point

    def __post_init__(self) -> None:
        corners = self.corners
        if not all(math.isfinite(x) and math.isfinite(y) for x, y in corners):
            raise ImpossibleValue(f"a corner is no number: {corners}")
        turns = [
            (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
            for a, b, c in zip(
                corners, corners[1:] + corners[:1], corners[2:] + corners[:2], strict=True
            )
        ]
        if not (all(t > 0.0 for t in turns) or all(t < 0.0 for t in turns)):
            raise ImpossibleValue(
                f"the four corners cross or lie on a line: {corners}; go round the digit row: "
                "top left, top right, bottom right, bottom left, as the digits read"
            )
        if turns[0] < 0.0:
            raise ImpossibleValue(
                f"the four corners go round the wrong way, as in a mirror: {corners}; go round "
                "the digit row: top left, top right, bottom right, bottom left, as the digits read"
            )

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        return (self.top_left, self.top_right, self.bottom_right, self.bottom_left)

    @property
    def width(self) -> float:
        """The mean length of the upper and the lower edge (px)."""
        return (
            math.dist(self.top_left, self.top_right)
            + math.dist(self.bottom_left, self.bottom_right)
        ) / 2.0

    @property
    def height(self) -> float:
        """The mean length of the left and the right edge (px)."""
        return (
            math.dist(self.top_left, self.bottom_left)
            + math.dist(self.top_right, self.bottom_right)
        ) / 2.0


@dataclass(frozen=True, slots=True)
class DisplayMark:
    """One display to be read: its digit row at ``time`` (s), and what is known of the numbers.

    ``decimals`` is how many digits follow the point (None: as read), ``resolution`` the step
    between two values and ``capacity`` the last value it shows, both in the display's ``unit``;
    ``refresh`` the time between two values (s); ``digits`` the most digits it shows. None means
    not known.
    """

    name: str
    quad: Quad
    time: float = 0.0
    unit: str | None = None
    decimals: int | None = None
    resolution: float | None = None
    capacity: float | None = None
    refresh: float | None = None
    digits: int | None = None


class Shown(StrEnum):
    """What a display showed during a span."""

    VALUE = "value"
    BLANK = "blank"
    OVER_RANGE = "over-range"
    UNREADABLE = "unreadable"
    OUT_OF_SIGHT = "out-of-sight"


@dataclass(frozen=True, slots=True)
class Span:
    """From ``start`` to ``end`` (s) the display showed one thing.

    ``start`` is the time of the first frame that shows it, ``end`` that of the first frame that
    no longer does (or the last frame's time plus one frame). ``since`` is the time of the last
    frame before ``start`` that still surely showed something else: the new value came between
    ``since`` and ``start``. ``value`` is a number only for ``VALUE``; ``text`` is what stood
    there as read. ``confidence`` (0 to 1) is calibrated: the chance that the value is right.
    ``agreeing`` is how many frames say so. ``frozen``: no change for so long, while another
    display moved, that it may have hung. ``corrected``: a person put it here.
    """

    start: float
    end: float
    shown: Shown
    value: float | None
    text: str
    confidence: float
    agreeing: int
    since: float
    frozen: bool = False
    corrected: bool = False


@dataclass(frozen=True, slots=True)
class DisplayTrace:
    """What one display showed, gap-free from the first frame to the last.

    ``refresh`` is the time between two values as seen in the film (s, None: cannot be told);
    ``decimals`` and ``step`` (in its unit) what was used; ``lost`` the share of frames in which
    it could not be found, ``dim`` the share in which it had too little contrast.
    """

    mark: DisplayMark
    spans: tuple[Span, ...]
    refresh: float | None
    decimals: int
    step: float
    lost: float
    dim: float


@dataclass(frozen=True, slots=True)
class SumSpan:
    """The load on all displays together from ``start`` to ``end`` (s): between ``lower`` and
    ``upper``, in N, each display held until its next value. None: a display was not readable,
    so that there is no sum."""

    start: float
    end: float
    lower: float | None
    upper: float | None


@dataclass(frozen=True, slots=True)
class PeakWindow:
    """What one display says of the load at the peak, in its own unit.

    ``lower`` is what it surely showed, ``upper`` what may have come before its next value (the
    loading rate times the time it had; equal to ``lower`` where it held still), None: no upper
    end, for it was dark, out of range or out of sight. Half a step of the display is not in it:
    the outcome algebra puts it there. ``span`` is the number of its span in the trace.
    """

    display: str
    lower: float
    upper: float | None
    shown: Shown
    span: int


@dataclass(frozen=True, slots=True)
class Break:
    """One pull in the film, from zero to where the load was gone.

    ``moment`` is when the load fell, between ``moment[0]`` and ``moment[1]`` (s). ``lower`` and
    ``upper`` (N; None: no upper end) bound the peak of the simultaneous sum, the displays' half
    steps included; ``windows`` is the same by display. ``rate`` is the loading rate before the
    peak (N/s). ``slips`` are the times of earlier drops after which the load rose again.
    """

    number: int
    start: float
    end: float
    moment: tuple[float, float]
    peak_at: float
    lower: float
    upper: float | None
    windows: tuple[PeakWindow, ...]
    ending: Ending
    rate: float | None
    slips: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class FilmDoubt:
    """Something a person should look at. ``code`` has a paragraph in the documentation;
    ``display`` None: it is about the sum or the film; ``amount`` what the code counts in (a
    share, a time in s, a value), ``text`` what was read there."""

    code: str
    start: float
    end: float
    display: str | None = None
    amount: float | None = None
    text: str | None = None


@dataclass(frozen=True, slots=True)
class SpanCorrection:
    """A person says what ``display`` really showed from ``start`` to ``end`` (s), and why. The
    machine's reading stays on record beside it. ``value`` only where ``shown`` is a value."""

    display: str
    start: float
    end: float
    shown: Shown
    value: float | None
    reason: str


@dataclass(frozen=True, slots=True)
class FilmFacts:
    """The film itself. ``width`` and ``height`` are upright; ``rotation`` (degrees clockwise,
    0, 90, 180 or 270) is what was applied; ``frames`` how many were read, over ``duration`` s;
    ``ended_early`` says, in words, why not all could be read, None if all were."""

    width: int
    height: int
    rotation: int
    frames: int
    duration: float
    codec: str
    sound: bool
    ended_early: str | None = None


@dataclass(frozen=True, slots=True)
class FilmReading:
    """All that one film (or two on one clock) tells."""

    facts: FilmFacts
    displays: tuple[DisplayTrace, ...]
    total: tuple[SumSpan, ...]
    breaks: tuple[Break, ...]
    doubts: tuple[FilmDoubt, ...]
