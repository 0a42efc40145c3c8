"""What a reader finds on its way through a file: problems that refuse it, notices that go along."""

from collections import defaultdict
from collections.abc import Mapping, Sequence

from breakwright.model.errors import InputRefused, Problem
from breakwright.model.notice import Notice, Weight

__all__ = ["Findings"]

# Enough of one kind to see the pattern; a sheet with the unit typed into every cell must not
# push the one other problem it has out of sight.
_ALIKE = 5
_SHOWN = 60
_LINES_NAMED = 8
_READ_LENGTH = 200


def _by_place(problem: Problem) -> tuple[str, int, int]:
    return (problem.file, problem.line or 0, problem.column or 0)


def _many_lines(problems: Sequence[Problem]) -> str:
    lines = list(dict.fromkeys(p.line for p in problems if p.line is not None))
    named = ", ".join(str(line) for line in lines[:_LINES_NAMED])
    if len(lines) > _LINES_NAMED:
        return f"lines {named} and so on to line {lines[-1]}"
    return f"line{'s' if len(lines) > 1 else ''} {named}"


def _the_rest_alike(rest: Sequence[Problem]) -> Problem:
    first = rest[0]
    places = f"{len(rest)} more place{'s' if len(rest) > 1 else ''}"
    where = f" ({_many_lines(rest)})" if any(p.line is not None for p in rest) else ""
    return Problem(
        code=first.code,
        message=f"the same again in {places}{where}",
        file=first.file,
        line=first.line,
        column=first.column,
        column_name=first.column_name,
        allowed=first.allowed,
        do=first.do,
    )


class Findings:
    """Collects problems and notices; ``file`` is the file being read, as people named it."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.notices: list[Notice] = []
        self._problems: list[Problem] = []

    def __len__(self) -> int:
        return len(self._problems)

    def problem(
        self,
        code: str,
        message: str,
        *,
        file: str | None = None,
        line: int | None = None,
        column: int | None = None,
        name: str | None = None,
        read: str | None = None,
        allowed: str | None = None,
        do: str | None = None,
    ) -> None:
        """Note one thing wrong; reading goes on, so that the rest is found as well."""
        if read is not None and len(read) > _READ_LENGTH:
            read = f"{read[: _READ_LENGTH - 1]}…"
        self._problems.append(
            Problem(code, message, file or self.file, line, column, name, read, allowed, do)
        )

    def remark(
        self,
        code: str,
        facts: Mapping[str, str | float | int | None],
        *,
        groups: Sequence[str] = (),
        pieces: Sequence[str] = (),
    ) -> None:
        self.notices.append(Notice(code, Weight.REMARK, tuple(groups), tuple(pieces), facts))

    def warning(
        self,
        code: str,
        facts: Mapping[str, str | float | int | None],
        *,
        groups: Sequence[str] = (),
        pieces: Sequence[str] = (),
    ) -> None:
        self.notices.append(Notice(code, Weight.WARNING, tuple(groups), tuple(pieces), facts))

    def problems(self) -> tuple[Problem, ...]:
        """Return what was found, by place; more than a few of one kind are counted together."""
        alike: dict[tuple[str, str, str | None], list[Problem]] = defaultdict(list)
        for problem in sorted(self._problems, key=_by_place):
            alike[problem.code, problem.file, problem.column_name].append(problem)
        shown: list[Problem] = []
        for kind in alike.values():
            keep = kind if len(kind) <= _ALIKE + 1 else kind[:_ALIKE]
            shown.extend(keep)
            if len(keep) < len(kind):
                shown.append(_the_rest_alike(kind[_ALIKE:]))
        shown.sort(key=_by_place)
        if len(shown) <= _SHOWN:
            return tuple(shown)
        left = len(shown) - _SHOWN
        more = Problem(
            code="more-problems",
            message=f"{left} more kinds of problem were found and are not listed here",
            file=self.file,
            do="Mend the ones above and read the sheet again.",
        )
        return (*shown[:_SHOWN], more)

    def refuse_if_any(self) -> None:
        """Raise ``InputRefused`` with everything found, if anything was."""
        if self._problems:
            raise InputRefused(self.problems())
