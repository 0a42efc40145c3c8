"""The order: a permutation, balanced, short runs, the same for the same seed, nothing left out."""

import math
from collections import Counter
from itertools import permutations, product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from breakwright.plan.order import Spread, make_order
from breakwright.plan.runs import ImpossibleRun, Run, _built, longest_run, shuffled

GROUPS = ("plain", "wedged", "pinned")


@st.composite
def layouts(draw):
    blocks = tuple("ABCDE"[: draw(st.integers(0, 5))])
    return Spread(
        blocks=blocks,
        days=draw(st.integers(1, 4)),
        operators=tuple("xyz"[: draw(st.integers(0, 3))]),
        pairs=draw(st.booleans()),
        longest_run=draw(st.one_of(st.none(), st.integers(1, 3))),
    )


def apart(counts):
    return max(counts) - min(counts)


@given(
    spread=layouts(),
    groups=st.integers(2, 3),
    pieces=st.integers(2, 14),
    seed=st.integers(0, 2**32),
)
def test_whatever_the_layout(spread, groups, pieces, seed):
    names = GROUPS[:groups]
    order = make_order(names, pieces=pieces, spread=spread, seed=seed)
    assert order == make_order(names, pieces=pieces, spread=spread, seed=seed)
    # A permutation: every group's piece of every set, once.
    assert sorted((p.group, p.set_) for p in order) == sorted(product(names, range(pieces)))
    assert [p.day for p in order] == sorted(p.day for p in order)
    if spread.longest_run is not None:
        assert longest_run([p.group for p in order]) <= spread.longest_run
    for attribute, parts in (
        ("block", spread.blocks),
        ("day", range(1, spread.days + 1)),
        ("operator", spread.operators),
    ):
        if not parts:
            assert {getattr(p, attribute) for p in order} == {None}
            continue
        met = Counter((getattr(p, attribute), p.group) for p in order)
        for part in parts:
            # Each group equally often in each block, on each day, with each operator.
            assert len({met[part, name] for name in names}) == 1
        assert apart([met[part, names[0]] for part in parts]) <= 1
    for k in range(pieces):
        # Pieces cut side by side share their board, day and operator.
        places = {(p.block, p.day, p.operator) for p in order if p.set_ == k}
        assert len(places) == 1
    if spread.pairs:
        sets = [p.set_ for p in order]
        assert all(len(set(sets[i : i + groups])) == 1 for i in range(0, len(sets), groups))


@pytest.mark.parametrize("seed", range(20))
@pytest.mark.parametrize(("days", "operators"), [(2, 2), (3, 3), (2, 3), (4, 2)])
def test_days_and_operators_meet_like_a_latin_square(days, operators, seed):
    """As many sets as there are meetings: every operator has every day equally often."""
    spread = Spread(days=days, operators=tuple("xyz"[:operators]))
    pieces = 2 * math.lcm(days, operators) * math.gcd(days, operators)
    order = make_order(("a", "b"), pieces=pieces, spread=spread, seed=seed)
    met = Counter((p.day, p.operator) for p in order if p.group == "a")
    assert set(met.values()) == {2}
    assert len(met) == days * operators


def test_other_seeds_other_orders():
    orders = {
        tuple(p.group for p in make_order(("a", "b"), pieces=8, spread=Spread(), seed=s))
        for s in range(20)
    }
    assert len(orders) > 15


def permitted(counts, longest, lead=()):
    pieces = [g for g, n in counts.items() for _ in range(n)]
    return {
        order
        for order in permutations(pieces)
        if longest is None or longest_run([*lead, *order]) <= longest
    }


@pytest.mark.parametrize("longest", [None, 2, 1])
def test_every_permitted_order_comes_equally_often(longest):
    """Chi-square against the uniform over all permitted orders, counted by going through them."""
    counts = {"a": 3, "b": 3}
    every = sorted(permitted(counts, longest))
    rng = np.random.default_rng(5)
    draws = 200 * len(every)
    found = Counter(shuffled(counts, longest=longest, before=Run(), rng=rng) for _ in range(draws))
    assert set(found) == set(every)
    if len(every) > 1:
        assert stats.chisquare([found[o] for o in every]).pvalue > 0.001


def test_set_by_set_every_permitted_order_comes_equally_often():
    rng = np.random.default_rng(1)
    spread = Spread(pairs=True, longest_run=1)
    draws = Counter(
        tuple(p.group for p in make_order(GROUPS, pieces=2, spread=spread, seed=int(s)))
        for s in rng.integers(0, 2**32, 6000)
    )
    every = [a + b for a, b in product(permutations(GROUPS), repeat=2) if a[-1] != b[0]]
    assert set(draws) == set(every)
    assert stats.chisquare([draws[o] for o in every]).pvalue > 0.001


@pytest.mark.parametrize(
    ("counts", "longest", "before"),
    [
        ({"a": 4, "b": 2}, 2, Run()),
        ({"a": 4, "b": 3}, 1, Run()),
        ({"a": 2, "b": 2, "c": 2}, 1, Run("a", 1)),
        ({"a": 4, "b": 2}, 2, Run("b", 2)),
        ({"a": 3, "b": 2}, 2, Run("a", 2)),
    ],
)
def test_built_piece_by_piece_every_permitted_order_can_come(counts, longest, before):
    rng = np.random.default_rng(2)
    lead = [before.group] * before.length if before.group else []
    found = {_built(counts, longest=longest, before=before, rng=rng) for _ in range(4000)}
    assert found == permitted(counts, longest, lead)


@given(
    counts=st.dictionaries(st.sampled_from("abcd"), st.integers(1, 60), min_size=1, max_size=4),
    longest=st.integers(1, 4),
    seed=st.integers(0, 2**32),
)
def test_refused_only_where_there_is_no_order(counts, longest, seed):
    """The others leave room for others + 1 runs; a group that needs more cannot be ordered."""
    total = sum(counts.values())
    possible = all(n <= longest * (total - n + 1) for n in counts.values())
    rng = np.random.default_rng(seed)
    if possible:
        order = _built(counts, longest=longest, before=Run(), rng=rng)
        assert Counter(order) == counts
        assert longest_run(order) <= longest
    else:
        with pytest.raises(ImpossibleRun) as refused:
            shuffled(counts, longest=longest, before=Run(), rng=rng)
        needed = math.ceil(refused.value.pieces / (refused.value.others + 1))
        assert needed > longest
        assert f"allow {needed} in a row" in str(refused.value)


def test_small_refusals_agree_with_going_through_all_orders():
    for a, b, longest in product(range(5), range(5), (1, 2)):
        counts = {"a": a, "b": b}
        if not a + b:
            continue
        try:
            order = shuffled(counts, longest=longest, before=Run(), rng=np.random.default_rng(0))
        except ImpossibleRun:
            assert not permitted(counts, longest)
        else:
            assert order in permitted(counts, longest)


def test_a_long_alternation_is_built_without_a_lucky_draw():
    """Of 10^23 orders of 40 and 40 pieces two alternate; no draw would find one."""
    rng = np.random.default_rng(3)
    order = shuffled({"a": 40, "b": 40}, longest=1, before=Run(), rng=rng)
    assert longest_run(order) == 1
