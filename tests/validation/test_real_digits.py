"""The packaged network on rows of real digits and in fonts that it was not trained on.

Targets are the project's own: 97 % of the rows of real digits (digits exact: the photographs show
no points, though some show a bit of the next digit that looks like one), 98 % of the rows in fonts.
"""

from pathlib import Path

import numpy as np
import pytest
from training.evaluate_faces import FONTS, fonts_in
from training.evaluate_fonts import curve, evaluate_fonts
from training.evaluate_real import evaluate_real, real_rows
from training.evaluate_score import Known, Score, score
from training.strips.strip import strips

from breakwright.reading.film_ports import ALPHABET, DigitReader
from breakwright.video.digit_network import digit_reader

DIGITS = Path(__file__).parents[3] / "shared" / "data" / "real-digits"
needs_digits = pytest.mark.skipif(not DIGITS.is_dir(), reason="the real digits are not here")
needs_fonts = pytest.mark.skipif(not fonts_in(FONTS), reason="fonts-dseg is not installed")


@pytest.fixture(scope="module")
def reader() -> DigitReader:
    return digit_reader()


@pytest.fixture(scope="module")
def real(reader: DigitReader) -> Score:
    return evaluate_real(reader, DIGITS, rows=200, seed=21)


@pytest.fixture(scope="module")
def synthetic(reader: DigitReader) -> Score:
    made = strips(99_000_002, 800)
    return score(reader, [Known(one.gray, one.gray, one.text, "synthetic") for one in made])


def wrong_though_sure(found: Score, *, at: float) -> float:
    sure = found.sure >= at
    return float(np.mean(~found.right[sure]))


@needs_digits
def test_rows_of_real_digits(real: Score) -> None:
    assert real.count == 200
    assert real.exact_without_point / real.count >= 0.97
    # Below the target of 97 %, measured at 95.3 % on 1000 rows: no better is promised.
    assert real.rate >= 0.92


@needs_digits
def test_what_is_claimed_of_real_digits_is_true(real: Score) -> None:
    # Half of the rows must be claimed at all: a reader that is never sure would pass the rest.
    assert np.mean(real.sure >= 0.99) > 0.5
    assert wrong_though_sure(real, at=0.99) <= 0.02


@needs_digits
def test_rows_of_real_digits_are_the_same_again_and_vary_in_length() -> None:
    first, again = (real_rows(DIGITS, rows=20, seed=4) for _ in range(2))
    assert [one.text for one in first] == [one.text for one in again]
    assert all(np.array_equal(a.strip, b.strip) for a, b in zip(first, again, strict=True))
    assert {len(one.text) for one in first} == {3, 4, 5, 6}


@needs_fonts
def test_fonts_and_strokes_that_were_not_trained_on(reader: DigitReader) -> None:
    assert evaluate_fonts(reader, rows=400, seed=22).rate >= 0.98


@needs_fonts
def test_what_cannot_be_read_is_not_claimed(reader: DigitReader) -> None:
    sharp, blurred = curve(reader, "blur", values=(0.02, 0.2), rows=120)
    assert blurred.found.rate < 0.7 < sharp.found.rate
    assert np.median(blurred.found.sure) < 0.7
    assert np.mean(~blurred.found.right & (blurred.found.sure >= 0.99)) <= 0.01


def test_probabilities_mean_what_they_say(synthetic: Score) -> None:
    assert np.mean(synthetic.sure >= 0.99) > 0.3
    assert wrong_though_sure(synthetic, at=0.99) <= 0.01
    # Over all strips what is claimed and what is right differ by little.
    assert abs(float(synthetic.sure.mean()) - synthetic.rate) < 0.03


def test_a_display_that_shows_nothing_is_read_as_nothing(reader: DigitReader) -> None:
    flat = np.full((32, 128), 90, np.uint8)
    assert score(reader, [Known(flat, flat, "", "flat")]).exact == 1


def test_it_gives_log_probabilities_a_step_for_four_pixels(reader: DigitReader) -> None:
    told = reader.read(np.zeros((3, 32, 132), np.uint8))
    assert told.shape == (3, 33, 1 + len(ALPHABET))
    assert np.exp(told).sum(axis=2) == pytest.approx(1.0, abs=1e-4)


def test_the_file_is_small_enough_to_ship() -> None:
    from importlib.resources import files

    assert len(files("breakwright.video").joinpath("digits.onnx").read_bytes()) < 1_500_000
