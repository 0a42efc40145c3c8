"""One tree of errors. A person meets ``Problem``s: what was wrong, where, what to do next."""

from collections.abc import Sequence
from dataclasses import dataclass

__all__ = ["BreakwrightError", "ImpossibleValue", "InputRefused", "Problem"]


class BreakwrightError(Exception):
    """Everything that Breakwright raises on purpose."""


class ImpossibleValue(BreakwrightError, ValueError):
    """A value that no trial can have (a programming error, or input that skipped the checks)."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong with what was read, or one question that must be answered first.

    ``code`` is a short, stable name with a paragraph in ``docs/messages.md``; ``line`` and
    ``column`` count from 1 and are None where the whole file is meant. ``column_name`` is the
    header of the column or the key in ``study.toml``.
    """

    code: str
    message: str
    file: str
    line: int | None = None
    column: int | None = None
    column_name: str | None = None
    read: str | None = None
    allowed: str | None = None
    do: str | None = None


class InputRefused(BreakwrightError):
    """Input that was not taken, with every problem found in it (never only the first)."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("; ".join(f"{p.code}: {p.message}" for p in self.problems))
