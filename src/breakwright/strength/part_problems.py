"""What is wrong with a part as a person wrote it, each problem with what is allowed."""

from collections.abc import Iterable

from breakwright.model.part import Part
from breakwright.strength.catalogue import kinds
from breakwright.strength.gap_problems import gaps, material_problems
from breakwright.strength.gathering import Collected, applicable, collect
from breakwright.strength.key_problems import (
    allowed_numbers,
    group_keys,
    stray_keys,
    wrong_values,
)
from breakwright.strength.mechanism import Kind
from breakwright.strength.names import same_or_near
from breakwright.strength.own_tests import OWN_TESTS_KIND, own_tests_problem
from breakwright.strength.part_problem import PartProblem, did_you_mean, listed

__all__ = ["PartProblem", "part_problems"]


def part_problems(part: Part) -> tuple[PartProblem, ...]:
    """Return everything wrong with ``part`` and with each group's pieces of it, once each."""
    kind = kinds().get(part.kind)
    if kind is None:
        return (_unknown_kind(part),)
    if part.kind == OWN_TESTS_KIND:
        said = own_tests_problem(part.own_tests)
        return () if said is None else (PartProblem(part.name, "own_tests", said),)
    found = [*stray_keys(part, kind), *group_keys(part, kind)]
    for group in (None, *part.by_group):
        collected = collect(part, kind, group=group)
        wrong = list(wrong_values(part, collected, group))
        found += wrong
        found += material_problems(part, collected)
        found += gaps(part, collected)
        if not wrong:  # a kind's own check may rely on values within their range
            found += _kinds_own_check(part, collected)
    found += _breaks(part, kind)
    once: dict[tuple[str | None, str | None, str], PartProblem] = {}
    for problem in found:
        once.setdefault((problem.key, problem.read, problem.message), problem)
    return tuple(once.values())


def _unknown_kind(part: Part) -> PartProblem:
    near = same_or_near(part.kind, kinds())
    return PartProblem(
        part.name,
        "kind",
        f"no kind of part is called {part.kind!r}",
        read=part.kind,
        allowed=listed(kinds()),
        do=did_you_mean(near) or "choose one of the kinds listed",
    )


def _kinds_own_check(part: Part, collected: Collected) -> Iterable[PartProblem]:
    if collected.kind.check is None:
        return
    keys = {*allowed_numbers(collected.kind), *collected.kind.words}
    for said in collected.kind.check(collected.known.numbers, collected.known.words):
        first = said.split(maxsplit=1)[0]
        key = first if first in keys else None
        yield PartProblem(part.name, key, said, do="change the sizes or words of the part")


def _breaks(part: Part, kind: Kind) -> Iterable[PartProblem]:
    if part.breaks is None:
        return
    collected = collect(part, kind, group=None)
    names = tuple(dict.fromkeys(m.name for m in applicable(collected)))
    if part.breaks not in names:
        yield PartProblem(
            part.name,
            "breaks",
            f"a {kind.name!r} like this does not break by {part.breaks!r}",
            read=part.breaks,
            allowed=listed(names),
            do=did_you_mean(same_or_near(part.breaks, names)) or "choose one of those listed",
        )
