"""What will break first and at what load: the sentences and the table of a prediction."""

from collections.abc import Sequence
from dataclasses import replace

from breakwright.report.foretelling_numbers import joined, rounded_percent
from breakwright.report.numbers import LoadFormat, count_text, load_format
from breakwright.report.passage import Line, Passage, care, plain
from breakwright.report.table_view import TableView
from breakwright.report.terms import Term
from breakwright.report.verdict_words import quoted
from breakwright.strength.trust import Trust
from breakwright.usecases.predict_result import PartPredictions, PredictResult, WayPrediction

__all__ = ["predict_format", "predict_passages", "trust_words"]

_TRUST = {
    Trust.GOOD: "good",
    Trust.FAIR: "fair",
    Trust.ORDER: "order of magnitude only",
}
_BAND = {
    Trust.GOOD: "the middle value should be within about a quarter",
    Trust.FAIR: "the middle value should be within about two fifths",
    Trust.ORDER: "the middle value may be half or twice as much",
}

_TERMS = (
    Term("At about", "median", "Half of all such pieces break below it, half above."),
    Term(
        "Nine of ten between",
        "5th to 95th percentile",
        "The scatter of the pieces and the doubt about the equation in one.",
    ),
    Term(
        "Trust",
        "",
        "Good: tables and equations that tests bear out. Fair: rougher. Order of magnitude: "
        "break three pieces of your own before you build on it.",
    ),
)


def trust_words(way: WayPrediction) -> str:
    """Return the class of trust, or that the prediction rests on the person's own pieces."""
    if way.calibrated_on:
        return f"calibrated on your {count_text(way.calibrated_on, 'piece', 'pieces')}"
    return _TRUST[way.trust]


def predict_format(result: PredictResult) -> LoadFormat:
    """Return the one way in which all loads of a prediction are written."""
    tested = [w.median for part in result.parts if part.tested for w in part.ways]
    every = [w.median for part in result.parts for w in part.ways]
    return load_format(tested or every, result.unit)


def predict_passages(result: PredictResult) -> tuple[Passage, ...]:
    """Return the passages: the piece under test, then every part with every way to break."""
    form = predict_format(result)
    tested = _told_apart([part for part in result.parts if part.tested])
    if not result.parts:
        return (
            Passage(
                "predict",
                "What breaks, and at what load",
                plain("The study describes no part, so no load can be foretold."),
                todo=(
                    "Describe the parts of the load path as [[part]] tables in study.toml; one of "
                    "them is the piece under test (tested = true).",
                ),
            ),
        )
    if tested:
        headline = plain(" ".join(_piece_sentence(part, form) for part in tested))
    else:
        headline = plain(_first_of_all(result, form))
    lines: list[Line] = []
    for part in tested:
        lines += _piece_lines(part, form)
    if len(tested) == 1 and tested[0].group is None and len(result.groups) > 1:
        groups = joined([quoted(group) for group in result.groups])
        lines.append(
            plain(
                f"The equation makes no difference between {groups}: the part's table gives them "
                "the same numbers."
            )
        )
    return (
        Passage(
            "predict",
            "What breaks, and at what load",
            headline,
            tuple(lines),
            todo=_todo(result),
            tables=(_table(result, form),),
            terms=_TERMS,
        ),
    )


def _told_apart(tested: Sequence[PartPredictions]) -> list[PartPredictions]:
    """Return the piece once where the equation says the same of every group."""
    if len(tested) > 1 and all(part.ways == tested[0].ways for part in tested):
        return [replace(tested[0], group=None)]
    return list(tested)


def _name(part: PartPredictions) -> str:
    if part.group:
        return f"A piece of {quoted(part.group)}"
    return f"A piece ({quoted(part.part)})" if part.tested else quoted(part.part)


def _first(part: PartPredictions) -> WayPrediction | None:
    return next((way for way in part.ways if way.governs), part.ways[0] if part.ways else None)


def _piece_sentence(part: PartPredictions, form: LoadFormat) -> str:
    way = _first(part)
    if way is None:
        return f"For {_name(part)} nothing can be foretold."
    return (
        f"{_name(part)} should break at about {form.load(way.median)}, nine of ten between "
        f"{form.number(way.p5)} and {form.load(way.p95)}: {way.mechanism}."
    )


def _first_of_all(result: PredictResult, form: LoadFormat) -> str:
    ways = [(part, way) for part in result.parts for way in part.ways]
    if not ways:
        return "None of the parts has a way to break that can be foretold."
    part, way = min(ways, key=lambda pair: pair[1].median)
    return (
        f"{quoted(part.part)} should give first, at about {form.load(way.median)}: "
        f"{way.mechanism}. No part is marked as the piece under test (tested = true)."
    )


def _piece_lines(part: PartPredictions, form: LoadFormat) -> list[Line]:
    lines: list[Line] = []
    way = _first(part)
    if way is None:
        return lines
    intended = next((w for w in part.ways if w.intended), None)
    if intended is not None and not way.intended:
        lines.append(
            care(
                f"{_name(part)} should break by {intended.mechanism}, at about "
                f"{form.load(intended.median)}, but another way comes first: {way.mechanism}, at "
                f"about {form.load(way.median)}."
            )
        )
    shown = intended or way
    trust = trust_words(shown)
    band = "" if shown.calibrated_on else f" ({_BAND[shown.trust]})"
    lines.append(plain(f"Trust in this for {_who(part)}: {trust}{band}."))
    moves = _moves(shown)
    if moves:
        lines.append(plain(moves))
    return lines


def _who(part: PartPredictions) -> str:
    return quoted(part.group) if part.group else quoted(part.part)


def _moves(way: WayPrediction) -> str:
    top = [i for i in way.inputs if i.share >= 0.05][:3]
    if not top and way.calibrated_on:
        return ""
    parts = [f"{i.name} ({rounded_percent(i.share)}, {i.origin})" for i in top]
    if way.model_share >= 0.05:
        parts.append(f"the equation itself ({rounded_percent(way.model_share)})")
    if not parts:
        return ""
    return f"Where the spread of the prediction comes from: {joined(parts)}."


def _todo(result: PredictResult) -> tuple[str, ...]:
    """Say for which parts three pieces of one's own would tell more than any table."""
    wanted = [
        (part, way)
        for part in result.parts
        for way in part.ways
        if way.break_three_first and (way.intended or (way.governs and not part.tested))
    ]
    names = list(dict.fromkeys(part.part for part, _ in wanted))
    return tuple(
        f"Break three pieces like {quoted(name)} first: no equation foretells this better than to "
        "a factor of two. Write the loads into own_tests of that part, and all of this is "
        "reckoned anew."
        for name in names
    )


def _table(result: PredictResult, form: LoadFormat) -> TableView:
    rows = []
    rest = [part for part in result.parts if not part.tested]
    for part in (*_told_apart([part for part in result.parts if part.tested]), *rest):
        name = f"{part.part}, {part.group}" if part.group else part.part
        for way in part.ways:
            mark = " (as it should)" if way.intended else ""
            rows.append(
                (
                    name,
                    f"{way.mechanism}{mark}",
                    form.number(way.median),
                    f"{form.number(way.p5)} to {form.number(way.p95)}",
                    trust_words(way),
                )
            )
    unit = result.unit.value
    head = ("Part", "Way to break", f"At about, {unit}", "Nine of ten between", "Trust")
    return TableView.of(
        "predictions",
        "Every part and every way it can break",
        head=head,
        rows=rows,
        note="Loads are those on the whole rig, not on the single part.",
    )
