"""The answers that a person can give to the questions a sheet raises."""

from dataclasses import dataclass
from enum import StrEnum

from breakwright.files.numerals import Decimal
from breakwright.model.trial import Sharing
from breakwright.model.units import ForceUnit

__all__ = ["Negative", "ReadOptions"]


class Negative(StrEnum):
    """What to do with negative loads, as a pull gauge may show them."""

    ASK = "ask"
    BY_SIZE = "by-size"


@dataclass(frozen=True, slots=True)
class ReadOptions:
    """None (or ``ASK``) leaves a question open: where it matters, the sheet is refused with it.

    ``resolution`` and ``capacity`` are in the sheet's unit and describe the one display of a
    sheet without ``study.toml``. The others go before what ``study.toml`` says, with a remark.
    """

    unit: ForceUnit | None = None
    decimal: Decimal | None = None
    pulls_negative: Negative = Negative.ASK
    sharing: Sharing | None = None
    reference: str | None = None
    counts: str | None = None
    worth: float | None = None
    resolution: float | None = None
    capacity: float | None = None
