"""A warning or remark as data: a code and its numbers. Words are made in the report room."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType

__all__ = ["Notice", "Weight"]

_NOTHING: Mapping[str, str | float | int | None] = MappingProxyType({})


class Weight(StrEnum):
    """How much a notice changes what may be concluded."""

    WARNING = "warning"
    REMARK = "remark"


@dataclass(frozen=True, slots=True)
class Notice:
    """``code`` has a paragraph in ``docs/messages.md``; ``facts`` fills its sentence."""

    code: str
    weight: Weight
    groups: tuple[str, ...] = ()
    pieces: tuple[str, ...] = ()
    facts: Mapping[str, str | float | int | None] = field(default_factory=lambda: _NOTHING)
