"""A study: one question, its groups, its instruments and its trials."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from breakwright.model.errors import ImpossibleValue
from breakwright.model.foresight import Expected, Layout, Wish
from breakwright.model.instrument import Instrument
from breakwright.model.part import Part
from breakwright.model.trial import Sharing, Trial
from breakwright.model.units import ForceUnit

__all__ = ["RECORD_KEYS", "Study"]

# What a test report holds besides results (need 18 of the users; ISO/IEC 17025:2017, 7.8 lists
# the like; section number from memory). Key -> what a person is asked for.
RECORD_KEYS: Mapping[str, str] = MappingProxyType(
    {
        "method": "the test method, and how yours departed from it",
        "material": "material and batch (species, board, sheet, maker's lot)",
        "density": "density of the pieces and how it was taken",
        "moisture": "moisture content and how it was taken",
        "conditioning": "how long and where the pieces were kept before testing",
        "dimensions": "dimensions and how they were measured",
        "preparation": "how the pieces were made and treated",
        "fastening": "adhesive, fastener or thread details, with cure time",
        "speed": "loading speed",
        "force_accuracy": "accuracy of the scale and how it was checked",
        "tested_by": "who tested",
        "date": "when the tests were made",
    }
)

_NO_RECORD: Mapping[str, str] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Study:
    """Everything that is known of one question. Loads in N.

    ``counts`` is the failure mode asked about (None: every break counts); ``worth`` is the
    smallest ratio worth knowing, above 1 (None: not stated); ``unit`` is the unit that people
    are shown. ``groups`` is in the order people see; ``reference`` is one of them. ``parts``,
    ``expected``, ``wish`` and ``layout`` serve the work before the first cut.
    """

    trials: tuple[Trial, ...]
    groups: tuple[str, ...]
    reference: str
    title: str = ""
    question: str = ""
    counts: str | None = None
    worth: float | None = None
    unit: ForceUnit = ForceUnit.N
    instruments: tuple[Instrument, ...] = ()
    sharing: Sharing | None = None
    invented: bool = False
    record: Mapping[str, str] = field(default_factory=lambda: _NO_RECORD)
    parts: tuple[Part, ...] = ()
    expected: Expected = field(default_factory=Expected)
    wish: Wish = field(default_factory=Wish)
    layout: Layout = field(default_factory=Layout)

    def __post_init__(self) -> None:
        if self.reference not in self.groups:
            raise ImpossibleValue(
                f"the reference {self.reference!r} is not one of the groups {self.groups}"
            )
        strangers = sorted({t.group for t in self.trials} - set(self.groups))
        if strangers:
            raise ImpossibleValue(f"trials of groups that the study does not name: {strangers}")
        if self.worth is not None and not 1.0 < self.worth < 100.0:
            raise ImpossibleValue(f"the smallest ratio worth knowing is above 1; got {self.worth}")
