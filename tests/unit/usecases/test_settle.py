"""How many more pieces would settle it: what must hold whatever the readings."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from breakwright.model.units import ForceUnit
from breakwright.plan.further import Hand, Judge, Truths, chances_after, first_enough
from breakwright.report.settle_words import settle_table, settle_words
from breakwright.usecases.gather import gather_study
from breakwright.usecases.quick_answer import quick_answer
from breakwright.usecases.settings import Settings
from breakwright.usecases.settle import SIZES, settle_study

SCORES = np.array([-1.27, -0.64, -0.2, 0.2, 0.64, 1.27])


def study_of(*, ratio, sigma, capacity=None, worth=None):
    """Six pieces of each: normal scores, so that ratio and scatter are what is asked for."""
    scores = sigma * SCORES / SCORES.std()
    loads = np.concatenate([100.0 * np.exp(scores), 100.0 * ratio * np.exp(scores)])
    upper = loads.copy()
    if capacity is not None:
        upper = np.where(loads >= capacity, np.inf, loads)
        loads = np.minimum(loads, capacity)
    study, _ = gather_study(
        ["a"] * 6 + ["b"] * 6,
        loads,
        upper=upper,
        failure=None,
        unit=ForceUnit.N,
        reference="a",
        counts=None,
        worth=worth,
        resolution=None,
        capacity=capacity,
    )
    return study


def settle_of(**wish):
    study = study_of(**wish)
    [found] = settle_study(study, quick_answer(study, Settings()), seed=5)
    return found


def test_the_same_seed_gives_the_same():
    assert settle_of(ratio=1.15, sigma=0.2) == settle_of(ratio=1.15, sigma=0.2)


def test_a_settled_matter_needs_nothing():
    found = settle_of(ratio=1.8, sigma=0.15)
    assert (found.settled, found.estimate, found.chances) == (True, None, ())
    assert "does not wait for more pieces" in settle_words(found).headline
    assert settle_table(found) is None


def test_an_open_matter_has_a_number_and_a_range():
    found = settle_of(ratio=1.15, sigma=0.2)
    assert found.now == (6, 6)
    assert found.few.pieces <= found.estimate.pieces
    assert found.many.pieces is None or found.many.pieces >= found.estimate.pieces
    chances = [c.chance for c in found.chances]
    assert chances == sorted(chances)
    assert f"About {found.estimate.pieces}" in settle_words(found).headline


def test_more_scatter_needs_more_and_a_larger_difference_fewer():
    def pieces(**wish):
        needed = settle_of(**wish).estimate.pieces
        return math.inf if needed is None else needed

    assert pieces(ratio=1.15, sigma=0.15) < pieces(ratio=1.15, sigma=0.25)
    assert pieces(ratio=1.25, sigma=0.25) < pieces(ratio=1.15, sigma=0.25)


def test_nearly_alike_is_not_worth_the_wood():
    found = settle_of(ratio=1.02, sigma=0.3)
    assert found.estimate.pieces is None
    assert "not worth the wood" in settle_words(found).headline


def test_alike_is_settled_as_no_difference_where_one_was_named():
    """With a smallest ratio worth knowing, few differ little: an interval within it settles."""
    assert settle_of(ratio=1.02, sigma=0.15, worth=1.25).estimate.pieces is not None
    assert settle_of(ratio=1.02, sigma=0.15).estimate.pieces is None


def test_a_scale_that_runs_out_costs_pieces():
    found = settle_of(ratio=1.25, sigma=0.25, capacity=130.0)
    assert found.capped > 0.3
    assert found.without_limit.pieces < (found.estimate.pieces or math.inf)
    assert any("reads further" in line for line in settle_words(found).lines)


def test_a_group_wholly_out_of_range_gives_no_number():
    found = settle_of(ratio=3.0, sigma=0.1, capacity=150.0)
    assert found.missing == "no-estimate"
    assert "scale that reads further" in settle_words(found).headline


@settings(max_examples=15, deadline=None)
@given(
    distance=st.floats(-0.6, 0.6),
    sigma=st.floats(0.05, 0.6),
    cap=st.sampled_from([math.inf, 0.5, 0.1]),
    wrong=st.sampled_from([0.0, 0.2]),
    worth=st.sampled_from([None, 1.1, 1.5]),
)
def test_chances_are_chances_and_never_fall(distance, sigma, cap, wrong, worth):
    hand = Hand(np.minimum(sigma * SCORES, cap), sigma * SCORES >= cap)
    truths = Truths(
        np.stack([np.zeros(60), np.full(60, distance)]),
        np.full((2, 60), sigma),
        cap,
        (wrong, wrong),
    )
    found = chances_after((hand, hand), truths, sizes=SIZES, judge=Judge(0.95, worth), seed=3)
    assert found.shape == (len(SIZES),)
    assert ((found >= 0.0) & (found <= 1.0)).all()
    assert (np.diff(found) >= -1e-12).all()


def test_first_enough_lies_between_the_sizes():
    chances = np.array([0.0, 0.4, 0.9])
    assert first_enough(chances, sizes=(1, 5, 10), chance=0.8) == 9
    assert first_enough(chances, sizes=(1, 5, 10), chance=0.95) is None


@pytest.mark.parametrize("worth", [None, 1.1])
def test_quick_and_settle_agree_that_a_matter_is_open(worth):
    study = study_of(ratio=1.1, sigma=0.25, worth=worth)
    answer = quick_answer(study, Settings())
    assert answer.comparisons[0].ratio.method.value == "quick"
    assert not settle_study(study, answer, seed=1)[0].settled
