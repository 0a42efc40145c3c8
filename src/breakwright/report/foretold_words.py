"""What was foretold beside what was found: a small table, and a sentence a group."""

from breakwright.report.numbers import level_text, load_format
from breakwright.report.table_view import TableView
from breakwright.report.verdict_words import quoted
from breakwright.rig.findings import Origin
from breakwright.usecases.result import Answer, Foretold, GroupResult

__all__ = ["foretold_lines", "foretold_table"]

_FROM = {
    Origin.GIVEN: "stated",
    Origin.PREDICTED: "equation",
    Origin.PILOTS: "pilots",
    Origin.RATIO_GIVEN: "stated ratio",
    Origin.RATIO_EQUATION: "equation",
    Origin.RATIO_WORTH: "ratio worth knowing",
    Origin.SAME: "as the reference",
}


def foretold_table(answer: Answer) -> TableView | None:
    """Return each group's foretold range beside its measured median; None without any."""
    pairs = _pairs(answer)
    if not pairs:
        return None
    form = load_format([one.median for one, _ in pairs], answer.unit)
    rows = []
    for one, group in pairs:
        bound = group.median
        found = form.load(bound.estimate, missing="no estimate")
        limits = (
            "none"
            if bound.lower is None and bound.upper is None
            else form.between(bound.lower, bound.upper)
        )
        rows.append(
            (
                one.group,
                form.load(one.median),
                f"{form.number(one.p5)} to {form.load(one.p95)}",
                _FROM[one.origin],
                found,
                limits,
            )
        )
    level = level_text(answer.method.level)
    head = (
        "Group",
        "Foretold: at about",
        "Nine of ten pieces between",
        "Foretold by",
        "Found: median",
        f"{level} interval",
    )
    return TableView.of("foretold", "Foretold and found", head=head, rows=rows)


def foretold_lines(answer: Answer) -> tuple[str, ...]:
    """Return one sentence a group whose median was found."""
    lines = []
    for one, group in _pairs(answer):
        found = group.median.estimate
        if found is None:
            continue
        form = load_format([one.median], answer.unit)
        told = f"foretold at {form.load(one.median)}, found at {form.load(found)}"
        if found > one.p95:
            where = "stronger than nine of ten were to be"
        elif found < one.p5:
            where = "weaker than nine of ten were to be"
        else:
            where = "within what was foretold"
        lines.append(f"{quoted(one.group)}: {told}, {where}.")
    return tuple(lines)


def _pairs(answer: Answer) -> list[tuple[Foretold, GroupResult]]:
    groups = {group.name: group for group in answer.groups}
    return [(one, groups[one.group]) for one in answer.foretold if one.group in groups]
