"""Each of the four results put together for a page and for the terminal: passages and charts."""

from collections.abc import Sequence

from breakwright.model.notice import Notice
from breakwright.report.before_page import Drawn, Sheet, drawn
from breakwright.report.charts.capacity import capacity_figure
from breakwright.report.charts.load_path import RangeRow, load_path_figure
from breakwright.report.charts.sizes import sizes_figure
from breakwright.report.foretelling_numbers import factor_text
from breakwright.report.numbers import count_text
from breakwright.report.passage import Passage, Tone, care, danger, plain
from breakwright.report.plan_words import plan_passages
from breakwright.report.predict_words import predict_format, predict_passages
from breakwright.report.rig_words import caution_passage, rig_format, rig_passages
from breakwright.report.scales_words import scales_passages
from breakwright.rig.findings import Level, Margin
from breakwright.usecases.before import Before
from breakwright.usecases.predict_result import PredictResult
from breakwright.usecases.rig_result import RigResult
from breakwright.usecases.scales_result import ScalesResult

__all__ = [
    "before_sheet",
    "dangers",
    "dangers_of",
    "predict_sheet",
    "rig_sheet",
    "scales_sheet",
]

# What the passages say already, with the same numbers. JSON keeps every notice.
_TOLD = frozenset(
    {
        "part-weaker-than-piece",
        "part-margin-low",
        "intended-not-first",
        "deflection-partly-unknown",
        "scale-too-small",
        "unverified-range",
        "one-scale-doubled",
        "plan-wrong-way-from-rig",
        "plan-scale-costs",
        "plan-too-few-pieces",
        "plan-pilots-first",
    }
)
_MOST_ROWS = 14
_ENOUGH, _LOW, _DANGER = 2, 4, 1  # places in the palette: green, yellow, red


def predict_sheet(result: PredictResult, *, version: str) -> Sheet:
    """Return the sheet of a prediction."""
    return Sheet(
        "What breaks, foretold",
        result.title or "What breaks, and at what load",
        result.invented,
        result.unit,
        predict_passages(result),
        _predict_charts(result),
        _untold(result.notices),
        f"Made by Breakwright {version}.",
    )


def rig_sheet(result: RigResult, *, version: str) -> Sheet:
    """Return the sheet of a rig's check, cautions and all."""
    return Sheet(
        "A rig, checked before it is loaded",
        result.title or "Is the rig stronger than the piece?",
        result.invented,
        result.unit,
        (*rig_passages(result), caution_passage(result)),
        _rig_charts(result),
        _untold(result.notices),
        _made(version, result.seed),
    )


def scales_sheet(result: ScalesResult, rig: RigResult, *, version: str) -> Sheet:
    """Return the sheet of a check of the scales; ``rig`` has the pieces as expected."""
    return Sheet(
        "Scales, checked before anything is hung on them",
        result.title or "Does the scale reach far enough?",
        result.invented,
        result.unit,
        scales_passages(result),
        _scale_charts(result, rig),
        _untold(result.notices),
        _made(version, result.seed),
    )


def before_sheet(result: Before, *, version: str) -> Sheet:
    """Return the sheet of everything before the first cut, in the order people need it."""
    plan = result.plan
    passages: Sequence[Passage] = (
        *predict_passages(result.predict),
        *rig_passages(result.rig),
        *scales_passages(result.scales),
        *plan_passages(plan),
        caution_passage(result.rig),
    )
    return Sheet(
        "Before the first cut",
        plan.title or "Before the first cut",
        result.predict.invented,
        plan.unit,
        (in_short(passages), *passages),
        (
            *_rig_charts(result.rig),
            *_scale_charts(result.scales, result.rig),
            *((drawn("pieces", lambda theme: sizes_figure(plan, theme)),) if plan.groups else ()),
        ),
        _untold(
            (
                *result.predict.notices,
                *result.rig.notices,
                *result.scales.notices,
                *plan.notices,
            )
        ),
        _made(version, plan.method.seed),
    )


def in_short(passages: Sequence[Passage]) -> Passage:
    """Return the headlines of all passages, under what they come to together."""
    heads = [p.headline for p in passages if p.key not in ("cautions", "order", "fitting")]
    grave = sum(head.tone is Tone.DANGER for head in heads)
    if grave:
        words = danger(
            f"Not yet: {count_text(grave, 'thing', 'things')} to cure before the first cut. What "
            "would help stands below; change study.toml and plan again."
        )
    elif any(head.tone is Tone.CARE for head in heads):
        words = care("Nearly: look at what is pointed out below before the first cut.")
    else:
        words = plain("Nothing that is known here stands in the way of the first cut.")
    return Passage("short", "In short", words, tuple(heads))


def dangers(result: Before) -> tuple[str, ...]:
    """Return what must be cured before the rig is loaded, a sentence or two each."""
    return dangers_of(result.rig, result.scales)


def dangers_of(rig: RigResult, scales: ScalesResult) -> tuple[str, ...]:
    """Return the same from a check of the rig and of the scales alone."""
    passages = (*rig_passages(rig), *scales_passages(scales))
    return tuple(p.headline.text for p in passages if p.headline.tone is Tone.DANGER)


def _untold(notices: Sequence[Notice]) -> tuple[Notice, ...]:
    kept: list[Notice] = []
    for notice in notices:
        if notice.code not in _TOLD and notice not in kept:
            kept.append(notice)
    return tuple(kept)


def _made(version: str, seed: int) -> str:
    return f"Made by Breakwright {version}, seed {seed}."


def _predict_charts(result: PredictResult) -> tuple[Drawn, ...]:
    rows = []
    for part in result.parts:
        way = next((w for w in part.ways if w.governs), None)
        if way is not None:
            name = f"{part.part}, {part.group}" if part.group else part.part
            rows.append(
                RangeRow(
                    name, "", way.mechanism, way.p5, way.median, way.p95, 0 if part.tested else 2
                )
            )
    if not rows:
        return ()
    rows = sorted(rows, key=lambda r: r.middle)[:_MOST_ROWS]
    form = predict_format(result)
    return (
        drawn(
            "predict",
            lambda theme: load_path_figure(rows, strongest=None, form=form, theme=theme),
        ),
    )


def _rig_charts(result: RigResult) -> tuple[Drawn, ...]:
    if not result.pieces:
        return ()
    pieces = [
        RangeRow(f"Piece, {p.group}", "", "", p.p5, p.median, p.p95, 0) for p in result.pieces
    ]
    parts = [
        RangeRow(
            m.part,
            factor_text(m.margin),
            m.mechanism,
            m.p5,
            m.median,
            m.median * m.median / m.p5,
            _colour(m),
        )
        for m in sorted(result.margins, key=lambda m: m.median)
        if m.governs and not m.tested
    ]
    rows = [*pieces, *parts][:_MOST_ROWS]
    strongest = max(p.p99 for p in result.pieces)
    form = rig_format(result)
    return (
        drawn(
            "race",
            lambda theme: load_path_figure(rows, strongest=strongest, form=form, theme=theme),
        ),
    )


def _colour(margin: Margin) -> int:
    return {Level.DANGER: _DANGER, Level.LOW: _LOW}.get(margin.level, _ENOUGH)


def _scale_charts(result: ScalesResult, rig: RigResult) -> tuple[Drawn, ...]:
    if not rig.pieces or not result.sets:
        return ()
    index = 0 if result.main is None else result.main
    limit = result.sets[index].limit
    return (
        drawn(
            "scales",
            lambda theme: capacity_figure(rig.pieces, limit=limit, unit=result.unit, theme=theme),
        ),
    )
