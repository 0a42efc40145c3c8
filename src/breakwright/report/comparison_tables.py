"""The tables of one comparison: the ratio, and what it becomes when it is looked at otherwise."""

from breakwright.report.group_tables import group_format
from breakwright.report.missing_words import missing_words
from breakwright.report.numbers import (
    chance_text,
    level_text,
    p_text,
    ratio_limits,
    ratio_text,
)
from breakwright.report.table_view import TableView
from breakwright.report.verdict_words import quoted, short_verdict
from breakwright.usecases.result import Answer, Comparison, RatioMethod, RatioResult

__all__ = [
    "adjusted_table",
    "alternative_table",
    "family_table",
    "ratio_table",
    "session_table",
]

_METHODS = {
    RatioMethod.CALIBRATED: "calibrated by simulation",
    RatioMethod.LIKELIHOOD: "likelihood ratio",
    RatioMethod.QUICK: "quick",
    RatioMethod.SIGN: "counting pieces above and below",
    RatioMethod.REGRESSION: "regression",
    RatioMethod.NONE: "none",
}
_ALTERNATIVES = {
    "wrong-way-counts": "breaks of another kind taken as strengths",
    "right-way-only": "pieces that broke another way dropped",
    "void-back": "left-out pieces put back",
    "ceiling": "readings at the top taken as 'at least'",
    "ceiling-as-read": "readings at the top taken as strengths",
    "per-area": "load divided by the stated area",
}
_FAMILIES = {
    "lognormal": "lognormal",
    "weibull": "Weibull",
    "loglogistic": "loglogistic",
    "normal": "normal",
}
_MOST_NAMES = 12


def _ratio(ratio: RatioResult) -> str:
    if ratio.ratio is not None:
        return ratio_text(ratio.ratio)
    if ratio.lower is None and ratio.upper is None:
        return f"none: {missing_words(ratio.missing)}"
    return "no estimate"


def _limits(ratio: RatioResult) -> str:
    if ratio.lower is None and ratio.upper is None:
        return "none"
    return ratio_limits(ratio.lower, ratio.upper)


def _key(answer: Answer, comparison: Comparison, name: str) -> str:
    return f"{name}-{answer.comparisons.index(comparison) + 1}"


def _pair(comparison: Comparison) -> str:
    return f"{quoted(comparison.group)} against {quoted(comparison.reference)}"


def family_name(family: str) -> str:
    """Return a family's name as it is written in a sentence."""
    return _FAMILIES.get(family, family)


def ratio_table(answer: Answer) -> TableView:
    """Return all that is known of each ratio: a row a fact, a column a comparison."""
    facts = [_ratio_facts(comparison) for comparison in answer.comparisons]
    names = list(facts[0])
    if len(facts) == 1:
        # With one comparison there is nothing else to allow for.
        names.remove(_SHARED)
    rows = [(name, *(one[name] for one in facts)) for name in names]
    head = ["Fact", *(_pair(comparison) for comparison in answer.comparisons)]
    return TableView.of("ratios", "Ratio of medians", head=head, rows=rows)


_SHARED = "Interval allowing for all comparisons"


def _ratio_facts(comparison: Comparison) -> dict[str, str]:
    ratio, verdict, chance = comparison.ratio, comparison.verdict, comparison.chance
    beats = chance_text(chance.estimate)
    if chance.estimate is not None:
        beats += f" ({chance_text(chance.lower)} to {chance_text(chance.upper)})"
    return {
        "Times as much": _ratio(ratio),
        "Interval": f"{_limits(ratio)} ({level_text(ratio.level)}, {_METHODS[ratio.method]})",
        _SHARED: f"{ratio_limits(verdict.lower, verdict.upper)} ({level_text(verdict.level)})",
        "Sure it is stronger": chance_text(ratio.sure_stronger),
        "Sure it is weaker": chance_text(ratio.sure_weaker),
        "One piece beats one of the reference": beats,
        "Verdict": short_verdict(verdict.kind),
    }


def family_table(answer: Answer, comparison: Comparison) -> TableView:
    """Return the comparison under each shape of scatter, side by side."""
    form = group_format(answer)
    sides = [
        next(group for group in answer.groups if group.name == name)
        for name in (comparison.reference, comparison.group)
    ]
    rows = []
    for ratio in comparison.families:
        medians = [
            next((fit.median for fit in side.fits if fit.family == ratio.family), None)
            for side in sides
        ]
        rows.append(
            (
                family_name(ratio.family),
                *(form.load(median) for median in medians),
                _ratio(ratio),
                _limits(ratio),
            )
        )
    head = (
        "Shape of scatter",
        f"Median of {quoted(comparison.reference)}",
        f"Median of {quoted(comparison.group)}",
        "Times as much",
        "Interval",
    )
    caption = f"{_pair(comparison)}, with three shapes of scatter"
    return TableView.of(_key(answer, comparison, "families"), caption, head=head, rows=rows)


def alternative_table(answer: Answer, comparison: Comparison) -> TableView:
    """Return the comparison under other readings of the data, the main one first."""
    ratio = comparison.ratio
    main = (
        "as answered above",
        "",
        _ratio(ratio),
        _limits(ratio),
        short_verdict(comparison.verdict.kind),
    )
    rows = [
        (
            _ALTERNATIVES.get(other.code, other.code),
            _names(other.pieces),
            _ratio(other.ratio),
            _limits(other.ratio),
            short_verdict(other.verdict),
        )
        for other in comparison.alternatives
    ]
    head = ("How the data are read", "Pieces it concerns", "Times as much", "Interval", "Verdict")
    caption = f"{_pair(comparison)}, if the data are read otherwise"
    key = _key(answer, comparison, "alternatives")
    return TableView.of(key, caption, head=head, rows=[main, *rows])


def _names(pieces: tuple[str, ...]) -> str:
    if len(pieces) <= _MOST_NAMES:
        return ", ".join(pieces)
    return f"{', '.join(pieces[:_MOST_NAMES])} and {len(pieces) - _MOST_NAMES} more"


def adjusted_table(answer: Answer, comparison: Comparison) -> TableView:
    """Return the ratio with what was recorded held equal."""
    rows = []
    for adjusted in comparison.adjusted:
        slopes = ", ".join(
            f"{name}: {ratio_text(slope)} times" for name, slope in adjusted.slopes.items()
        )
        rows.append(
            (
                ", ".join(adjusted.on),
                str(adjusted.pieces),
                _ratio(adjusted.ratio),
                _limits(adjusted.ratio),
                slopes,
            )
        )
    head = (
        "Held equal",
        "Pieces",
        "Times as much",
        "Interval",
        "Load for one standard deviation more",
    )
    caption = f"{_pair(comparison)}, with other differences held equal"
    return TableView.of(_key(answer, comparison, "adjusted"), caption, head=head, rows=rows)


def session_table(answer: Answer, comparison: Comparison) -> TableView | None:
    """Return the comparison session by session, or None where there was only one."""
    if comparison.sessions is None:
        return None
    rows = [
        (
            session.session,
            str(session.reference_pieces),
            str(session.pieces),
            _ratio(session.ratio),
            _limits(session.ratio),
        )
        for session in comparison.sessions.sessions
    ]
    head = (
        "Session",
        f"Pieces of {quoted(comparison.reference)}",
        f"Pieces of {quoted(comparison.group)}",
        "Times as much",
        "Interval",
    )
    p_value = comparison.sessions.p_value
    note = (
        "Whether the sessions agree cannot be tested."
        if p_value is None
        else f"Were the ratio the same in every session, sessions would differ at least this much "
        f"with probability {p_text(p_value)}."
    )
    key = _key(answer, comparison, "sessions")
    caption = f"{_pair(comparison)}, session by session"
    return TableView.of(key, caption, head=head, rows=rows, note=note)
