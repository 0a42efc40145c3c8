"""How many more pieces would settle it, in sentences; and why to look is not to stop."""

from dataclasses import dataclass

from breakwright.report.numbers import NBSP, count_text, percent_text, ratio_text
from breakwright.report.table_view import TableView
from breakwright.report.verdict_words import quoted
from breakwright.usecases.settle_result import Needed, Settle

__all__ = ["PEEKING", "PEEKING_SOURCE", "SettleWords", "settle_table", "settle_words"]

# Five equally spaced looks at the 5 % level: 14.2 %, made again by simulation in
# tests/validation/test_peeking.py.
PEEKING = (
    "Look as often as you like, but do not stop because it looks good. Two groups that are exactly "
    "alike are called different 5 times in 100 by a test that is looked at once, and 14 times in "
    "100 by one that is looked at five times and stopped at the first difference. Break the number "
    "you planned, then read the answer."
)
PEEKING_SOURCE = (
    "Armitage, P., McPherson, C. K. and Rowe, B. C. (1969), Repeated significance tests on "
    "accumulating data, Journal of the Royal Statistical Society A 132, 235-244."
)

_MISSING = {
    "no-estimate": "How many more pieces would settle it cannot be said: a group has no estimate "
    "yet. A scale that reads further, or pieces read until they break, would tell more than more "
    "pieces of the same kind.",
    "few-readings": "How many more pieces would settle it cannot be said yet: each group needs two "
    "pieces read until they broke the way that counts.",
    "unsure": "How many more pieces would settle it cannot be said: the readings so far allow "
    "almost anything.",
}


@dataclass(frozen=True, slots=True)
class SettleWords:
    """``headline`` says the number; ``lines`` what it hangs on and what would help."""

    headline: str
    lines: tuple[str, ...]


def settle_words(settle: Settle) -> SettleWords:
    """Return what may be said of further pieces for one comparison."""
    if settle.settled:
        return SettleWords(
            f"{quoted(settle.group)} against {quoted(settle.reference)}: "
            "the answer above does not wait for more pieces.",
            (
                "More pieces tell more closely by how much they differ. Where pieces that were "
                "planned still wait, break them: a look in the middle counts for less than the end "
                "that was planned.",
            ),
        )
    if settle.missing is not None or settle.estimate is None:
        return SettleWords(_MISSING[settle.missing or "unsure"], ())
    return SettleWords(_headline(settle.estimate), tuple(_lines(settle)))


def _headline(needed: Needed) -> str:
    ratio = f"if the true ratio is the {ratio_text(needed.ratio)} that it looks like now"
    if needed.pieces is None:
        return (
            f"More than 40 more pieces in each group, {ratio}: not worth the wood. A better scale "
            "or more even pieces would help more than numbers."
        )
    count = count_text(needed.pieces, "more piece", "more pieces")
    return f"About {count} in each group would settle it four times in five, {ratio}."


def _lines(settle: Settle) -> "list[str]":
    lines = []
    if settle.few is not None and settle.many is not None:
        lines.append(_range(settle.few, settle.many))
    at = next((c for c in settle.chances if c.more == 10), None)
    if at is not None:
        lines.append(
            f"With 10 more in each group the chance that it is settled is {percent_text(at.chance)}"
            ", over all that the readings so far allow."
        )
    free = settle.without_limit
    if free is not None:
        lines.append(_scale(settle, free))
    if settle.wrong_way > 0.0:
        lines.append(
            f"Supposed: {percent_text(settle.wrong_way)} of further pieces break another way, as "
            "so far. Pieces that break the way you ask about tell more."
        )
    return lines


def _range(few: Needed, many: Needed) -> str:
    if few.pieces is None:
        return "Even under the kinder of the ratios that are quite possible it takes more than 40."
    if few.pieces == many.pieces:
        return "It takes as many under the ratios around it that are quite possible."
    most = "more than 40" if many.pieces is None else f"{many.pieces}"
    return (
        f"It may be {few.pieces} (were the ratio {ratio_text(few.ratio)}) or {most} (were it "
        f"{ratio_text(many.ratio)}): both are quite possible by the readings so far."
    )


def _scale(settle: Settle, free: Needed) -> str:
    share = percent_text(settle.capped)
    start = f"The scale runs out on about {share} of the pieces"
    now = None if settle.estimate is None else settle.estimate.pieces
    if free.pieces is None:
        return f"{start}; one that reads further would not be enough by itself."
    if now is None or now - free.pieces >= 2:
        count = count_text(free.pieces, "piece", "pieces")
        return f"{start}: with one that reads further, {count} more would do."
    return f"{start}, which costs few pieces."


def settle_table(settle: Settle) -> TableView | None:
    """Return the chance of a settled matter for several numbers of further pieces."""
    if not settle.chances:
        return None
    rows = [(str(c.more), percent_text(c.chance)) for c in settle.chances]
    return TableView.of(
        f"settle-{settle.group}",
        f"{quoted(settle.group)} against {quoted(settle.reference)}: chance that it is settled",
        head=(f"More pieces in each{NBSP}group", "Chance"),
        rows=rows,
    )
