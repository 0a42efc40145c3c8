"""Which part of the rig gives first, by how much each is stronger, and what would help."""

from collections.abc import Sequence

from breakwright.report.foretelling_numbers import (
    chance_percent,
    factor_text,
    joined,
    rough_text,
    size_text,
)
from breakwright.report.numbers import NBSP, LoadFormat, load_format
from breakwright.report.passage import Line, Passage, care, danger, plain
from breakwright.report.table_view import TableView
from breakwright.report.terms import Term
from breakwright.report.verdict_words import quoted
from breakwright.rig.findings import (
    Advice,
    GroupRace,
    Level,
    Margin,
    NoAdvice,
    Origin,
    PieceStrength,
    WhyNot,
)
from breakwright.usecases.rig_result import RigResult

__all__ = ["advice_words", "caution_passage", "margin_words", "rig_format", "rig_passages"]

_ORIGIN = {
    Origin.GIVEN: "as you expect",
    Origin.PREDICTED: "foretold",
    Origin.PILOTS: "foretold, corrected by your pilots",
    Origin.RATIO_GIVEN: "the reference's, times the ratio you expect",
    Origin.RATIO_EQUATION: "the reference's, times what the equation says",
    Origin.RATIO_WORTH: "the reference's, times the smallest ratio worth knowing",
    Origin.SAME: "taken to be as the reference's",
}
_LIKELY = 0.02


def rig_format(result: RigResult) -> LoadFormat:
    """Return the one way in which all loads of a rig's check are written."""
    return load_format([piece.median for piece in result.pieces], result.unit)


def rig_passages(result: RigResult) -> tuple[Passage, ...]:
    """Return the passages: what goes first, the margins with advice, what springs back."""
    if not result.races:
        return (_no_race(), *_frame(result))
    return (_race(result), _margins(result), *_frame(result))


def _no_race() -> Passage:
    return Passage(
        "race",
        "What goes first",
        plain(
            "Nothing says how strong the piece under test is, so the rig cannot be held against it."
        ),
        todo=(
            "Mark one [[part]] with tested = true, or give the expected median under [expected].",
        ),
    )


def _race(result: RigResult) -> Passage:
    form = rig_format(result)
    races = result.races
    worst = min(races, key=lambda race: 1.0 if (c := race.intended_chance) is None else c)
    lines = [_race_line(race) for race in races]
    return Passage(
        "race",
        "What goes first",
        _race_headline(worst, result),
        tuple(lines),
        tables=(_piece_table(result.pieces, form),),
    )


def _race_headline(race: GroupRace, result: RigResult) -> Line:
    chance = race.intended_chance
    if chance is None:
        way = race.ways[0]
        return plain(
            f"No way of breaking is marked as the one you ask about ('breaks'). Likeliest: "
            f"{quoted(way.part)}: {way.mechanism}, {chance_percent(way.chance)}."
        )
    intended = result.intended or "the intended way"
    words = (
        f"The piece breaks the way it should ({intended}) in {chance_percent(chance)} of all "
        f"pulls, in the group where it is rarest ({quoted(race.group)})."
    )
    if chance >= 0.95:
        return plain(words)
    return care(words) if chance >= 0.8 else danger(words)


def _race_line(race: GroupRace) -> Line:
    shown = [way for way in race.ways if way.chance >= _LIKELY] or list(race.ways[:1])
    told = [
        f"{quoted(way.part)}: {way.mechanism} {chance_percent(way.chance)}"
        + (" (as it should)" if way.intended else "")
        for way in shown
    ]
    left = 1.0 - sum(way.chance for way in shown)
    rest = f"; all else together {chance_percent(left)}" if left >= 0.0005 else ""
    return plain(f"{quoted(race.group)} goes first by: {'; '.join(told)}{rest}.")


def _piece_table(pieces: Sequence[PieceStrength], form: LoadFormat) -> TableView:
    rows = [
        (
            f"{piece.group} (reference)" if piece.is_reference else piece.group,
            form.number(piece.median),
            f"{form.number(piece.p5)} to {form.number(piece.p95)}",
            form.number(piece.p99),
            _ORIGIN[piece.origin]
            + (f", {piece.calibrated_on} own tests in it" if piece.calibrated_on else ""),
        )
        for piece in pieces
    ]
    unit = form.unit.value
    head = (
        "Group",
        f"At about, {unit}",
        "Nine of ten between",
        "99 of 100 stay under",
        "Where it comes from",
    )
    return TableView.of("pieces-expected", "The pieces as expected", head=head, rows=rows)


def margin_words(margin: Margin) -> str:
    """Return how a margin is judged, in words."""
    match margin.level:
        case Level.DANGER:
            return "DANGER: under 1.5"
        case Level.LOW:
            return "low: under 2.5"
        case Level.OWN:
            return f"comes first in {chance_percent(margin.chance_before)} of all pieces"
        case Level.ENOUGH:
            return "enough"


def _margins(result: RigResult) -> Passage:
    form = rig_format(result)
    shown = [m for m in result.margins if m.governs or m.level in (Level.DANGER, Level.LOW)]
    others = [m for m in shown if not m.tested]
    weak = [m for m in others if m.level in (Level.DANGER, Level.LOW)]
    lines = [_margin_line(m, form) for m in sorted(weak, key=lambda m: m.margin)]
    lines += [
        care(
            f"{quoted(m.part)} may break another way: {m.mechanism} comes first in "
            f"{chance_percent(m.chance_before)} of the pieces of {quoted(m.chance_group)}."
        )
        for m in result.margins
        if m.tested and m.level is Level.OWN and m.chance_before >= 0.05
    ]
    return Passage(
        "margins",
        "How much stronger each part is",
        _margin_headline(others, weak),
        tuple(lines),
        todo=(
            *_advice_lines(result.advice),
            *_no_advice(result.no_advice, result.advice),
        ),
        tables=(_margin_table(shown, form),) if shown else (),
        terms=(
            Term(
                "Margin",
                "",
                "The load at which a part breaks (median), over the load that 99 of 100 pieces of "
                "the strongest group stay under. 2.5 and more is enough, under 1.5 is dangerous "
                "(common practice).",
            ),
        ),
    )


def _margin_headline(others: Sequence[Margin], weak: Sequence[Margin]) -> Line:
    if not others:
        return plain("No part besides the piece under test is described.")
    if not weak:
        least = min(others, key=lambda m: m.margin)
        return plain(
            f"Every part of the rig holds at least {factor_text(least.margin)} what the strongest "
            f"piece can reach (least: {quoted(least.part)})."
        )
    parts = list(dict.fromkeys(quoted(m.part) for m in sorted(weak, key=lambda m: m.margin)))
    words = f"Too near to the strongest piece expected: {joined(parts)}."
    if any(m.level is Level.DANGER for m in weak):
        return danger(f"{words} Do not load this rig as it is.")
    return care(words)


def _margin_line(margin: Margin, form: LoadFormat) -> Line:
    words = (
        f"{quoted(margin.part)}: {margin.mechanism} at about {form.load(margin.median)}, only "
        f"{factor_text(margin.margin)} what the strongest piece can reach "
        f"({form.load(margin.strongest_piece)}, {quoted(margin.strongest_group)}). In "
        f"{chance_percent(margin.chance_before)} of the pulls of {quoted(margin.chance_group)} "
        "it would go before the piece."
    )
    if margin.level is Level.DANGER:
        return danger(f"Danger. {words}")
    return care(words)


def _margin_table(margins: Sequence[Margin], form: LoadFormat) -> TableView:
    rows = [
        (
            margin.part,
            margin.mechanism,
            form.number(margin.median),
            factor_text(margin.margin).removesuffix(f"{NBSP}times"),
            margin_words(margin),
        )
        for margin in margins
    ]
    head = ("Part", "Way to break", f"At about, {form.unit.value}", "Margin", "In words")
    return TableView.of("margins", "Each part against the strongest piece", head=head, rows=rows)


def advice_words(advice: Advice, *, also: bool = False) -> str:
    """Return one change as a sentence, with what it does to the chance and the margin.

    ``also`` marks a change that does instead of the one before it, to the same part.
    """
    then = size_text(advice.then, advice.unit)
    now = size_text(advice.now, advice.unit)
    if advice.key == "count":
        change = f"{then} of them instead of {now}"
    else:
        side = "or less" if advice.direction == "down" else "or more"
        change = f"{advice.meaning} ({advice.key}): {then} {side} instead of {now}"
    start = "or instead" if also else quoted(advice.part)
    words = f"{start}: {change}. {_effect(advice)}"
    if advice.changes_the_piece:
        words += " This changes the piece itself: do it for every group, or for none."
    return words[:1].upper() + words[1:]


def _effect(advice: Advice) -> str:
    cures = f"({joined(advice.cures, last='or')}) " if advice.cures else ""
    words = (
        f"The chance that it goes before the piece {cures}falls from "
        f"{chance_percent(advice.risk_before)} to {chance_percent(advice.risk_after)}, its "
        f"margin goes from {factor_text(advice.margin_before)} to "
        f"{factor_text(advice.margin_after)}"
    )
    if abs(advice.chance_after - advice.chance_before) >= 0.005:
        words += (
            "; pieces that break the way they should: from "
            f"{chance_percent(advice.chance_before)} to {chance_percent(advice.chance_after)}"
        )
    if advice.leaves:
        words += f". Still too near, and for another change to cure: {joined(advice.leaves)}"
    return f"{words}."


def _advice_lines(advice: Sequence[Advice]) -> list[str]:
    """Return the changes, each part's together: any one of them cures it."""
    words = []
    for part in dict.fromkeys(one.part for one in advice):
        own = [one for one in advice if one.part == part]
        words += [advice_words(one, also=i > 0) for i, one in enumerate(own)]
    return words


_WHY_NOT = {
    WhyNot.NO_VALUE: "no value that is allowed cures it",
    WhyNot.DIFFERS_BY_GROUP: "it differs by group, so it is what you compare",
    WhyNot.NO_EFFECT: "it has no say in this",
}


def _no_advice(no_advice: Sequence[NoAdvice], advice: Sequence[Advice]) -> tuple[str, ...]:
    """Say something only of parts for which nothing at all was found."""
    helped = {a.part for a in advice}
    words = []
    for part in dict.fromkeys(n.part for n in no_advice if n.part not in helped):
        tried = [n for n in no_advice if n.part == part]
        told = joined([f"{n.key} ({_WHY_NOT[n.why]})" for n in tried])
        words.append(
            f"{quoted(part)}: no single change cures it; tried {told}. Build this part anew: "
            "another material, another kind, or more of them."
        )
    return tuple(words)


def _frame(result: RigResult) -> tuple[Passage, ...]:
    frame = result.frame
    if frame.strongest is None or frame.usual is None:
        return ()
    form = rig_format(result)
    lines = []
    for part in frame.parts:
        if part.at_p99 is not None and part.at_p99 >= 0.05:
            lines.append(
                plain(f"{quoted(part.part)} gives way by {rough_text(part.at_p99, 'mm')}.")
            )
    strongest = frame.strongest
    if strongest.speed is not None and strongest.loose_mass is not None:
        lines.append(
            care(
                f"A loose part of {size_text(strongest.loose_mass, 'kg')} could fly at "
                f"{rough_text(strongest.speed, 'm/s')} if all of it went into that part: tie it "
                "down, and stand behind a shield."
            )
        )
    if frame.unknown:
        names = joined([quoted(name) for name in frame.unknown])
        lines.append(plain(f"Not in it, because no equation is known for them: {names}."))
    needed = frame.stroke_needed
    if needed is not None:
        if frame.stroke is not None and frame.stroke < needed:
            lines.append(
                danger(
                    f"The jack has {rough_text(frame.stroke, 'mm')} of stroke, and the rig alone "
                    f"takes {rough_text(needed, 'mm')}: it will run out before the piece breaks."
                )
            )
        else:
            have = (
                "" if frame.stroke is None else f"; the jack has {rough_text(frame.stroke, 'mm')}"
            )
            lines.append(
                plain(
                    f"The rig takes up {rough_text(needed, 'mm')} of the jack's stroke or more"
                    f"{have}."
                )
            )
    return (
        Passage(
            "frame",
            "What springs back at the break",
            plain(
                f"At {form.load(strongest.load)} the rig has given way by "
                f"{rough_text(strongest.deflection, 'mm')} or more and holds "
                f"{rough_text(strongest.energy, 'J')} or more, all of it let go at once."
            ),
            tuple(lines),
        ),
    )


def caution_passage(result: RigResult) -> Passage:
    """Return the cautions by moment, which stand with every check and every plan."""
    return Passage(
        "cautions",
        "Cautions, by moment",
        plain("Read them aloud before the first pull. Local rules and licensed practice go first."),
        tuple(plain(f"{str(c.moment).capitalize()}: {c.text}") for c in result.cautions),
    )
