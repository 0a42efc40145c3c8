"""Answers made by hand, one for each thing that can be said. All numbers are invented or rough:
they test how an answer is shown, never whether it is right."""

import dataclasses
import datetime as dt
import math
from collections.abc import Mapping, Sequence
from statistics import NormalDist

from breakwright.model.interval import IntervalKind
from breakwright.model.notice import Notice, Weight
from breakwright.model.outcome import Cause
from breakwright.model.study import RECORD_KEYS
from breakwright.model.units import ForceUnit
from breakwright.usecases.result import (
    SCHEMA,
    AdjustedRatio,
    Alternative,
    Answer,
    Bound,
    Chance,
    Comparison,
    Curve,
    FamilyFit,
    GroupResult,
    HeldCurve,
    LogRank,
    Method,
    PieceResult,
    RatioMethod,
    RatioResult,
    SessionAgreement,
    SessionRatio,
    Verdict,
    VerdictKind,
)

FAMILIES = ("lognormal", "weibull", "loglogistic")

# The two groups of the made-up data in facts on ratio checks (A and B there), here as tens of N:
# ratio 1.441342, limits 1.312333 to 1.621719.
PLAIN = ("412", "479", "443", "526", "398", "461", "495", "437", "450", "504")
WEDGED = ("613", "558", ">700", "664", ">700", "589", "632", ">485", ">700", "677")


def piece(
    specimen: str,
    group: str,
    text: str,
    *,
    line: int,
    void: str | None = None,
    failure: str | None = "let go",
    wrong: bool = False,
    note: str | None = None,
) -> PieceResult:
    """A piece from a cell as people write it: ``412``, ``>440``, ``<30``, ``405..440`` or empty."""
    lower: float | None
    upper: float | None
    if not text:
        lower, upper, kind, cause = None, None, None, None
    elif text.startswith(">"):
        lower, upper, kind = float(text[1:]), None, IntervalKind.AT_LEAST
        cause = Cause.WRONG_WAY if wrong else Cause.OVER_RANGE
    elif text.startswith("<"):
        lower, upper, kind, cause = 0.0, float(text[1:]), IntervalKind.AT_MOST, Cause.AT_MOST
    elif ".." in text:
        low, high = text.split("..")
        lower, upper, kind, cause = float(low), float(high), IntervalKind.BETWEEN, Cause.BETWEEN
    else:
        lower = upper = float(text)
        kind, cause = IntervalKind.EXACT, Cause.MEASURED
    steps = ("read as written",) if kind is IntervalKind.EXACT else ("the display stopped there",)
    return PieceResult(
        specimen=specimen,
        group=group,
        written=(text,) if text else (),
        lower=lower,
        upper=upper,
        kind=kind,
        cause=cause,
        limit=700.0,
        failure="snapped in the shank" if wrong else failure,
        void=void,
        block=f"board {1 + line % 3}",
        order=line - 1,
        date=dt.date(2025, 3, 1 + line % 2),
        note=note,
        covariates={"mass_g": 30.0 + line / 4.0},
        steps=steps,
        line=line,
    )


def _kaplan_meier(pieces: Sequence[PieceResult]) -> HeldCurve | None:
    ends = sorted(
        (
            (p.lower if p.upper is None else (p.lower + p.upper) / 2.0, p.upper is None)
            for p in pieces
            if p.lower is not None
        ),
    )
    left, share = len(ends), 1.0
    load, holding = [0.0], [1.0]
    for at, capped in ends:
        if not capped:
            share *= (left - 1) / left
            load.append(at)
            holding.append(share)
        left -= 1
    return HeldCurve(tuple(load), tuple(holding))


def _fits(family_sigma: float | None, mu: float | None) -> tuple[FamilyFit, ...]:
    fits = []
    for i, family in enumerate(FAMILIES):
        if mu is None or family_sigma is None:
            gone = (None,) * 7
            fits.append(FamilyFit(family, *gone, missing="all-capped"))
            continue
        sigma = family_sigma * (1.0, 0.8, 0.6)[i]
        median = math.exp(mu) * (1.0, 1.01, 0.99)[i]
        fits.append(
            FamilyFit(
                family,
                mu,
                sigma,
                median,
                median * math.exp(-1.645 * family_sigma),
                median * math.exp(1.645 * family_sigma),
                math.sqrt(math.expm1(family_sigma**2)),
                -40.0 - i,
                None,
            )
        )
    return tuple(fits)


def group(name: str, pieces: Sequence[PieceResult], *, reference: bool = False) -> GroupResult:
    mine = [p for p in pieces if p.group == name]
    used = [p for p in mine if p.void is None]
    kinds = [p.kind for p in used]
    told = [p for p in used if p.kind is not IntervalKind.AT_LEAST]
    mids = [
        p.lower if p.upper is None else (p.lower + p.upper) / 2.0
        for p in used
        if p.lower is not None
    ]
    capped = len(used) - len(told)
    median, at_least, curve, fits = Bound(None, None, None, 0.95), None, None, _fits(None, None)
    p75 = p95 = None
    if len(told) >= 2:
        logs = [math.log(m) for m in mids if m > 0.0]
        share = 1.0 + 0.6 * capped / len(used)
        mu = sum(logs) / len(logs) + 0.12 * capped / len(used)
        sigma = share * max(
            0.01, math.sqrt(sum((v - sum(logs) / len(logs)) ** 2 for v in logs) / (len(logs) - 1))
        )
        half = 2.3 * sigma / math.sqrt(len(used))
        median = Bound(math.exp(mu), math.exp(mu - half), math.exp(mu + half), 0.95)
        fits = _fits(sigma, mu)
        p75, p95 = math.exp(mu - 2.1 * sigma), math.exp(mu - 2.9 * sigma)
        z = [-2.6 + 0.1 * i for i in range(53)]
        curve = Curve(
            tuple(math.exp(mu + sigma * v) for v in z), tuple(NormalDist().cdf(v) for v in z)
        )
    elif used and not told:
        lowest = min(m for m in mids)
        at_least = Bound(None, lowest, None, 1.0 - 2.0 ** -len(used))
    return GroupResult(
        name=name,
        is_reference=reference,
        pieces=len(mine),
        used=len(used),
        void=len(mine) - len(used),
        exact=kinds.count(IntervalKind.EXACT),
        between=kinds.count(IntervalKind.BETWEEN),
        at_most=kinds.count(IntervalKind.AT_MOST),
        at_least=kinds.count(IntervalKind.AT_LEAST),
        wrong_way=sum(p.cause is Cause.WRONG_WAY for p in used),
        lowest=min(mids, default=None),
        highest=max(mids, default=None),
        median=median,
        at_least_median=at_least,
        p5_lower_75=p75,
        p5_lower_95=p95,
        fits=fits,
        curve=curve,
        held=_kaplan_meier(used) if used else None,
    )


def ratio(
    value: float | None,
    lower: float | None,
    upper: float | None,
    *,
    family: str = "lognormal",
    method: RatioMethod = RatioMethod.CALIBRATED,
    missing: str | None = None,
) -> RatioResult:
    none = value is None and lower is None and upper is None
    return RatioResult(
        family=family,
        method=RatioMethod.NONE if none else method,
        ratio=value,
        lower=lower,
        upper=upper,
        level=0.95,
        sure_stronger=None if none else 0.9998,
        sure_weaker=None if none else 0.0002,
        resamples=0 if none else 4000,
        missing=missing,
    )


def comparison(
    name: str,
    reference: str,
    kind: VerdictKind,
    numbers: tuple[float | None, float | None, float | None],
    *,
    level: float = 0.95,
    still: float | None = None,
    more: int | None = None,
    more_capped: bool = False,
    p_holm: float | None = None,
    alternatives: tuple[Alternative, ...] = (),
    adjusted: tuple[AdjustedRatio, ...] = (),
    sessions: SessionAgreement | None = None,
    missing: str | None = None,
) -> Comparison:
    value, lower, upper = numbers
    plain = ratio(value, lower, upper, missing=missing)
    beats = None if value is None else 0.5 + math.atan(3.0 * math.log(value)) / math.pi
    return Comparison(
        group=name,
        reference=reference,
        verdict=Verdict(
            kind=kind,
            ratio=value,
            lower=lower,
            upper=upper,
            level=level,
            p_value=None if value is None else 0.0123,
            p_holm=p_holm,
            still_possible=still,
            more_pieces=more,
            more_pieces_capped=more_capped,
        ),
        ratio=plain,
        quick=dataclasses.replace(plain, method=RatioMethod.QUICK, resamples=0),
        chance=Chance(
            beats,
            None if beats is None else max(0.0, beats - 0.2),
            None if beats is None else min(1.0, beats + 0.15),
            0.95,
        ),
        families=tuple(
            dataclasses.replace(plain, family=f, ratio=None if value is None else value * k)
            for f, k in zip(FAMILIES, (1.0, 0.995, 0.997), strict=True)
        ),
        alternatives=alternatives,
        adjusted=adjusted,
        sessions=sessions,
        log_rank_p=None if value is None else 0.004,
    )


def answer_from(
    pieces: Sequence[PieceResult],
    names: Sequence[str],
    comparisons: Sequence[Comparison],
    *,
    worth: float | None = 1.2,
    notices: Sequence[Notice] = (),
    unit: ForceUnit = ForceUnit.N,
    invented: bool = True,
    record: Mapping[str, str] | None = None,
    title: str = "Do wedges make coat-rail pegs hold better?",
    question: str = "Does a wedge make a glued peg tenon hold better in ash?",
) -> Answer:
    kept = {"material": "ash, one plank, 2024"} if record is None else record
    return Answer(
        schema=SCHEMA,
        title=title,
        question=question,
        invented=invented,
        unit=unit,
        reference=names[0],
        counts="let go",
        worth=worth,
        groups=tuple(group(n, pieces, reference=n == names[0]) for n in names),
        comparisons=tuple(comparisons),
        log_rank=LogRank(21.27, 0.004, None),
        pieces=tuple(pieces),
        notices=tuple(notices),
        record=kept,
        lacking=tuple(key for key in RECORD_KEYS if key not in kept),
        method=Method("0.1.0", "lognormal", FAMILIES, 0.95, 20250301, 4000, 1000),
    )


def sheet(
    groups: Mapping[str, Sequence[str]], *, wrong: Sequence[str] = (), start: int = 2
) -> list[PieceResult]:
    """Pieces of each group from cells, with specimen labels such as ``P3`` and ``W10``."""
    rows: list[PieceResult] = []
    for name, cells in groups.items():
        for i, cell in enumerate(cells, 1):
            label = f"{name[0].upper()}{i}"
            rows.append(piece(label, name, cell, line=start + len(rows), wrong=label in wrong))
    return rows


def full() -> Answer:
    """Voids, wrong-way breaks, sessions, an adjusted ratio, alternatives and several warnings."""
    rows = sheet({"plain": PLAIN, "wedged": WEDGED}, wrong=("W8",))
    rows.append(piece("P11", "plain", "210", line=22, void="cracked before the test", note="knot"))
    rows.append(piece("W11", "wedged", "", line=23, void="display went dark before the first load"))
    alternatives = (
        Alternative("wrong-way-counts", ("W8",), ratio(1.35, 1.2, 1.52), VerdictKind.STRONGER),
        Alternative(
            "right-way-only", ("W8",), ratio(1.46, 1.33, 1.64), VerdictKind.STRONGER_MATTERS
        ),
        Alternative("void-back", ("P11",), ratio(1.55, 1.3, None), VerdictKind.STRONGER_MATTERS),
        Alternative(
            "ceiling", ("W3", "W5", "W9"), ratio(1.44, 1.31, 1.62), VerdictKind.STRONGER_MATTERS
        ),
    )
    adjusted = (
        AdjustedRatio(
            ("mass_g", "block"),
            20,
            ratio(1.41, 1.27, 1.57, method=RatioMethod.REGRESSION),
            {"mass_g": 1.04},
        ),
    )
    sessions = SessionAgreement(
        (
            SessionRatio("2025-03-01", 5, 5, ratio(1.39, 1.12, 1.8)),
            SessionRatio("2025-03-02", 5, 5, ratio(1.5, 1.2, None)),
        ),
        0.62,
    )
    notices = (
        Notice(
            "hidden-ceiling",
            Weight.WARNING,
            ("wedged",),
            ("W3", "W5", "W9"),
            {"value_N": 700.0, "lowest_N": 700.0, "count": 3, "chance": 0.001, "taken": "at-least"},
        ),
        Notice("wrong-way-independence", Weight.WARNING, ("wedged",), ("W8",), {"count": 1}),
        Notice("wrong-way-changes-verdict", Weight.WARNING, ("wedged",), ("W8",), {}),
        Notice("left-out", Weight.REMARK, (), ("P11", "W11"), {"count": 2}),
        Notice("sessions-agree", Weight.REMARK, ("wedged",), (), {"p": 0.62}),
        Notice("never-checked", Weight.WARNING, (), (), {"instrument": "left scale"}),
        Notice("a-code-from-the-future", Weight.REMARK, ("wedged",), (), {"depth_mm": 3}),
    )
    return answer_from(
        rows,
        ("plain", "wedged"),
        [
            comparison(
                "wedged",
                "plain",
                VerdictKind.STRONGER_MATTERS,
                (1.441342, 1.312333, 1.621719),
                alternatives=alternatives,
                adjusted=adjusted,
                sessions=sessions,
            )
        ],
        notices=notices,
    )


def three_groups() -> Answer:
    rows = sheet(
        {
            "plain": PLAIN,
            "wedged": WEDGED,
            "foxed": ("455", "<520", "470..530", "501", "388", "467", "482", "430"),
        }
    )
    k = 1.0 - 0.05 / 2.0
    return answer_from(
        rows,
        ("plain", "wedged", "foxed"),
        [
            comparison(
                "wedged",
                "plain",
                VerdictKind.STRONGER_MATTERS,
                (1.441, 1.29, 1.66),
                level=k,
                p_holm=0.0006,
            ),
            comparison(
                "foxed",
                "plain",
                VerdictKind.NOT_SETTLED,
                (1.03, 0.89, 1.27),
                level=k,
                p_holm=0.55,
                still=1.27,
                more=14,
            ),
        ],
        notices=(Notice("several-groups", Weight.REMARK, (), (), {"k": 2}),),
        unit=ForceUnit.KN,
    )


def all_capped() -> Answer:
    rows = sheet({"plain": PLAIN, "wedged": (">620",) * 6})
    return answer_from(
        rows,
        ("plain", "wedged"),
        [
            comparison(
                "wedged",
                "plain",
                VerdictKind.ONLY_LOWER_LIMIT,
                (None, 1.21, None),
                missing="all-capped",
            )
        ],
        notices=(Notice("all-capped", Weight.WARNING, ("wedged",), (), {"n": 6}),),
    )


def reference_capped() -> Answer:
    rows = sheet({"plain": (">620",) * 5, "wedged": PLAIN})
    return answer_from(
        rows,
        ("plain", "wedged"),
        [
            comparison(
                "wedged",
                "plain",
                VerdictKind.ONLY_UPPER_LIMIT,
                (None, None, 0.81),
                missing="reference-all-capped",
            )
        ],
    )


def no_answer() -> Answer:
    rows = sheet(
        {"plain": (">620",) * 4, "wedged": (">620", ">620", ">500", ">620")}, wrong=("W3",)
    )
    return answer_from(
        rows,
        ("plain", "wedged"),
        [
            comparison(
                "wedged",
                "plain",
                VerdictKind.NO_ANSWER,
                (None, None, None),
                missing="both-all-at-least",
            )
        ],
        notices=(Notice("all-capped", Weight.WARNING, ("plain",), (), {"n": 6}),),
        invented=False,
        record=dict.fromkeys(RECORD_KEYS, "stated"),
    )


def _two(
    kind: VerdictKind,
    numbers: tuple[float | None, float | None, float | None],
    other: Sequence[str],
    *,
    worth: float | None = 1.2,
    still: float | None = None,
    more: int | None = None,
    more_capped: bool = False,
) -> Answer:
    rows = sheet({"plain": PLAIN, "wedged": other})
    found = comparison(
        "wedged", "plain", kind, numbers, still=still, more=more, more_capped=more_capped
    )
    return answer_from(rows, ("plain", "wedged"), [found], worth=worth)


def unlimited() -> Answer:
    """Not settled, with no upper limit and a number of pieces beyond what was computed."""
    return _two(
        VerdictKind.NOT_SETTLED,
        (1.31, 0.8, None),
        (">400", "590", ">520", "610"),
        more=400,
        more_capped=True,
    )


def awkward_names() -> Answer:
    """Names that a page must not take for markup, and that are too long for a label."""
    long = 'drawbored with a <b>tapered</b> & "offset" oak peg, two coats of hide glue, 2 h'
    rows = sheet({"plain": PLAIN, long: WEDGED})
    return answer_from(
        rows,
        ("plain", long),
        [comparison(long, "plain", VerdictKind.STRONGER, (1.44, 1.0032, 1.9))],
        worth=None,
        title="<script>alert(1)</script> & friends",
        question="",
    )


def many_groups() -> Answer:
    """Eight groups, the crowded case for every chart."""
    names = [f"glue {i}" for i in range(1, 9)]
    cells = {
        name: [f"{300 + 25 * i + (37 * j * (i + 3)) % 160}" for j in range(6)]
        for i, name in enumerate(names)
    }
    rows = sheet(cells)
    return answer_from(
        rows,
        names,
        [
            comparison(
                name,
                names[0],
                VerdictKind.NOT_SETTLED,
                (1.0 + 0.07 * i, 0.8 + 0.06 * i, 1.3 + 0.08 * i),
                level=0.9929,
                still=1.9,
                more=12,
            )
            for i, name in enumerate(names[1:], 1)
        ],
    )


def large(pieces: int = 1500) -> Answer:
    """Groups too large to draw every dot or list every row."""
    quantile = NormalDist().inv_cdf
    cells = {
        name: [
            f"{middle * math.exp(0.15 * quantile((i + 0.5) / pieces)):.0f}" for i in range(pieces)
        ]
        for name, middle in (("plain", 450.0), ("wedged", 480.0))
    }
    rows = sheet(cells)
    found = comparison("wedged", "plain", VerdictKind.NO_DIFFERENCE, (1.067, 1.05, 1.08))
    return answer_from(
        rows,
        ("plain", "wedged"),
        [found],
        notices=(Notice("large-groups", Weight.REMARK, (), (), {"n": 400}),),
    )


CLOSE = ("430", "502", "455", "540", "410", "488", "470", "449", "461", "512")
WEAK = ("231", "302", "255", "340", "210", "288", "270", "249", "261", "312")


def of_kind(kind: VerdictKind) -> Answer:
    """A realistic answer with the verdict ``kind``."""
    match kind:
        case VerdictKind.STRONGER_MATTERS:
            return full()
        case VerdictKind.STRONGER:
            return _two(kind, (1.23, 1.08, 1.4), WEDGED)
        case VerdictKind.WEAKER:
            return _two(kind, (0.88, 0.79, 0.97), CLOSE)
        case VerdictKind.WEAKER_MATTERS:
            return _two(kind, (0.58, 0.5, 0.67), WEAK)
        case VerdictKind.NO_DIFFERENCE:
            return _two(kind, (1.01, 0.94, 1.09), CLOSE)
        case VerdictKind.NOT_SETTLED:
            return _two(kind, (1.10, 0.93, 1.31), CLOSE, still=1.31, more=9)
        case VerdictKind.ONLY_LOWER_LIMIT:
            return all_capped()
        case VerdictKind.ONLY_UPPER_LIMIT:
            return reference_capped()
        case VerdictKind.NO_ANSWER:
            return no_answer()


ALL = {
    **{kind.value: of_kind(kind) for kind in VerdictKind},
    "three groups": three_groups(),
    "unlimited": unlimited(),
    "awkward names": awkward_names(),
    "many groups": many_groups(),
}
