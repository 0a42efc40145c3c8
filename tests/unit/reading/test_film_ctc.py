"""Texts and their exact probabilities from a network's output."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from breakwright.reading.film_ctc import candidates, text_scores
from breakwright.reading.film_ctc_edits import Edit, edited
from breakwright.reading.film_ports import ALPHABET

CLASSES = 1 + len(ALPHABET)


def output(*steps: dict[str, float]) -> np.ndarray:
    """One strip's log probabilities: for each step the share of some letters ('' is the blank);
    what is left goes to all classes alike."""
    probs = np.zeros((1, len(steps), CLASSES))
    for row, shares in enumerate(steps):
        rest = (1.0 - sum(shares.values())) / CLASSES
        probs[0, row, :] = max(rest, 1e-9)
        for sign, share in shares.items():
            probs[0, row, 0 if sign == "" else 1 + ALPHABET.index(sign)] += share
    return np.log(probs / probs.sum(axis=2, keepdims=True))


def spelled(text: str, sure: float = 0.99) -> np.ndarray:
    steps = [{"": sure}]
    for sign in text:
        steps += [{sign: sure}, {sign: sure}, {"": sure}]
    return output(*steps)


def collapsed(path: tuple[int, ...]) -> str:
    kept = [a for a, b in zip(path, (0, *path), strict=False) if a != b and a != 0]
    return "".join(ALPHABET[sign - 1] for sign in kept)


def test_a_certain_row_is_read() -> None:
    texts, scores = candidates(np.concatenate([spelled("23.45"), spelled("-1.10")]))
    assert texts[0][0] == "23.45"
    assert texts[1][0] == "-1.10"
    assert scores.shape == (2, 4)
    assert scores.dtype == np.float32
    assert np.all(scores[:, 0] > np.log(0.7))


def test_no_digits_are_an_empty_text() -> None:
    texts, _ = candidates(output({"": 0.99}, {"": 0.99}, {"": 0.99}))
    assert texts[0][0] == ""


def test_no_strips_are_no_texts() -> None:
    texts, scores = candidates(np.empty((0, 8, CLASSES)))
    assert texts == ()
    assert scores.shape == (0, 4)


@pytest.mark.parametrize("seed", range(6))
def test_the_scores_are_those_of_all_paths(seed: int) -> None:
    # Truth by brute force: the probability of a text is that of all paths that collapse to it.
    # Only three letters and the blank can be seen, so that there are 4^5 paths.
    generator = np.random.default_rng(seed)
    letters = [0, 1, 2, 11]
    probs = np.full((1, 5, CLASSES), 1e-300)
    probs[0][:, letters] = generator.dirichlet(np.ones(4), 5)
    of_text: dict[str, float] = {}
    for path in product(letters, repeat=5):
        share = float(np.prod([probs[0, step, sign] for step, sign in enumerate(path)]))
        of_text[collapsed(path)] = of_text.get(collapsed(path), 0.0) + share
    names = list(of_text)
    got = text_scores(np.log(probs), np.zeros(len(names), np.intp), names)
    assert np.exp(got) == pytest.approx([of_text[name] for name in names], abs=1e-12)
    texts, scores = candidates(np.log(probs))
    assert scores[0, 0] == pytest.approx(np.log(of_text[texts[0][0]]), abs=1e-5)


def test_an_uncertain_digit_has_its_other_reading() -> None:
    steps = [{"": 0.99}, {"1": 0.99}, {"": 0.99}, {"8": 0.55, "0": 0.44}, {"8": 0.5, "0": 0.49}]
    texts, scores = candidates(output(*steps, {"": 0.99}))
    assert set(texts[0][:2]) == {"18", "10"}
    assert scores[0, 1] > np.log(0.15)


def test_two_uncertain_digits_have_all_four_readings() -> None:
    pair = {"8": 0.6, "6": 0.39}
    texts, _ = candidates(output(pair, {"": 0.99}, {"3": 0.55, "9": 0.44}, {"": 0.99}))
    assert set(texts[0]) == {"83", "89", "63", "69"}


def test_a_doubtful_point_is_left_out_or_put_in() -> None:
    steps = [{"2": 0.99}, {"": 0.99}, {".": 0.55, "": 0.44}, {"": 0.99}, {"5": 0.99}]
    texts, _ = candidates(output(*steps))
    assert texts[0][:2] == ("2.5", "25")
    steps[2] = {".": 0.44, "": 0.55}
    texts, _ = candidates(output(*steps))
    assert texts[0][:2] == ("25", "2.5")


def test_ones_side_by_side_may_be_one() -> None:
    steps = [{"1": 0.99}, {"1": 0.55, "": 0.44}, {"1": 0.99}]
    texts, _ = candidates(output(*steps))
    assert set(texts[0][:2]) == {"1", "11"}
    steps[1] = {"1": 0.44, "": 0.55}
    texts, _ = candidates(output(*steps))
    assert set(texts[0][:2]) == {"1", "11"}


def test_at_most_so_many_are_kept_best_first() -> None:
    generator = np.random.default_rng(5)
    logs = np.log(generator.dirichlet(np.full(CLASSES, 0.3), (7, 12)))
    texts, scores = candidates(logs, keep=3)
    assert scores.shape == (7, 3)
    for some, row in zip(texts, scores, strict=True):
        assert len(some) == len(set(some)) == np.isfinite(row).sum()
        assert list(row[np.isfinite(row)]) == sorted(row[np.isfinite(row)], reverse=True)
        assert np.exp(row.astype(float)).sum() <= 1.0 + 1e-6


@given(st.text(ALPHABET, max_size=7))
def test_every_text_comes_back(text: str) -> None:
    texts, _ = candidates(spelled(text))
    assert texts[0][0] == text


def test_edits_of_one_text() -> None:
    assert edited("239.9", [Edit(0.0, 2, 3, "4"), Edit(0.0, 0, 0, "-")]) == "-234.9"
