"""The shape of ``study.toml``: its keys and their types. A new table is a new field here."""

from dataclasses import dataclass, field
from typing import Any, ClassVar

__all__ = [
    "ExpectedTable",
    "InstrumentTable",
    "LayoutTable",
    "StudyTable",
    "WeightTable",
    "WishTable",
]

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
class ExpectedTable:
    """``[expected]``: what the pieces are expected to hold; loads in the study's unit."""

    __pydantic_config__: ClassVar[dict[str, Any]] = _STRICT

    median: float | None = None
    cv: float | None = None
    ratio: dict[str, float] = field(default_factory=dict)
    wrong_way: float = 0.0
    pilots: list[float] = field(default_factory=list)


@dataclass(frozen=True, kw_only=True)
class WishTable:
    """``[wish]``: how many pieces, how sure, and over what the order is balanced."""

    __pydantic_config__: ClassVar[dict[str, Any]] = _STRICT

    pieces: int | None = None
    chance: float = 0.8
    width: float | None = None
    blocks: list[str] = field(default_factory=list)
    days: int = 1
    operators: list[str] = field(default_factory=list)
    pairs: bool = False
    longest_run: int | None = None
    seed: int | None = None


@dataclass(frozen=True, kw_only=True)
class LayoutTable:
    """``[layout]``: where things stand in the rig; ``rate`` in the study's unit a second."""

    __pydantic_config__: ClassVar[dict[str, Any]] = _STRICT

    scale_at_mm: dict[str, float] = field(default_factory=dict)
    load_at_mm: float | None = None
    wander_mm: float = 0.0
    rate: float | None = None
    loose_mass_kg: float | None = None
    stroke_mm: float | None = None


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
    # A part's keys are those of its kind, which files cannot know: see ``part_tables``.
    part: list[dict[str, Any]] = field(default_factory=list)
    expected: ExpectedTable = field(default_factory=ExpectedTable)
    wish: WishTable = field(default_factory=WishTable)
    layout: LayoutTable = field(default_factory=LayoutTable)
