"""The one place where a verdict becomes sentences: what was found, and what was not."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from breakwright.report.missing_words import missing_words
from breakwright.report.numbers import (
    NBSP,
    chance_text,
    count_text,
    level_text,
    load_format,
    p_text,
    percent_change,
    ratio_limits,
    ratio_text,
    times_text,
)
from breakwright.usecases.result import Answer, Comparison, GroupResult, VerdictKind

__all__ = ["VerdictWords", "quoted", "short_verdict", "verdict_words"]


@dataclass(frozen=True, slots=True)
class VerdictWords:
    """``headline`` answers; ``support`` gives the number behind it; ``must_not``
    lists what it does not show."""

    headline: str
    support: str
    must_not: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Case:
    """All that a sentence about one comparison may need."""

    answer: Answer
    comparison: Comparison
    group: GroupResult
    reference: GroupResult

    @property
    def kind(self) -> VerdictKind:
        return self.comparison.verdict.kind

    @property
    def b(self) -> str:
        return quoted(self.group.name)

    @property
    def a(self) -> str:
        return quoted(self.reference.name)

    @property
    def marks(self) -> tuple[float, ...]:
        worth = self.answer.worth
        return (1.0,) if worth is None else (1.0, worth, 1.0 / worth)

    @property
    def more_than_matters(self) -> str:
        worth = self.answer.worth
        return "more than matters" if worth is None else f"more than the {worth:g} that matters"

    def limits(self) -> str:
        verdict = self.comparison.verdict
        return ratio_limits(verdict.lower, verdict.upper, apart_from=self.marks)

    def interval(self) -> str:
        level = level_text(self.comparison.verdict.level)
        return f"{level} interval {self.limits()}"

    def held(self) -> str:
        """The plain fact: how much of the reference's load the group held."""
        ratio = self.comparison.verdict.ratio
        if ratio is None:
            return f"{self.b} against {self.a} ({self.interval()})"
        return f"{self.b} held {times_text(ratio)} as much as {self.a} ({self.interval()})"


def quoted(name: str) -> str:
    """Return a group's or piece's name in guillemets, which no sheet uses for anything else."""
    return f"«{name}»"


def _stronger_matters(case: _Case) -> str:
    return f"{case.held()}: stronger, by {case.more_than_matters}."


def _stronger(case: _Case) -> str:
    if case.answer.worth is None:
        return f"{case.held()}: stronger."
    return f"{case.held()}: stronger; whether by {case.more_than_matters} is not settled."


def _weaker(case: _Case) -> str:
    if case.answer.worth is None:
        return f"{case.held()}: weaker."
    return f"{case.held()}: weaker; whether by as much as matters is not settled."


def _weaker_matters(case: _Case) -> str:
    worth = case.answer.worth
    below = "what matters"
    if worth is not None:
        below = f"the {ratio_text(1.0 / worth)} at which it begins to matter"
    return f"{case.held()}: weaker, below {below}."


def _no_difference(case: _Case) -> str:
    worth = case.answer.worth
    inside = ""
    if worth is not None:
        inside = f", inside the {ratio_text(1.0 / worth)} to {worth:g} that would not matter"
    level = level_text(case.comparison.verdict.level)
    return (
        f"No difference that matters: {case.b} held {case.limits()} times as much as "
        f"{case.a} ({level} interval){inside}."
    )


def _not_settled(case: _Case) -> str:
    verdict = case.comparison.verdict
    if verdict.lower is None and verdict.upper is None:
        possible = "the readings exclude no ratio at all"
    elif verdict.upper is None:
        least = ratio_text(verdict.lower or 0.0, apart_from=case.marks)
        possible = f"anything from {least}{NBSP}times up, without a limit, is still possible"
    elif verdict.lower is None:
        most = ratio_text(verdict.upper, apart_from=case.marks)
        possible = f"anything up to {most}{NBSP}times is still possible"
    else:
        possible = f"anything from {case.limits()} times is still possible"
    level = level_text(verdict.level)
    return f"Not settled whether {case.b} is stronger than {case.a}: {possible} ({level} interval)."


def _outlasted(group: GroupResult) -> str:
    """Say in what way every piece of a group ended without giving its strength."""
    name = quoted(group.name)
    if group.used == 1:
        who, verb = f"The one piece of {name}", "was"
    else:
        who, verb = f"All {count_text(group.used, 'piece', 'pieces')} of {name}", "were"
    if group.wrong_way == group.used:
        return f"{who} broke another way than the one that counts"
    if group.wrong_way == 0:
        return f"{who} outlasted the scale"
    return f"{who} {verb} still holding at the last reading, or broke another way"


def _wholly_capped(group: GroupResult) -> bool:
    return group.used > 0 and group.at_least == group.used


def _only_lower(case: _Case) -> str:
    lower = case.comparison.verdict.lower
    level = level_text(case.comparison.verdict.level)
    opening = (
        _outlasted(case.group)
        if _wholly_capped(case.group)
        else f"The readings of {case.b} set no upper limit"
    )
    if lower is None:
        return f"{opening}: how they compare with {case.a}, this test cannot say."
    stronger = ""
    if lower > 1.0:
        worth = case.answer.worth
        stronger = ", so stronger"
        if worth is not None and lower > worth:
            stronger += f" by {case.more_than_matters}"
    least = f"at least {ratio_text(lower, apart_from=case.marks)}{NBSP}times"
    return (
        f"{opening}: {least} as strong as {case.a} ({level} confidence){stronger}; "
        "how much more, this test cannot say."
    )


def _only_upper(case: _Case) -> str:
    upper = case.comparison.verdict.upper
    level = level_text(case.comparison.verdict.level)
    opening = (
        _outlasted(case.reference)
        if _wholly_capped(case.reference)
        else f"The readings of {case.a} set no upper limit"
    )
    if upper is None:
        return f"{opening}: how {case.b} compares, this test cannot say."
    weaker = ""
    if upper < 1.0:
        worth = case.answer.worth
        weaker = ", so weaker"
        if worth is not None and upper < 1.0 / worth:
            weaker += " by more than matters"
    most = f"at most {ratio_text(upper, apart_from=case.marks)}{NBSP}times"
    return (
        f"{opening}: {case.b} is {most} as strong ({level} confidence){weaker}; "
        "how much less, this test cannot say."
    )


def _no_answer(case: _Case) -> str:
    opening = f"No answer possible for {case.b} against {case.a}"
    if _wholly_capped(case.group) and _wholly_capped(case.reference):
        return f"{opening}: every piece of both outlasted what could be read."
    for group in (case.reference, case.group):
        if group.used == 0:
            return f"{opening}: no piece of {quoted(group.name)} is left to reckon with."
    return f"{opening}: {missing_words(case.comparison.ratio.missing)}."


_HEADLINES: Mapping[VerdictKind, Callable[[_Case], str]] = MappingProxyType(
    {
        VerdictKind.STRONGER_MATTERS: _stronger_matters,
        VerdictKind.STRONGER: _stronger,
        VerdictKind.WEAKER: _weaker,
        VerdictKind.WEAKER_MATTERS: _weaker_matters,
        VerdictKind.NO_DIFFERENCE: _no_difference,
        VerdictKind.NOT_SETTLED: _not_settled,
        VerdictKind.ONLY_LOWER_LIMIT: _only_lower,
        VerdictKind.ONLY_UPPER_LIMIT: _only_upper,
        VerdictKind.NO_ANSWER: _no_answer,
    }
)

_SHORT: Mapping[VerdictKind, str] = MappingProxyType(
    {
        VerdictKind.STRONGER_MATTERS: "stronger, by more than matters",
        VerdictKind.STRONGER: "stronger",
        VerdictKind.WEAKER: "weaker",
        VerdictKind.WEAKER_MATTERS: "weaker, by more than matters",
        VerdictKind.NO_DIFFERENCE: "no difference that matters",
        VerdictKind.NOT_SETTLED: "not settled",
        VerdictKind.ONLY_LOWER_LIMIT: "only a lower limit",
        VerdictKind.ONLY_UPPER_LIMIT: "only an upper limit",
        VerdictKind.NO_ANSWER: "no answer possible",
    }
)


def short_verdict(kind: VerdictKind) -> str:
    """Return the verdict in two or three words, for a cell of a table."""
    return _SHORT[kind]


def _more_pieces(case: _Case) -> str:
    verdict = case.comparison.verdict
    near = ""
    if verdict.ratio is not None:
        near = f", if the true ratio is near {ratio_text(verdict.ratio)}"
    if verdict.more_pieces_capped:
        least = verdict.more_pieces
        many = "Very many more pieces" if least is None else f"More than {least} more pieces"
        return f"{many} in each group would be needed to settle it four times in five{near}."
    if verdict.more_pieces is None:
        return "How many more pieces would settle it cannot be reckoned from these readings."
    count = count_text(verdict.more_pieces, "more piece", "more pieces")
    return f"About {count} in each group would settle it four times in five{near}."


def _chance(case: _Case) -> str:
    chance = case.comparison.chance
    if chance.estimate is None:
        return ""
    limits = ""
    if chance.lower is not None and chance.upper is not None:
        low, high = chance_text(chance.lower), chance_text(chance.upper)
        limits = f" ({level_text(chance.level)} interval {low} to {high})"
    return (
        f"Take one piece of each: the one of {case.b} wins with a chance of "
        f"{chance_text(chance.estimate)}{limits}."
    )


def _median_at_least(case: _Case) -> str:
    capped = case.group if case.kind is VerdictKind.ONLY_LOWER_LIMIT else case.reference
    bound = capped.at_least_median
    if bound is None or bound.lower is None:
        return ""
    form = load_format([bound.lower], case.answer.unit)
    return (
        f"Half of all pieces like {quoted(capped.name)} hold at least {form.load(bound.lower)} "
        f"({level_text(bound.level)} confidence)."
    )


def _several(case: _Case) -> str:
    k = len(case.answer.comparisons)
    if k < 2:
        return ""
    p = case.comparison.verdict.p_holm
    tail = "" if p is None else f" Corrected p-value: {p_text(p)}."
    return (
        f"The limits are wide enough for all {k} comparisons with {case.a} together "
        f"(Holm's correction).{tail}"
    )


def _support(case: _Case) -> str:
    parts: list[str] = []
    verdict = case.comparison.verdict
    match case.kind:
        case VerdictKind.NOT_SETTLED:
            parts.append(_more_pieces(case))
        case VerdictKind.ONLY_LOWER_LIMIT | VerdictKind.ONLY_UPPER_LIMIT:
            parts.append(_median_at_least(case))
        case VerdictKind.NO_ANSWER:
            parts.append("A scale that reaches further would tell, or more pieces read to the end.")
        case _:
            if verdict.ratio is not None:
                parts.append(f"That is {percent_change(verdict.ratio)} by the best estimate.")
            parts.append(_chance(case))
    parts.append(_several(case))
    return " ".join(part for part in parts if part)


def _must_not(case: _Case) -> tuple[str, ...]:
    verdict = case.comparison.verdict
    lines: list[str] = []
    match case.kind:
        case VerdictKind.STRONGER_MATTERS | VerdictKind.WEAKER_MATTERS:
            lines.append("That every piece of one group beats every piece of the other.")
        case VerdictKind.STRONGER | VerdictKind.WEAKER:
            lines.append("That the difference is large enough to matter in use.")
        case VerdictKind.NO_DIFFERENCE:
            lines.append(
                f"That the two are equal: a difference within {case.limits()} times remains "
                "possible."
            )
        case VerdictKind.NOT_SETTLED:
            if verdict.still_possible is None:
                size = "a difference without a limit is still possible"
            else:
                text = ratio_text(verdict.still_possible, apart_from=case.marks)
                size = f"a ratio as far from 1 as {text} is still possible"
            lines.append(f"That the two are alike: {size}.")
            lines.append("That the one with the higher middle value is the stronger.")
        case VerdictKind.ONLY_LOWER_LIMIT | VerdictKind.ONLY_UPPER_LIMIT:
            lines.append("How large the ratio is: the readings that would tell ran out.")
            lines.append("An average of the capped readings: they are limits, not strengths.")
        case VerdictKind.NO_ANSWER:
            lines.append("That one is the stronger, or that the two are alike.")
    lines.append(
        "Anything about other stock, sizes, makers or ways of loading than those tested here, or "
        "about why the pieces differ."
    )
    return tuple(lines)


def verdict_words(answer: Answer, comparison: Comparison) -> VerdictWords:
    """Return what may and what must not be said of one comparison of ``answer``.

    Raises KeyError if the comparison names a group that the answer does not hold.
    """
    groups = {group.name: group for group in answer.groups}
    case = _Case(answer, comparison, groups[comparison.group], groups[comparison.reference])
    return VerdictWords(_HEADLINES[case.kind](case), _support(case), _must_not(case))
