"""The answer as a whole: what it must say, and must never say, of sheets of every kind."""

import dataclasses
import datetime as dt
import math

import numpy as np
import pytest

from breakwright.model.instrument import Instrument
from breakwright.model.interval import Interval
from breakwright.model.study import Study
from breakwright.model.trial import Ending, Reading, Trial
from breakwright.usecases.answer import answer_study
from breakwright.usecases.result import RatioMethod, VerdictKind
from breakwright.usecases.settings import CeilingReading, Settings

QUICK = Settings(resamples=400, side_resamples=200)
PLAIN = (41.2, 47.9, 44.3, 52.6, 39.8, 46.1, 49.5, 43.7, 45.0, 50.4)
STRONG = (61.3, 55.8, 74.1, 66.4, 71.2, 58.9, 63.2, 60.5, 69.9, 67.7)


def trial(group, value, number, **more):
    shown = value if isinstance(value, Interval) else Interval.exact(float(value))
    return Trial(f"{group}{number}", group, (Reading(shown, str(value)),), **more)


def study(groups, **more):
    """Loads in N by group, each a number or an Interval or a whole Trial."""
    trials = tuple(
        v if isinstance(v, Trial) else trial(g, v, i)
        for g, values in groups.items()
        for i, v in enumerate(values)
    )
    names = tuple(groups)
    return Study(trials=trials, groups=names, reference=names[0], **more)


def answered(groups, settings=QUICK, **more):
    return answer_study(study(groups, **more), settings)


def codes(answer):
    return {n.code for n in answer.notices}


def only(answer):
    assert len(answer.comparisons) == 1
    return answer.comparisons[0]


def test_a_clear_difference_is_called_stronger():
    it = answered({"plain": PLAIN, "wedged": STRONG}, worth=1.2)
    found = only(it)
    assert found.verdict.kind is VerdictKind.STRONGER_MATTERS
    assert found.verdict.lower > 1.2
    assert found.ratio.method is RatioMethod.CALIBRATED
    # For exact lognormal readings the median is the geometric mean.
    ratio = math.exp(np.log(STRONG).mean() - np.log(PLAIN).mean())
    assert found.ratio.ratio == pytest.approx(ratio, rel=1e-9)
    assert it.groups[0].median.estimate == pytest.approx(np.exp(np.log(PLAIN).mean()), rel=1e-9)


def test_the_mirror_image_is_weaker():
    it = answered({"wedged": STRONG, "plain": PLAIN}, worth=1.2)
    assert only(it).verdict.kind is VerdictKind.WEAKER_MATTERS


def test_without_a_stated_worth_nothing_is_said_to_matter():
    it = answered({"plain": PLAIN, "wedged": STRONG})
    assert only(it).verdict.kind is VerdictKind.STRONGER
    assert "no-worth-stated" in codes(it)


def test_a_wide_scatter_is_not_settled_and_says_what_is_still_possible():
    it = answered({"plain": (30, 45, 60), "wedged": (35, 50, 72)}, worth=1.2)
    verdict = only(it).verdict
    assert verdict.kind is VerdictKind.NOT_SETTLED
    ends = (verdict.lower, verdict.upper)
    assert verdict.still_possible == max(ends, key=lambda x: abs(math.log(x)))
    assert verdict.more_pieces is not None
    assert verdict.more_pieces > 0


def test_no_difference_needs_a_narrow_interval_on_both_sides():
    even = tuple(np.linspace(98.0, 102.0, 12))
    verdict = only(answered({"a": even, "b": even}, worth=1.1)).verdict
    assert verdict.kind is VerdictKind.NO_DIFFERENCE
    assert 1 / 1.1 < verdict.lower < 1 < verdict.upper < 1.1


@pytest.mark.parametrize("n", [3, 6, 10])
def test_a_wholly_capped_group_yields_a_lower_limit_only(n):
    """1 - 2^-n is the sign test's confidence (n = 3: 87.5 %, 6: 98.4 %), less what the other
    group's limit costs."""
    capped = (Interval.at_least(70.0),) * n
    it = answered({"plain": PLAIN, "wedged": capped})
    found = only(it)
    assert found.verdict.kind is VerdictKind.ONLY_LOWER_LIMIT
    assert found.ratio.ratio is None
    assert found.ratio.upper is None
    assert 1.0 < found.ratio.lower < 70.0 / np.median(PLAIN)
    assert found.ratio.level <= 1 - 2.0**-n
    assert it.groups[1].median.estimate is None
    assert it.groups[1].at_least_median.lower == 70.0
    assert it.groups[1].at_least_median.level == pytest.approx(1 - 2.0**-n)


def test_a_wholly_capped_reference_yields_an_upper_limit_only():
    capped = (Interval.at_least(70.0),) * 6
    found = only(answered({"plain": capped, "wedged": PLAIN}))
    assert found.verdict.kind is VerdictKind.ONLY_UPPER_LIMIT
    assert found.ratio.lower is None
    assert found.ratio.upper < 1.0


def test_both_capped_no_answer():
    capped = (Interval.at_least(70.0),) * 6
    it = answered({"plain": capped, "wedged": capped})
    assert only(it).verdict.kind is VerdictKind.NO_ANSWER
    assert it.log_rank.missing == "all-at-least"


def test_capped_readings_raise_the_estimate_above_their_average():
    """Averaging a capped reading as a strength is the common mistake; 'at least' must do more."""
    readings = (*STRONG[:5], *(Interval.at_least(75.0),) * 5)
    it = answered({"plain": PLAIN, "wedged": readings})
    assert it.groups[1].median.estimate > np.exp(np.log([*STRONG[:5], *[75.0] * 5]).mean())


def test_wrong_way_breaks_are_shown_both_ways():
    wrong = [trial("wedged", x, 10 + i, failure="shank") for i, x in enumerate((44.0, 46.0))]
    right = [trial("wedged", x, i, failure="pull-out") for i, x in enumerate(STRONG)]
    it = answered({"plain": PLAIN, "wedged": [*right, *wrong]}, counts="pull-out")
    assert it.groups[1].wrong_way == 2
    assert it.groups[1].at_least == 2
    found = {a.code: a for a in only(it).alternatives}
    assert set(found) == {"wrong-way-counts", "right-way-only"}
    main = only(it).ratio.ratio
    assert found["wrong-way-counts"].ratio.ratio < main
    assert found["right-way-only"].ratio.ratio == pytest.approx(
        np.exp(np.log(STRONG).mean() - np.log(PLAIN).mean()), rel=1e-9
    )
    assert "wrong-way-independence" in codes(it)


def test_left_out_pieces_stay_and_are_put_back_beside():
    out = trial("wedged", 20.0, 99, void="glue starved")
    it = answered({"plain": PLAIN, "wedged": [*STRONG, out]})
    assert it.groups[1].void == 1
    assert it.groups[1].used == len(STRONG)
    piece = next(p for p in it.pieces if p.specimen == "wedged99")
    assert piece.void == "glue starved"
    assert piece.lower == 20.0
    back = only(it).alternatives[0]
    assert back.code == "void-back"
    assert back.pieces == ("wedged99",)
    assert back.ratio.ratio < only(it).ratio.ratio
    assert "left-out" in codes(it)


def test_a_hidden_ceiling_is_found_and_both_answers_given():
    piled = (61.0, 55.5, 66.2, 70.0, 70.0, 70.0, 70.1)
    it = answered({"plain": PLAIN, "wedged": piled})
    assert "hidden-ceiling" in codes(it)
    assert it.groups[1].at_least == 4
    assert [a.code for a in only(it).alternatives] == ["ceiling-as-read"]
    as_read = answered(
        {"plain": PLAIN, "wedged": piled},
        dataclasses.replace(QUICK, ceiling=CeilingReading.AS_READ),
    )
    assert as_read.groups[1].at_least == 0
    assert [a.code for a in only(as_read).alternatives] == ["ceiling"]


def test_no_hidden_ceiling_in_ordinary_scatter():
    """Ten thousand readings of a smooth law, 500 sheets of 20: nothing piles up by itself.

    The rule's own error is 0.5 % a sheet by design; 12 of 500 would be 5 standard errors more."""
    from breakwright.stats.ceiling import find_pile

    rng = np.random.default_rng(5)
    found = 0
    for _ in range(500):
        x = np.round(np.exp(4 + 0.2 * rng.standard_normal((2, 10))), 1)
        found += find_pile([(x[0], x[0]), (x[1], x[1])], step=0.1) is not None
    assert found <= 12


def test_a_coarse_display_alone_is_no_ceiling():
    """Steps of 2 N on a scatter of 5 N give equal top readings by themselves."""
    from breakwright.stats.ceiling import find_pile

    rng = np.random.default_rng(6)
    found = 0
    for _ in range(200):
        x = 2.0 * np.round((50 + 5 * rng.standard_normal((2, 10))) / 2.0)
        found += find_pile([(x[0] - 1, x[0] + 1), (x[1] - 1, x[1] + 1)], step=2.0) is not None
    assert found <= 6


def test_a_covariate_that_separates_the_groups_is_reported_and_adjusted_for():
    rng = np.random.default_rng(4)
    heavy = [
        trial("wedged", x, i, covariates={"density_kg_m3": 720.0 + i}) for i, x in enumerate(STRONG)
    ]
    light = [
        trial("plain", x, i, covariates={"density_kg_m3": 640.0 + rng.normal()})
        for i, x in enumerate(PLAIN)
    ]
    it = answered({"plain": light, "wedged": heavy})
    notice = next(n for n in it.notices if n.code == "confounded-covariate")
    assert notice.facts["covariate"] == "density_kg_m3"
    adjusted = only(it).adjusted
    assert adjusted[0].on == ("density_kg_m3",)
    # Adjusting for what separates the groups leaves little to tell the treatment by.
    plain = only(it).ratio
    wide = math.log(adjusted[0].ratio.upper / adjusted[0].ratio.lower)
    assert wide > 2 * math.log(plain.upper / plain.lower)


def test_adjusting_for_a_balanced_board_narrows_the_interval():
    """Least squares on log load with group and board, by numpy alone."""
    boards = {"a": 0.8, "b": 1.0, "c": 1.3}
    rng = np.random.default_rng(9)
    rows, logs, columns = {"plain": [], "wedged": []}, [], []
    for g, k in (("plain", 1.0), ("wedged", 1.2)):
        for j, (name, level) in enumerate(boards.items()):
            for i in range(3):
                load = 50 * k * level * math.exp(0.03 * rng.standard_normal())
                rows[g].append(trial(g, load, f"{name}{i}", block=name))
                logs.append(math.log(load))
                columns.append([1.0, g == "wedged", j == 1, j == 2])
    it = answered(rows)
    found = next(a for a in only(it).adjusted if a.on == ("block",))
    design = np.array(columns, dtype=float)
    coef, rss = np.linalg.lstsq(design, np.array(logs), rcond=None)[:2]
    assert found.ratio.ratio == pytest.approx(math.exp(coef[1]), rel=1e-8)
    from scipy.stats import t

    error = math.sqrt(rss[0] / 14 * np.linalg.inv(design.T @ design)[1, 1])
    reach = t.ppf(0.975, 14) * error
    assert found.ratio.lower == pytest.approx(math.exp(coef[1] - reach), rel=1e-6)
    plain = only(it).ratio
    assert found.ratio.upper / found.ratio.lower < plain.upper / plain.lower


def test_boards_that_no_two_groups_share_are_reported():
    a = [trial("plain", x, i, block=f"board {i % 2}") for i, x in enumerate(PLAIN)]
    b = [trial("wedged", x, i, block=f"board {2 + i % 2}") for i, x in enumerate(STRONG)]
    assert "confounded-block" in codes(answered({"plain": a, "wedged": b}))


def test_two_days_that_disagree_are_reported():
    """The F test of the interaction by numpy: both days exact, ratio 1.8 on one and 1 on the
    other."""
    days = (dt.date(2031, 5, 1), dt.date(2031, 5, 2))
    rng = np.random.default_rng(12)
    rows, logs, design = {"plain": [], "wedged": []}, [], []
    for g in rows:
        for d, day in enumerate(days):
            for i in range(5):
                k = 1.8 if g == "wedged" and d == 0 else 1.0
                load = 50 * k * math.exp(0.1 * rng.standard_normal())
                rows[g].append(trial(g, load, f"{d}{i}", date=day))
                logs.append(math.log(load))
                w = float(g == "wedged")
                design.append([1.0, w, d, w * d])
    it = answered(rows)
    agreement = only(it).sessions
    x, y = np.array(design), np.array(logs)
    small, full = (
        float(np.sum((y - m @ np.linalg.lstsq(m, y, rcond=None)[0]) ** 2)) for m in (x[:, :3], x)
    )
    from scipy.stats import f

    expected = f.sf((small - full) / (full / 16), 1, 16)
    assert agreement.p_value == pytest.approx(expected, rel=1e-6)
    assert agreement.p_value < 0.05
    assert "sessions-disagree" in codes(it)
    assert [s.session for s in agreement.sessions] == ["2031-05-01", "2031-05-02"]


def test_groups_tested_one_after_another_are_reported():
    a = [trial("plain", x, i, order=i) for i, x in enumerate(PLAIN)]
    b = [trial("wedged", x, i, order=100 + i) for i, x in enumerate(STRONG)]
    assert "order-confounded" in codes(answered({"plain": a, "wedged": b}))


def test_several_groups_are_held_to_holm():
    rng = np.random.default_rng(21)
    groups = {g: np.exp(4 + 0.1 * rng.standard_normal(8)) for g in ("ref", "b", "c", "d")}
    it = answered(groups)
    verdicts = [c.verdict for c in it.comparisons]
    ordered = sorted(verdicts, key=lambda v: v.p_value)
    # Holm 1979: the smallest p-value times the number of comparisons, never decreasing.
    running = 0.0
    for k, v in enumerate(ordered):
        running = max(running, min(1.0, (3 - k) * v.p_value))
        assert v.p_holm == pytest.approx(running)
    assert ordered[0].level == pytest.approx(1 - 0.05 / 3)
    assert "several-groups" in codes(it)


def test_identical_readings_give_no_answer_and_say_why():
    it = answered({"plain": (50.0,) * 4, "wedged": STRONG})
    assert only(it).verdict.kind is VerdictKind.NO_ANSWER
    assert only(it).ratio.missing == "no-scatter"
    assert "no-scatter" in codes(it)


def test_a_piece_that_tells_nothing_spoils_nothing():
    stopped = trial("wedged", Interval.at_most(30.0), 77, ending=Ending.STOPPED)
    with_it = answered({"plain": PLAIN, "wedged": [*STRONG, stopped]})
    without = answered({"plain": PLAIN, "wedged": STRONG})
    assert only(with_it).ratio == only(without).ratio
    assert with_it.groups[1].pieces == 11
    assert with_it.groups[1].used == 10


def test_per_area_is_offered_where_areas_differ():
    a = [trial("plain", x, i, covariates={"area_mm2": 400.0}) for i, x in enumerate(PLAIN)]
    b = [trial("wedged", x, i, covariates={"area_mm2": 560.0}) for i, x in enumerate(STRONG)]
    it = answered({"plain": a, "wedged": b})
    found = next(x for x in only(it).alternatives if x.code == "per-area")
    assert found.ratio.ratio == pytest.approx(only(it).ratio.ratio * 400 / 560, rel=1e-9)


def test_capacity_of_an_instrument_is_the_limit_of_every_piece():
    scale = Instrument("hook", capacity=80.0, resolution=0.1)
    it = answered({"plain": PLAIN, "wedged": STRONG}, instruments=(scale,))
    assert all(p.limit == pytest.approx(79.95) for p in it.pieces)


def test_large_groups_use_the_likelihood_ratio_and_say_so():
    rng = np.random.default_rng(2)
    a, b = np.exp(4 + 0.2 * rng.standard_normal((2, 120)))
    assert only(answered({"a": a, "b": b})).ratio.method is RatioMethod.LIKELIHOOD


def test_same_study_same_seed_same_answer_and_another_seed_another():
    groups = {"plain": PLAIN, "wedged": (*STRONG[:6], Interval.at_least(70.0))}
    one, two = answered(groups), answered(groups)
    assert one == two
    other = answered(groups, dataclasses.replace(QUICK, seed=1))
    assert other != one


def test_counts_add_up():
    out = trial("plain", 20.0, 99, void="slipped")
    groups = {"plain": [*PLAIN, Interval.at_most(40.0), out], "wedged": STRONG}
    for group in answered(groups).groups:
        assert group.pieces == group.used + group.void
        assert group.used == group.exact + group.between + group.at_most + group.at_least


def test_progress_is_told_in_order():
    seen = []
    answer_study(
        study({"plain": PLAIN, "wedged": STRONG}),
        QUICK,
        progress=lambda what, share: seen.append((what, share)),
    )
    shares = [s for _, s in seen]
    assert shares == sorted(shares)
    assert shares[-1] == 1.0
