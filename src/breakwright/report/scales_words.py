"""Which scale runs out and how often, what to buy, which piece would fit, what a reading misses."""

from collections.abc import Sequence

from breakwright.report.foretelling_numbers import (
    chance_percent,
    joined,
    rounded_percent,
    size_text,
)
from breakwright.report.numbers import NBSP, LoadFormat, load_format
from breakwright.report.passage import Line, Passage, care, danger, plain
from breakwright.report.table_view import TableView
from breakwright.report.terms import Term
from breakwright.report.verdict_words import quoted
from breakwright.rig.scale_findings import (
    Buy,
    FitMiss,
    FittingPiece,
    GroupRange,
    How,
    ScaleSet,
    ScaleView,
    ShareOrigin,
)
from breakwright.usecases.scales_result import ScalesResult

__all__ = ["scales_format", "scales_passages"]

_TOO_OFTEN = 0.10
_OFTEN = 0.01


def scales_format(result: ScalesResult) -> LoadFormat:
    """Return the one way in which all loads of a check of scales are written."""
    limits = [one.limit for one in result.sets]
    loads = [buy.load for one in result.sets for buy in one.buy]
    return load_format([*limits, *loads, *(buy.load for buy in result.buy_one)], result.unit)


def scales_passages(result: ScalesResult) -> tuple[Passage, ...]:
    """Return the passages: each set of scales, and which piece would fit the one in use."""
    form = scales_format(result)
    if not result.sets:
        lines = tuple(plain(_buy_line(buy, form)) for buy in result.buy_one)
        return (
            Passage(
                "scales",
                "Which scale is needed",
                plain("The study names no scale, so this says what one would need."),
                lines,
            ),
        )
    passages = [
        _set_passage(one, form, number=i, is_main=i == result.main)
        for i, one in enumerate(result.sets)
    ]
    if result.main is None:
        passages[0] = _with_question(passages[0])
    fit = _fit_passage(result.fitting, form)
    return (*passages, *([fit] if fit else []))


def _with_question(passage: Passage) -> Passage:
    words = care(
        "Nobody said whether the scales share the load or are used one at a time: give 'sharing' "
        "in study.toml."
    )
    return Passage(
        passage.key,
        passage.title,
        passage.headline,
        (words, *passage.lines),
        passage.todo,
        passage.tables,
        passage.terms,
    )


def _names(one: ScaleSet) -> str:
    return joined([quoted(scale.name) for scale in one.scales])


def _set_passage(one: ScaleSet, form: LoadFormat, *, number: int, is_main: bool) -> Passage:
    key = "scales" if is_main or number == 0 else f"scales-{number + 1}"
    how = "sharing the load" if one.how is How.SHARED else "bearing the whole load"
    tables = []
    if any(group.chance is not None for group in one.groups):
        tables.append(_range_table(one.groups, key))
    tables.append(_scale_table(one.scales, form, key))
    return Passage(
        key,
        f"The scales: {_names(one)}, {how}",
        _set_headline(one, form),
        (*_set_lines(one, form), *_reading_lines(one, form)),
        todo=_set_todo(one, form),
        tables=tuple(tables),
        terms=(
            Term(
                "Stronger than the scales read",
                "over range",
                "The doubt about the foretelling is counted in, not only the scatter of the "
                "pieces; so the plan below, which knows only the scatter, expects fewer.",
            ),
            Term(
                "Read for certain up to",
                "",
                "The load on the piece up to which every scale still shows a number, with its "
                "largest share, its tare and its lever counted in.",
            ),
        ),
    )


def _worst(groups: Sequence[GroupRange]) -> GroupRange | None:
    known = [group for group in groups if group.chance is not None]
    return max(known, key=lambda g: g.chance or 0.0) if known else None


def _set_headline(one: ScaleSet, form: LoadFormat) -> Line:
    if one.limit is None:
        return care(f"Nothing says how far {_names(one)} can read: give the capacity.")
    reach = f"{_names(one)} read{'s' if len(one.scales) == 1 else ''} up to {form.load(one.limit)}"
    worst = _worst(one.groups)
    if worst is None or worst.chance is None:
        return plain(f"{reach} for certain.")
    words = (
        f"{reach} for certain; of the pieces of {quoted(worst.group)}, "
        f"{chance_percent(worst.chance)} are stronger than that."
    )
    if worst.chance > _TOO_OFTEN:
        return danger(f"Too small. {words}")
    return care(words) if worst.chance > _OFTEN else plain(words)


def _set_lines(one: ScaleSet, form: LoadFormat) -> list[Line]:
    lines = []
    for group in one.groups:
        if group.expected is not None and group.pieces is not None and group.expected >= 0.5:
            lines.append(
                care(
                    f"Of {group.pieces} pieces of {quoted(group.group)}, about "
                    f"{group.expected:.0f} would end as 'at least'."
                    if group.expected >= 1.0
                    else f"Of {group.pieces} pieces of {quoted(group.group)}, one may well end as "
                    "'at least'."
                )
            )
    if one.how is How.SHARED and one.first_out is not None:
        lines.append(plain(f"{quoted(one.first_out)} runs out first."))
    if one.origin is ShareOrigin.EQUAL and one.how is How.SHARED:
        lines.append(
            care(
                "Where the scales stand is not said, so equal shares were taken: give scale_at_mm "
                "and load_at_mm under [layout]."
            )
        )
    if one.best_at is not None and one.best_limit is not None and one.limit is not None:
        gain = one.best_limit - one.limit
        if gain > 0.01 * one.limit and one.load_at is not None:
            lines.append(
                plain(
                    f"The load comes on at {size_text(one.load_at, 'mm')}; at "
                    f"{size_text(one.best_at, 'mm')} the set would read up to "
                    f"{form.load(one.best_limit)}."
                )
            )
    if one.doubled_error is not None and one.doubled_error > 0.005:
        lines.append(
            plain(
                "Read both scales and add them. One scale read and doubled may be off by "
                f"{rounded_percent(one.doubled_error)}."
            )
        )
    if one.limit_if_two is not None and one.larger_share is not None:
        lines.append(
            plain(
                f"Two like it side by side, with up to {rounded_percent(one.larger_share)} of the "
                f"load on one, would read up to {form.load(one.limit_if_two)}."
            )
        )
    return lines


def _reading_lines(one: ScaleSet, form: LoadFormat) -> list[Line]:
    lines = []
    if one.missed is not None and one.missed > 0.0:
        lines.append(
            plain(
                "Between two numbers on the display the load may rise by "
                f"{_small(one.missed, form)}: so much of the peak may go unseen."
            )
        )
    if one.relative_width > 0.002:
        lines.append(
            plain(
                "Levers, friction and the checks with known weights leave each load open by "
                f"±{NBSP}{rounded_percent(one.relative_width)}."
            )
        )
    if one.resolution_error > 0.0:
        lines.append(
            plain(
                f"The steps of the display make a reading uncertain by "
                f"{_small(one.resolution_error, form)} (standard uncertainty)."
            )
        )
    unverified = [g for g in one.groups if (g.chance_unverified or 0.0) > 0.05]
    checked = [scale.verified for scale in one.scales if scale.verified is not None]
    if unverified and checked:
        worst = max(unverified, key=lambda g: g.chance_unverified or 0.0)
        lines.append(
            care(
                f"The scales were checked up to {form.load(min(checked))} each; "
                f"{chance_percent(worst.chance_unverified or 0.0)} of the pieces of "
                f"{quoted(worst.group)} load one of them beyond that. Check them with a heavier "
                "weight."
            )
        )
    elif not checked:
        lines.append(
            care("No scale was checked with a known weight: hang one on it and write both down.")
        )
    return lines


def _small(newtons: float, form: LoadFormat) -> str:
    return load_format([newtons], form.unit).load(newtons)


def _set_todo(one: ScaleSet, form: LoadFormat) -> tuple[str, ...]:
    worst = _worst(one.groups)
    if worst is None or (worst.chance or 0.0) <= _OFTEN:
        return ()
    return tuple(_set_buy_line(one, buy, form) for buy in one.buy)


def _set_buy_line(one: ScaleSet, buy: Buy, form: LoadFormat) -> str:
    if len(set(buy.each)) == 1 or len(buy.each) == 1:
        each = form.load(max(buy.each))
        who = "Scales" if len(one.scales) > 1 else "A scale"
        need = f"{who} of {each}{' each' if len(one.scales) > 1 else ''} or more"
    else:
        need = joined(
            [
                f"{quoted(scale.name)} of {form.load(load)} or more"
                for scale, load in zip(one.scales, buy.each, strict=True)
            ]
        )
    often = chance_percent(buy.chance)
    return f"{need} would run out on at most {often} of the pieces{_offer(buy, form)}."


def _offer(buy: Buy, form: LoadFormat) -> str:
    if not buy.offers:
        return ""
    if buy.offer is None:
        return "; none of those you named is large enough"
    return f"; of those you named, {form.load(buy.offer)} is the smallest that will do"


def _buy_line(buy: Buy, form: LoadFormat) -> str:
    return (
        f"One scale that bears the whole load needs {form.load(max(buy.each))} or more to run out "
        f"on at most {chance_percent(buy.chance)} of the pieces{_offer(buy, form)}."
    )


def _range_table(groups: Sequence[GroupRange], key: str) -> TableView:
    rows = [
        (
            group.group,
            _chance(group),
            "–"
            if group.expected is None or group.pieces is None
            else f"{group.expected:.1f} of {group.pieces}",
        )
        for group in groups
    ]
    head = ("Group", "Stronger than the scales read", "Expected to be capped")
    return TableView.of(f"{key}-range", "How often the scales run out", head=head, rows=rows)


def _chance(group: GroupRange) -> str:
    if group.chance is None:
        return "not known"
    high = chance_percent(group.chance)
    if group.chance_low is None:
        return high
    low = chance_percent(group.chance_low)
    return high if low == high else f"{low} to {high}"


def _scale_table(scales: Sequence[ScaleView], form: LoadFormat, key: str) -> TableView:
    rows = []
    for scale in scales:
        low, _, high = scale.share
        share = (
            rounded_percent(high)
            if abs(high - low) < 0.0005
            else f"{rounded_percent(low)} to {rounded_percent(high)}"
        )
        rows.append(
            (
                scale.name,
                form.load(scale.usable),
                share,
                form.load(scale.limit),
                form.load(scale.verified, missing="never checked"),
            )
        )
    head = ("Scale", "Usable range", "Its share", "Read for certain up to", "Checked up to")
    return TableView.of(f"{key}-each", "Scale by scale", head=head, rows=rows)


_MISS = {
    FitMiss.NO_VALUE: "no value that is allowed stays in range",
    FitMiss.BREAKS_OTHERWISE: "in range, but then it breaks another way too often",
    FitMiss.DIFFERS_BY_GROUP: "differs by group: it is what you compare",
    FitMiss.NO_EFFECT: "has no say in the strength",
}


def _fit_passage(fitting: Sequence[FittingPiece], form: LoadFormat) -> Passage | None:
    """Return which piece fits the scales; what has no say in the strength is left out."""
    told = [f for f in fitting if f.why is not FitMiss.NO_EFFECT]
    if not told:
        return None
    rows = []
    for fit in told:
        side = (
            "" if fit.direction is None else " or less" if fit.direction == "down" else " or more"
        )
        rows.append(
            (
                f"{fit.meaning} ({fit.key})",
                size_text(fit.now, fit.unit),
                rounded_percent(fit.chance),
                _MISS[fit.why]
                if fit.then is None and fit.why is not None
                else f"{size_text(fit.then or 0.0, fit.unit)}{side}",
                form.load(fit.median),
            )
        )
    can = [f for f in told if f.then is not None]
    as_is = can and all(f.then == f.now for f in can)
    if not can:
        words = "No single change of the piece makes it fit these scales; change the scales."
    elif as_is:
        words = "The piece as planned fits the scales."
    else:
        words = (
            "If you would rather keep the scales: make the piece as below, for every group alike. "
            "Break two or three of it first and plan anew from them."
        )
    head = ("Of the piece", "Now", "To stay in range", "Make it", "Then about")
    return Passage(
        "fitting",
        "Which piece fits the scales",
        plain(words),
        tables=(TableView.of("fitting", "The piece that fits", head=head, rows=rows),),
    )
