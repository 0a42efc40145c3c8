"""How many pieces, what a plan supposes, what the scale costs, in what order they are broken."""

from collections.abc import Sequence

from breakwright.report.foretelling_numbers import chance_percent, rounded_percent
from breakwright.report.numbers import (
    count_text,
    load_format,
    percent_text,
    ratio_text,
)
from breakwright.report.passage import Line, Passage, care, danger, plain
from breakwright.report.table_view import TableView
from breakwright.report.terms import Term
from breakwright.report.verdict_words import quoted
from breakwright.usecases.plan_result import (
    Basis,
    GroupPlan,
    Needed,
    OrderRow,
    PlanResult,
    RatioOrigin,
    Reach,
    ScatterOrigin,
    SizeRow,
)

__all__ = ["order_table", "plan_passages"]

_SCATTER = {
    ScatterOrigin.GIVEN: "as you gave it",
    ScatterOrigin.PILOTS: "from your pilots",
    ScatterOrigin.PREDICTED: "from the prediction's material part",
    ScatterOrigin.ASSUMED: "a usual value for wood, taken for want of a better one",
}
_RATIO = {
    RatioOrigin.GIVEN: "as you expect",
    RatioOrigin.WORTH: "the smallest worth knowing",
    RatioOrigin.ASSUMED: "taken for want of a stated one",
}
_IN_TABLE = (3, 5, 8, 10, 12, 15, 20, 25, 30, 40)


def plan_passages(result: PlanResult) -> tuple[Passage, ...]:
    """Return the passages: how many pieces, and the order they are broken in."""
    if not result.groups:
        return (_order(result),)
    return (_pieces(result), _order(result))


def _pieces(result: PlanResult) -> Passage:
    lines: list[Line] = []
    for group in result.groups:
        lines += _group_lines(group, result)
    lines += [plain(words) for words in _basis(result)]
    return Passage(
        "pieces",
        "How many pieces",
        _headline(result),
        tuple(lines),
        todo=_pilots(result),
        tables=tuple(_size_table(group, result) for group in result.groups),
        terms=(
            Term(
                "Chance to see it",
                "power",
                "How often an experiment of this size would end in the verdict 'stronger' (or "
                "'weaker'), if the ratio really is what is expected.",
            ),
            Term(
                "Width",
                "upper over lower limit",
                "How far apart the limits of the answer will lie, in the middle of all "
                "experiments: 1.3 means from 0.9 to 1.17 times, for example.",
            ),
        ),
    )


def _headline(result: PlanResult) -> Line:
    wish = f"a chance of {chance_percent(result.for_chance)} of seeing the difference"
    if result.recommended is not None:
        words = (
            f"Break {count_text(result.recommended, 'piece', 'pieces')} of each group for {wish}."
        )
        if result.own is not None and result.own < result.recommended:
            return care(f"{words} You have {result.own} in mind: too few for that.")
        if result.own is not None:
            return plain(f"{words} The {result.own} that you have in mind are enough.")
        return plain(words)
    if any(g.for_chance.reach is Reach.NOT_WITH_SCALE for g in result.groups):
        return danger(
            f"With the scale at hand no number of pieces up to 40 a group gives {wish}: the scale "
            "hides it. Choose another scale, or a weaker piece."
        )
    return care(f"More than 40 pieces of each group would be needed for {wish}.")


def _group_lines(group: GroupPlan, result: PlanResult) -> list[Line]:
    pair = f"{quoted(group.group)} against {quoted(result.reference)}"
    lines = [
        plain(
            f"{pair}, a ratio of {ratio_text(group.ratio)} ({_RATIO[group.ratio_from]}): "
            f"{_needed(group.for_chance, 'chance')}."
        )
    ]
    if group.own is not None and result.own is not None:
        lines.append(plain(_own(group.own)))
    if group.for_width is not None and result.for_width is not None:
        lines.append(
            plain(
                f"For limits no further apart than {ratio_text(result.for_width)} times: "
                f"{_needed(group.for_width, 'width')}."
            )
        )
    if group.cost is not None and (
        group.cost.chance_without_limit - group.cost.chance > 0.01 or group.capped > 0.01
    ):
        cost = group.cost
        widths = (
            ""
            if cost.width is None or cost.width_without_limit is None
            else f", and the width from {ratio_text(cost.width_without_limit)} to "
            f"{ratio_text(cost.width)}"
        )
        if cost.width is None:
            widths = ", and in half of all experiments there is no upper limit at all"
        lines.append(
            care(
                f"What the scale costs with {cost.pieces} pieces a group: "
                f"{rounded_percent(group.capped)} of {quoted(group.group)} and "
                f"{rounded_percent(group.reference_capped)} of {quoted(result.reference)} run out "
                f"of range; the chance falls from {chance_percent(cost.chance_without_limit)} to "
                f"{chance_percent(cost.chance)}{widths}."
            )
        )
    upper = group.for_chance_upper
    if upper is not None and upper.pieces != group.for_chance.pieces:
        lines.append(
            plain(
                "If the scatter is as large as your pilots leave possible: "
                f"{_needed(upper, 'chance')}."
            )
        )
    return lines


def _needed(needed: Needed, wish: str) -> str:
    if needed.pieces is not None:
        return f"{count_text(needed.pieces, 'piece', 'pieces')} of each group"
    best = ""
    if needed.best is not None:
        best = (
            f"; 40 give a chance of {chance_percent(needed.best)}"
            if wish == "chance"
            else f"; 40 give {ratio_text(needed.best)} times"
        )
    if needed.reach is Reach.NOT_WITH_SCALE:
        without = (
            ""
            if needed.without_limit is None
            else f" ({needed.without_limit} would do with a scale that does not run out)"
        )
        return f"no number up to 40, because of the scale{without}{best}"
    return f"more than 40{best}"


def _own(row: SizeRow) -> str:
    width = (
        "half of the experiments end without an upper or a lower limit"
        if row.width is None
        else f"the limits lie {ratio_text(row.width)} times apart"
    )
    return f"Your own {row.pieces} a group give a chance of {chance_percent(row.chance)}; {width}."


def _basis(result: PlanResult) -> list[str]:
    basis = result.basis
    words = [
        f"It supposes a scatter of {percent_text(basis.cv)} from piece to piece "
        f"({_scatter_from(basis)})."
    ]
    if basis.median is not None:
        form = load_format([basis.median], result.unit)
        words.append(
            f"It supposes that {quoted(result.reference)} holds about {form.load(basis.median)} "
            f"({_median_from(basis)})."
        )
    if basis.wrong_way > 0.0:
        whence = "by the check of the rig" if basis.wrong_way_from == "rig" else "as you expect"
        words.append(
            f"It supposes that up to {rounded_percent(basis.wrong_way)} of a group's pieces "
            "break another way "
            f"({whence})."
        )
    return words


def _scatter_from(basis: Basis) -> str:
    words = _SCATTER[basis.origin]
    if basis.origin is ScatterOrigin.PILOTS and basis.cv_upper is not None:
        words += (
            f": {count_text(basis.pilots, 'piece', 'pieces')}, which leave up to "
            f"{percent_text(basis.cv_upper)} possible"
        )
    return words


def _median_from(basis: Basis) -> str:
    return {"given": "as you expect", "pilots": "from your pilots"}.get(
        basis.median_from or "", "as foretold"
    )


_BECAUSE = {
    "scatter-assumed": "nobody knows yet how much such pieces scatter, and the number of pieces "
    "hangs on it",
    "scatter-predicted": "the scatter comes from tables, which know nothing of your hand",
    "few-pilots": "the few that are broken leave the scatter wide open",
    "load-uncertain": "the load itself is foretold to a factor of two only, and with it how many "
    "run out of range",
}


def _pilots(result: PlanResult) -> tuple[str, ...]:
    pilots = result.pilots
    if pilots.more <= 0:
        return ()
    have = "" if pilots.have == 0 else f" (you have broken {pilots.have})"
    why = _BECAUSE.get(pilots.because or "", "")
    gain = next((g for g in pilots.gains if g.pilots == pilots.advised), None)
    told = (
        ""
        if gain is None
        else f" {count_text(gain.pilots, 'pilot', 'pilots')} in all tell the scatter to between "
        f"{ratio_text(gain.low)} and {ratio_text(gain.high)} times what they show."
    )
    return (
        f"Break {count_text(pilots.more, 'pilot', 'pilots')} of {quoted(result.reference)} first"
        f"{have}{': ' if why else ''}{why}. Write the loads into 'pilots' under [expected] and "
        f"plan anew.{told} Pilots do not count in the answer.",
    )


def _size_table(group: GroupPlan, result: PlanResult) -> TableView:
    marked = {
        n: words
        for n, words in (
            (group.for_chance.pieces, "enough"),
            (result.own, "yours"),
        )
        if n is not None
    }
    if group.for_chance.pieces is not None and group.for_chance.pieces == result.own:
        marked[group.for_chance.pieces] = "enough, and yours"
    curve = {row.pieces: row for row in group.curve}
    if group.own is not None:
        curve.setdefault(group.own.pieces, group.own)
    rows = [
        (
            f"{n} ({marked[n]})" if n in marked else str(n),
            chance_percent(curve[n].chance),
            "no limit" if curve[n].width is None else ratio_text(curve[n].width or 1.0),
            f"{curve[n].capped:.1f}",
        )
        for n in sorted(curve)
        if n in _IN_TABLE or n in marked
    ]
    head = ("Pieces a group", "Chance to see it", "Width", "Out of range, both groups")
    return TableView.of(
        f"sizes-{result.groups.index(group) + 1}",
        f"{group.group} against {result.reference}",
        head=head,
        rows=rows,
    )


def order_table(order: Sequence[OrderRow]) -> TableView:
    """Return the order of breaking; columns that say nothing are left out."""
    columns: list[tuple[str, list[str]]] = [
        ("Order", [str(row.order) for row in order]),
        ("Label", [row.label for row in order]),
        ("Group", [row.group for row in order]),
    ]
    if any(row.block for row in order):
        columns.append(("Block", [row.block or "–" for row in order]))
    if len({row.day for row in order}) > 1:
        columns.append(("Day", [str(row.day) for row in order]))
    if any(row.operator for row in order):
        columns.append(("By", [row.operator or "–" for row in order]))
    if any(row.pair for row in order):
        columns.append(("Pair", [row.pair or "–" for row in order]))
    return TableView.of(
        "order",
        "The order of breaking",
        head=[name for name, _ in columns],
        rows=list(zip(*(cells for _, cells in columns), strict=True)),
    )


def _order(result: PlanResult) -> Passage:
    first = ", ".join(row.label for row in result.order[:8])
    more = " …" if len(result.order) > 8 else ""
    return Passage(
        "order",
        "In what order",
        plain(
            f"{count_text(len(result.order), 'piece', 'pieces')} in an order drawn by lot (seed "
            f"{result.method.seed}), {result.used} of each group: {first}{more}"
        ),
        (
            plain(
                "Write each label on its piece in pencil before the first pull. Keep to the order: "
                "it keeps boards, days and practice from passing for a difference."
            ),
        ),
        tables=(order_table(result.order),),
    )
