"""The sheet as a whole: groups, the reference, the failure that counts, pieces that are left."""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from breakwright.files.columns import Column, Role
from breakwright.files.findings import Findings
from breakwright.files.nearest import listed, look_alike_key, near_words
from breakwright.files.rows import Rows

__all__ = ["Settled", "check_counts", "settle_groups"]


@dataclass(frozen=True, slots=True)
class Settled:
    """A choice and where it was made; ``file`` and ``line`` are None for the sheet itself."""

    value: str
    where: str
    file: str | None = None
    line: int | None = None


def settle_groups(
    rows: Rows,
    column: Column,
    *,
    listed_groups: Sequence[str],
    reference: Settled | None,
    complete: bool,
    findings: Findings,
) -> tuple[tuple[str, ...], str]:
    """Return the groups in the order people see, and which one is the reference.

    ``listed_groups`` come from ``study.toml``; without them the order is the sheet's.
    Where the sheet is not ``complete``, a group that seems to lack pieces may have lost them.
    """
    first = _first_rows(rows)
    groups = tuple(listed_groups) or tuple(first)
    if listed_groups:
        _check_listed(rows, column, listed_groups, findings)
    else:
        _check_spelling(first, rows, column, "group-spelling", findings)
    if complete:
        _check_enough(rows, column, first, listed_groups, findings)
    return groups, _reference(groups, reference, findings)


def _first_rows(rows: Rows) -> dict[str, int]:
    first: dict[str, int] = {}
    for i, group in enumerate(rows.groups):
        if group and group not in first:
            first[group] = i
    return first


def _check_listed(rows: Rows, column: Column, groups: Sequence[str], findings: Findings) -> None:
    known = set(groups)
    for line, group in zip(rows.lines, rows.groups, strict=True):
        if group and group not in known:
            near = near_words(group, groups)
            findings.problem(
                "unknown-group",
                "this group is not one of the groups in study.toml",
                line=line,
                column=column.place,
                name=column.written,
                read=group,
                allowed=listed(groups),
                do=(f"Did you mean '{near[0]}'? " if near else "")
                + "Correct the group here, or add it to 'groups' in study.toml.",
            )


def _check_spelling(
    first: Mapping[str, int],
    rows: Rows,
    column: Column,
    code: str,
    findings: Findings,
) -> None:
    alike: dict[str, list[str]] = defaultdict(list)
    for name in first:
        alike[look_alike_key(name)].append(name)
    what = "group" if code == "group-spelling" else "failure"
    for names in alike.values():
        for other in names[1:]:
            findings.problem(
                code,
                f"'{other}' (line {rows.lines[first[other]]}) and '{names[0]}' "
                f"(line {rows.lines[first[names[0]]]}) look alike: are they one {what}?",
                line=rows.lines[first[other]],
                column=column.place,
                name=column.written,
                read=other,
                allowed=f"one way of writing each {what}",
                do=f"Write both the same if they are one {what}."
                + (
                    " If they are two, list both under 'groups' in study.toml, or rename one."
                    if what == "group"
                    else " If they are two, rename one."
                ),
            )


def _check_enough(
    rows: Rows,
    column: Column,
    first: Mapping[str, int],
    groups: Sequence[str],
    findings: Findings,
) -> None:
    counting = Counter(g for g, void in zip(rows.groups, rows.voids, strict=True) if void is None)
    if not counting:
        findings.problem(
            "all-void",
            "every piece is left out: all of them have a reason under 'void'",
            line=rows.lines[0],
            allowed="at least two groups with a piece that counts",
            do="Empty the 'void' cell of the pieces that count.",
        )
        return
    for group in groups:
        if group not in first:
            near = near_words(group, list(first))
            findings.problem(
                "group-without-pieces",
                f"study.toml names the group '{group}', but no piece in the sheet belongs to it",
                line=rows.lines[0],
                column=column.place,
                name=column.written,
                read=listed(list(first)),
                allowed="groups that have pieces",
                do=(f"Did you mean '{near[0]}'? " if near else "")
                + "Take the group out of 'groups' until its pieces are tested, or correct it.",
            )
    if len(first) == 1 and len(groups) < 2:
        findings.problem(
            "one-group",
            "all pieces belong to one group: there is nothing to compare it with",
            line=rows.lines[0],
            column=column.place,
            name=column.written,
            read=next(iter(first)),
            allowed="two groups or more",
            do="Add the pieces of the other group, or correct the 'group' column.",
        )
    for group in first:
        if counting[group] == 0:
            findings.warning("group-all-void", {"pieces": 0}, groups=(group,))
        elif counting[group] == 1:
            findings.warning("one-piece-group", {"pieces": 1}, groups=(group,))


def _reference(groups: Sequence[str], chosen: Settled | None, findings: Findings) -> str:
    if chosen is None:
        if groups:
            findings.remark("reference-from-order", {"group": groups[0]}, groups=(groups[0],))
        return groups[0] if groups else ""
    if chosen.value not in groups:
        near = near_words(chosen.value, groups)
        findings.problem(
            "unknown-reference",
            f"the reference given by {chosen.where} is not one of the groups",
            file=chosen.file,
            line=chosen.line,
            name="reference",
            read=chosen.value,
            allowed=listed(groups),
            do=f"Did you mean '{near[0]}'?" if near else "Name one of these groups.",
        )
    return chosen.value


def check_counts(
    rows: Rows,
    columns: Mapping[Role, Column],
    counts: Settled | None,
    findings: Findings,
) -> None:
    """Note failures written two ways, and a counting failure that no piece shows."""
    column = columns.get(Role.FAILURE)
    first: dict[str, int] = {}
    for i, failure in enumerate(rows.failures):
        if failure:
            first.setdefault(failure, i)
    if column is not None:
        _check_spelling(first, rows, column, "failure-spelling", findings)
    if counts is None or counts.value.casefold() in {failure.casefold() for failure in first}:
        return
    # Every break would silently become 'at least': a slip here would hide the whole answer.
    near = near_words(counts.value, list(first))
    findings.problem(
        "unknown-failure",
        f"the failure that counts, given by {counts.where}, "
        + ("is not in the 'failure' column" if column else "needs a column 'failure'"),
        file=counts.file,
        line=counts.line,
        name="counts",
        read=counts.value,
        allowed=listed(list(first)) if first else "a failure noted for the pieces that broke",
        do=f"Did you mean '{near[0]}'?"
        if near
        else "Name one of these, or note how each piece broke under 'failure'.",
    )
