"""One thing wrong with a part, and the two phrases that such a thing is told with."""

from collections.abc import Iterable
from dataclasses import dataclass

__all__ = ["PartProblem", "did_you_mean", "listed"]


@dataclass(frozen=True, slots=True)
class PartProblem:
    """One thing wrong with a part: ``key`` names the entry of its table (None: the part as a
    whole), ``read`` what stood there, ``allowed`` what may, ``do`` what to do next."""

    part: str
    key: str | None
    message: str
    read: str | None = None
    allowed: str | None = None
    do: str | None = None


def listed(names: Iterable[str]) -> str:
    shown = list(names)
    return ", ".join(f"'{n}'" for n in shown) if shown else "none"


def did_you_mean(near: tuple[str, ...]) -> str:
    return f"did you mean {' or '.join(repr(n) for n in near)}?" if near else ""
