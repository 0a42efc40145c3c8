"""Labels: different, hard to mix up, silent about the group."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from breakwright.plan.labels import LETTERS, MIXED_UP, make_labels, misreadings
from breakwright.plan.order import Spread, make_order


@pytest.mark.parametrize("count", [0, 1, 6, 80, 90, 91, 810, 811])
def test_no_label_is_another_one_misread(count):
    """However many of its signs are taken for one that they are mixed up with."""
    labels = make_labels(count, seed=3)
    assert len(set(labels)) == count
    known = set(labels)
    for label in labels:
        assert not misreadings(label) & known


def test_no_two_letters_in_use_are_mixed_up():
    assert not [s for s in MIXED_UP if len(s & set(LETTERS)) > 1]
    assert not set(LETTERS) & set("O0I1S5B8Z2Q")


@given(count=st.integers(0, 300), seed=st.integers(0, 2**32))
def test_short_repeatable_and_without_doubled_letters(count, seed):
    labels = make_labels(count, seed=seed)
    assert labels == make_labels(count, seed=seed)
    assert {len(label) for label in labels} <= ({2} if count <= 90 else {3})
    assert all(a != b for label in labels for a, b in pairwise(label))


def test_the_label_tells_nothing_of_the_group():
    """First letters of the labels against groups over many plans: no more alike than by chance."""
    table = {g: dict.fromkeys(LETTERS, 0) for g in ("plain", "wedged")}
    for seed in range(400):
        order = make_order(("plain", "wedged"), pieces=6, spread=Spread(), seed=seed)
        for label, piece in zip(make_labels(12, seed=seed), order, strict=True):
            table[piece.group][label[0]] += 1
    counts = [list(row.values()) for row in table.values()]
    assert stats.chi2_contingency(counts).pvalue > 0.01


def test_misread_signs_stand_alone():
    assert misreadings("H") == {"N"}
    assert "8" in misreadings("B")
    assert make_labels(5, seed=1) != make_labels(5, seed=2)
    with pytest.raises(ValueError, match="-1 labels"):
        make_labels(-1, seed=1)
