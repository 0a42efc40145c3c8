"""A problem in what was read, as lines for the terminal: where, what, what is allowed, what now."""

from collections.abc import Iterable

from breakwright.model.errors import Problem

__all__ = ["problem_lines", "problems_text"]


def _where(problem: Problem) -> str:
    parts = [problem.file]
    if problem.line is not None:
        parts.append(str(problem.line))
        if problem.column is not None:
            parts.append(str(problem.column))
    return ":".join(parts)


def _visible(text: str) -> str:
    """Make control characters visible, so that a bad byte cannot hide or steer the terminal."""
    safe = "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in text)
    return safe if len(safe) <= 120 else f"{safe[:117]}..."


def problem_lines(problem: Problem) -> tuple[str, ...]:
    """Return one problem as lines of plain text, the place first.

    >>> p = Problem("not-a-load", "this is not a load", "a.csv", 3, 2, "load", read="4l2",
    ...     allowed="a number, '>440'", do="Type the load again.")
    >>> print("\\n".join(problem_lines(p)))
    a.csv:3:2: this is not a load [not-a-load]
        in column: load
        read:      '4l2'
        allowed:   a number, '>440'
        do:        Type the load again.
    """
    lines = [f"{_visible(_where(problem))}: {_visible(problem.message)} [{problem.code}]"]
    if problem.column_name is not None:
        place = "key:      " if problem.file.endswith(".toml") else "in column:"
        lines.append(f"    {place} {_visible(problem.column_name)}")
    if problem.read is not None:
        lines.append(f"    read:      '{_visible(problem.read)}'")
    if problem.allowed is not None:
        lines.append(f"    allowed:   {problem.allowed}")
    if problem.do is not None:
        lines.append(f"    do:        {problem.do}")
    return tuple(lines)


def problems_text(problems: Iterable[Problem]) -> str:
    """Return all problems as one text, with how many there are at the end."""
    found = tuple(problems)
    lines = [line for problem in found for line in problem_lines(problem)]
    count = "1 problem" if len(found) == 1 else f"{len(found)} problems"
    return "\n".join([*lines, f"{count} found; nothing was reckoned."])
