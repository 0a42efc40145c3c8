"""Whether the parts of a study are possible: their kinds, materials and numbers, as problems."""

import difflib

from breakwright.model.errors import Problem
from breakwright.model.part import Part
from breakwright.model.study import Study

__all__ = ["part_check_problems"]

_KEYS_OF_ALL = ("count", "share", "tested", "breaks", "own_tests", "kind", "name")


def part_check_problems(study: Study, *, file: str) -> tuple[Problem, ...]:
    """Return everything that is wrong with the study's parts, with the lines that they remember.

    ``file`` is the ``study.toml`` that they were read from.
    """
    from breakwright.strength.part_problems import part_problems

    found = []
    for part in study.parts:
        for problem in part_problems(part):
            key = problem.key
            found.append(
                Problem(
                    code="bad-part" if key != "material" else "unknown-material",
                    message=problem.message,
                    file=file,
                    line=_line(part, key),
                    column_name=f"part «{part.name}»" + (f", {key}" if key else ""),
                    read=problem.read,
                    allowed=problem.allowed,
                    do=_sentence(_meant(key) or problem.do or "correct this part"),
                )
            )
    return tuple(sorted(found, key=lambda p: p.line or 0))


def _line(part: Part, key: str | None) -> int | None:
    return part.lines.get(key or "") or part.lines.get("") or None


def _meant(key: str | None) -> str | None:
    """Name the key of every part that a stray key is a slip of; a kind cannot know those."""
    if key is None or key in _KEYS_OF_ALL:
        return None
    near = difflib.get_close_matches(key, _KEYS_OF_ALL, n=1, cutoff=0.75)
    return f"did you mean '{near[0]}'?" if near else None


def _sentence(text: str) -> str:
    whole = text if text[-1:] in "?.!" else f"{text}."
    return whole[:1].upper() + whole[1:]
