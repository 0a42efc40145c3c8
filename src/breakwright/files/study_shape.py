"""The shape of ``study.toml``: its keys and their types. A new table is a new field here."""

from dataclasses import dataclass, field
from typing import Any, ClassVar

__all__ = ["InstrumentTable", "StudyTable", "WeightTable"]

_STRICT: dict[str, Any] = {"extra": "forbid", "strict": True, "allow_inf_nan": False}


@dataclass(frozen=True, kw_only=True)
class WeightTable:
    """``[[instrument.weight]]``: a known load and what was shown, in the instrument's unit."""

    __pydantic_config__: ClassVar[dict[str, Any]] = _STRICT

    true: float
    shown: float
    tolerance: float = 0.0


@dataclass(frozen=True, kw_only=True)
class InstrumentTable:
    """``[[instrument]]``: loads in ``unit``, or in the study's unit without it."""

    __pydantic_config__: ClassVar[dict[str, Any]] = _STRICT

    name: str
    unit: str | None = None
    capacity: float | None = None
    resolution: float = 0.0
    refresh_s: float | None = None
    tare: float = 0.0
    factor: list[float] = field(default_factory=lambda: [1.0, 1.0])
    weight: list[WeightTable] = field(default_factory=list)


@dataclass(frozen=True, kw_only=True)
class StudyTable:
    """The whole file."""

    __pydantic_config__: ClassVar[dict[str, Any]] = _STRICT

    title: str = ""
    question: str = ""
    groups: list[str] = field(default_factory=list)
    reference: str | None = None
    counts: str | None = None
    worth: float | None = None
    unit: str | None = None
    sharing: str | None = None
    invented: bool = False
    sheet: str = "trials.csv"
    record: dict[str, str] = field(default_factory=dict)
    instrument: list[InstrumentTable] = field(default_factory=list)
