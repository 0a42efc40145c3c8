"""Studies into pieces, and what a person is told about how the rows were understood."""

import datetime as dt
import re
from dataclasses import replace
from pathlib import Path

import pytest

from breakwright.model.instrument import Instrument, KnownWeight
from breakwright.model.interval import Interval, IntervalKind
from breakwright.model.notice import Notice, Weight
from breakwright.model.outcome import Cause
from breakwright.model.study import Study
from breakwright.model.trial import Ending, Reading, Sharing, Trial
from breakwright.usecases.understand import pieces_of, understanding_notices

DOCS = Path(__file__).parents[3] / "docs"
SCALE = Instrument("crane", capacity=450.0, resolution=2.0, weights=(KnownWeight(400.0, 400.0),))


def trial(name: str, *loads: float | Interval, group: str = "plain", **more) -> Trial:
    readings = tuple(
        Reading(load if isinstance(load, Interval) else Interval.exact(load), str(load))
        for load in loads
    )
    return Trial(name, group, readings, **more)


def study(*trials: Trial, **more) -> Study:
    return Study(trials, ("plain", "wedged"), "plain", **more)


def notices(asked: Study) -> dict[str, Notice]:
    found = understanding_notices(asked, pieces_of(asked))
    assert len({n.code for n in found}) == len(found)
    return {n.code: n for n in found}


QUIET = {"instruments": (SCALE,)}


def test_every_row_is_a_piece_in_the_order_of_the_sheet() -> None:
    day = dt.date(2024, 5, 1)
    one = trial(
        "P2",
        412.0,
        group="wedged",
        failure="pull-out",
        block="board 1",
        order=3,
        date=day,
        note="knot",
        covariates={"density_kg_m3": 680.0},
        line=7,
    )
    asked = study(one, trial("P1", void="dropped"), trial("P3", 450.0), **QUIET)
    pieces = pieces_of(asked)
    assert [p.specimen for p in pieces] == ["P2", "P1", "P3"]
    first, empty, capped = pieces
    assert (first.group, first.written, first.failure) == ("wedged", ("412.0",), "pull-out")
    assert (first.block, first.order, first.date, first.note) == ("board 1", 3, day, "knot")
    assert (dict(first.covariates), first.line) == ({"density_kg_m3": 680.0}, 7)
    # 411 x 400/401 and 413 x 400/399; the most that can be read is 449 x 400/401.
    assert first.lower == pytest.approx(409.97506, abs=5e-6)
    assert first.upper == pytest.approx(414.03509, abs=5e-6)
    assert first.limit == pytest.approx(447.88030, abs=5e-6)
    assert (first.kind, first.cause) == (IntervalKind.BETWEEN, Cause.MEASURED)
    assert (empty.lower, empty.upper, empty.kind, empty.cause) == (None, None, None, None)
    assert (empty.limit, empty.steps, empty.void) == (None, (), "dropped")
    assert (capped.upper, capped.kind, capped.cause) == (
        None,
        IntervalKind.AT_LEAST,
        Cause.OVER_RANGE,
    )


def test_a_void_piece_keeps_what_was_read() -> None:
    asked = study(trial("P1", 300.0, void="pilot", failure="shank"), counts="pull-out")
    (piece,) = pieces_of(asked)
    assert (piece.void, piece.lower, piece.upper) == ("pilot", 300.0, None)
    assert piece.cause is Cause.WRONG_WAY
    assert piece.limit is None


def test_wrong_way_breaks_taken_as_strengths() -> None:
    """The way that the other view of the same data is made."""
    asked = study(trial("P1", 300.0, failure="shank"), trial("P2", 450.0, failure="shank"), **QUIET)
    counted = replace(asked, counts="pull-out")
    assert [p.cause for p in pieces_of(counted)] == [Cause.WRONG_WAY, Cause.WRONG_WAY]
    assert [p.cause for p in pieces_of(asked)] == [Cause.MEASURED, Cause.OVER_RANGE]


def test_a_study_with_nothing_to_say_raises_nothing() -> None:
    asked = study(
        trial("P1", 300.0, failure="pull-out"),
        trial("P2", 320.0, failure="Pull-out", group="wedged"),
        trial("P3", void="dropped"),
        counts="pull-out",
        **QUIET,
    )
    assert notices(asked) == {}


def test_a_sheet_alone_is_told_what_is_not_known_of_the_scale() -> None:
    found = notices(study(trial("P1", 300.0), trial("P2", 310.0)))
    assert set(found) == {"never-checked", "no-limit-stated"}
    assert found["never-checked"].weight is Weight.REMARK
    assert found["no-limit-stated"].weight is Weight.REMARK
    assert found["no-limit-stated"].facts["instruments"] is None


def test_no_limit_matters_once_a_reading_is_at_least() -> None:
    found = notices(study(trial("P1", 300.0), trial("P2", Interval.at_least(440.0))))
    assert found["no-limit-stated"].weight is Weight.WARNING
    assert found["no-limit-stated"].pieces == ("P2",)


def test_left_out_pieces_raise_nothing() -> None:
    asked = study(trial("P1", 300.0), trial("P2", 900.0, void="slipped"), **QUIET)
    assert notices(asked) == {}


def test_unverified_above() -> None:
    found = notices(study(trial("P1", 390.0), trial("P2", 430.0, group="wedged"), **QUIET))
    assert set(found) == {"unverified-above"}
    notice = found["unverified-above"]
    assert (notice.groups, notice.pieces) == (("wedged",), ("P2",))
    assert notice.facts["verified_up_to"] == 400.0
    assert notice.facts["instrument"] == "crane"


def test_calibration_wide_names_the_light_weight() -> None:
    light = replace(SCALE, weights=(KnownWeight(10.0, 10.0), KnownWeight(400.0, 400.0)))
    facts = notices(study(trial("P1", 390.0), instruments=(light,)))["calibration-wide"].facts
    assert facts["coarsest_weight"] == 10.0
    assert (facts["smallest"], facts["largest"]) == (10.0 / 11.0, 10.0 / 9.0)
    assert (facts["smallest_without"], facts["largest_without"]) == (400 / 401, 400 / 399)


def test_at_and_above_the_capacity() -> None:
    asked = study(
        trial("P1", 300.0),
        trial("P2", 450.0),
        trial("P3", 520.0),
        trial("P4", Interval.at_least(450.0)),
        trial("P5", 450.0, ending=Ending.OVER_RANGE),
        instruments=(replace(SCALE, weights=(KnownWeight(600.0, 600.0),)),),
    )
    found = notices(asked)
    assert set(found) == {"reading-at-capacity", "reading-above-capacity"}
    assert found["reading-at-capacity"].pieces == ("P2",)
    assert found["reading-at-capacity"].weight is Weight.REMARK
    above = found["reading-above-capacity"]
    assert (above.pieces, above.weight) == (("P3",), Weight.WARNING)
    assert (above.facts["largest"], above.facts["usable"]) == (520.0, 450.0)


def test_missed_between_refreshes() -> None:
    slow = replace(SCALE, refresh=0.5)
    asked = study(
        trial("P1", 300.0, rate=100.0),
        trial("P2", 300.0, rate=3.0),  # 1.5 N, less than the step of 2 N
        trial("P3", 300.0),
        trial("P4", 300.0, ending=Ending.STOPPED),
        instruments=(slow,),
    )
    found = notices(asked)
    assert set(found) == {"missed-between-refreshes", "refresh-without-rate"}
    missed = found["missed-between-refreshes"]
    assert missed.pieces == ("P1",)
    assert (missed.facts["most"], missed.facts["resolution"]) == (50.0, 2.0)
    assert missed.facts["largest_share"] == pytest.approx(50.0 / (299.0 * 400.0 / 401.0))
    assert found["refresh-without-rate"].pieces == ("P3",)
    assert found["refresh-without-rate"].facts["refresh_s"] == 0.5


def test_failures() -> None:
    mixed = study(
        trial("P1", 300.0, failure="shank"),
        trial("P2", 300.0, failure="Pull-out"),
        trial("P3", 300.0, failure="pull-out "),
        trial("P4", 300.0),
        **QUIET,
    )
    found = notices(mixed)
    assert set(found) == {"failure-modes-mixed"}
    assert found["failure-modes-mixed"].facts["modes"] == "Pull-out 2, shank 1"
    assert found["failure-modes-mixed"].facts["kinds"] == 2
    counted = notices(replace(mixed, counts="pull-out"))
    assert set(counted) == {"failure-not-stated"}
    assert counted["failure-not-stated"].pieces == ("P4",)
    never = notices(replace(mixed, counts="pull out"))
    assert set(never) == {"failure-not-stated", "counted-mode-never-seen"}
    assert never["counted-mode-never-seen"].facts["counts"] == "pull out"


def test_shared_loads() -> None:
    pair = (replace(SCALE, name="left"), replace(SCALE, name="right"))
    both = (
        Reading(Interval.exact(300.0), "300", "left"),
        Reading(Interval.exact(200.0), "", "right"),
    )
    asked = study(
        Trial("P1", "plain", both),
        Trial("P2", "plain", both[:1]),
        Trial("P3", "plain", both, together=490.0),
        Trial("P4", "plain", both, together=600.0),
        Trial("P5", "plain", both[:1], ending=Ending.SCREEN_LOST),
        instruments=pair,
    )
    found = notices(asked)
    assert set(found) == {"sharing-not-stated", "display-missing", "together-above-peaks"}
    assert found["sharing-not-stated"].pieces == ("P1", "P3", "P4")
    assert found["display-missing"].pieces == ("P2",)
    assert found["together-above-peaks"].pieces == ("P4",)
    stated = notices(replace(asked, sharing=Sharing.SEPARATE_PEAKS))
    assert "sharing-not-stated" not in stated


def test_instruments_that_cannot_be_told_apart() -> None:
    pair = (replace(SCALE, name="left"), replace(SCALE, name="right"))
    stray = Trial("P2", "plain", (Reading(Interval.exact(200.0), "200", "old"),))
    found = notices(study(trial("P1", 300.0), stray, instruments=pair))
    unclear = found["instrument-unclear"]
    assert unclear.pieces == ("P1", "P2")
    assert (unclear.facts["named"], unclear.facts["known"]) == ("old", "left, right")


def test_nothing_learned() -> None:
    one = trial("P1", Interval.at_most(30.0), ending=Ending.STOPPED)
    assert notices(study(one, trial("P2", 300.0), **QUIET))["nothing-learned"].pieces == ("P1",)


CODES = (
    "calibration-wide",
    "counted-mode-never-seen",
    "display-missing",
    "failure-modes-mixed",
    "failure-not-stated",
    "instrument-unclear",
    "missed-between-refreshes",
    "never-checked",
    "no-limit-stated",
    "nothing-learned",
    "reading-above-capacity",
    "reading-at-capacity",
    "refresh-without-rate",
    "sharing-not-stated",
    "together-above-peaks",
    "unverified-above",
)


def test_every_code_has_its_paragraph() -> None:
    told = "".join(page.read_text("utf-8") for page in sorted(DOCS.glob("messages*.md")))
    assert [code for code in CODES if f"`{code}`" not in told] == []


def test_every_code_raised_is_one_of_the_known() -> None:
    """So that a new notice cannot come without its paragraph."""
    rooms = Path(__file__).parents[3] / "src" / "breakwright" / "usecases"
    source = "".join((rooms / f"{room}_doubts.py").read_text("utf-8") for room in ("scale", "row"))
    assert set(re.findall(r'"([a-z]+(?:-[a-z]+)+)"', source)) == set(CODES)
