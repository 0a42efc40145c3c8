"""The tables of groups: what was tested, and how strong it was."""

from breakwright.report.missing_words import missing_words
from breakwright.report.numbers import LoadFormat, level_text, load_format, percent_text
from breakwright.report.table_view import TableView
from breakwright.usecases.result import Answer, FamilyFit, GroupResult

__all__ = ["count_table", "default_fit", "group_format", "group_name", "strength_table"]


def group_name(group: GroupResult) -> str:
    """Return the name, saying which group the others are compared with."""
    return f"{group.name} (reference)" if group.is_reference else group.name


def group_format(answer: Answer) -> LoadFormat:
    """Return the one way in which the loads of all groups are written."""
    return load_format(
        [
            load
            for group in answer.groups
            for load in (group.median.estimate, group.lowest, group.highest)
        ],
        answer.unit,
    )


def default_fit(group: GroupResult, answer: Answer) -> FamilyFit | None:
    """Return the group's fit of the family that the answer rests on."""
    return next((fit for fit in group.fits if fit.family == answer.method.family), None)


def count_table(answer: Answer) -> TableView:
    """Return how many pieces each group had, and how their readings ended."""
    form = group_format(answer)
    rows = [
        (
            group_name(group),
            str(group.pieces),
            str(group.void),
            str(group.exact + group.between + group.at_most),
            str(group.at_least),
            str(group.wrong_way),
            form.load(group.lowest),
            form.load(group.highest),
        )
        for group in answer.groups
    ]
    head = (
        "Group",
        "Pieces",
        "Left out",
        "Read until it broke",
        "At least",
        "of these, broke another way",
        "Lowest reading",
        "Highest reading",
    )
    return TableView.of("counts", "What was tested", head=head, rows=rows)


def strength_table(answer: Answer) -> TableView:
    """Return each group's median, scatter and low end."""
    form = group_format(answer)
    rows = []
    for group in answer.groups:
        fit = default_fit(group, answer)
        rows.append(
            (
                group_name(group),
                _median(group, form),
                _limits(group, form),
                percent_text(None if fit is None else fit.cv),
                form.load(group.p5_lower_75),
                form.load(group.p5_lower_95),
            )
        )
    level = level_text(answer.method.level)
    head = (
        "Group",
        "Median",
        f"{level} interval of the median",
        "Scatter",
        f"19 of 20 hold at least ({level_text(0.75)} sure)",
        f"19 of 20 hold at least ({level_text(0.95)} sure)",
    )
    return TableView.of("strength", "How strong each group was", head=head, rows=rows)


def _median(group: GroupResult, form: LoadFormat) -> str:
    if group.median.estimate is not None:
        return form.load(group.median.estimate)
    if group.at_least_median is not None and group.at_least_median.lower is not None:
        sure = level_text(group.at_least_median.level)
        return f"at least {form.load(group.at_least_median.lower)} ({sure} sure)"
    return f"none: {missing_words(next((f.missing for f in group.fits if f.missing), None))}"


def _limits(group: GroupResult, form: LoadFormat) -> str:
    if group.median.lower is None and group.median.upper is None:
        return "none"
    return form.between(group.median.lower, group.median.upper)
