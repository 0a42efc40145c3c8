"""Scoring a reader on strips: a reader that is told the answers, and one that errs."""

from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from training.evaluate_faces import FONTS, NORMAL, font_rows, fonts_in
from training.evaluate_fonts import FontsMissing, curve, evaluate_fonts
from training.evaluate_real import evaluate_real
from training.evaluate_score import Known, reliability, score

from breakwright.reading.film_ports import ALPHABET


class Told:
    """Reads from the first row of pixels: each fourth one holds the class of that step."""

    def read(self, strips: NDArray[np.uint8]) -> NDArray[np.float32]:
        steps = strips[:, 0, ::4].astype(int)
        chances = np.full((*steps.shape, 1 + len(ALPHABET)), 1e-6)
        np.put_along_axis(chances, steps[:, :, None], 0.999, axis=2)
        return np.asarray(np.log(chances / chances.sum(axis=2, keepdims=True)), np.float32)


def told(says: str, truth: str) -> Known:
    strip = np.zeros((32, 64), np.uint8)
    for place, character in enumerate(says):
        strip[0, 8 * place] = 1 + ALPHABET.index(character)
    return Known(strip, strip, truth, "test")


def test_exact_and_exact_but_for_the_point() -> None:
    found = score(Told(), [told("12.5", "12.5"), told("125", "12.5"), told("13.5", "12.5")])
    assert (found.count, found.exact, found.exact_without_point) == (3, 1, 2)
    assert found.read == ("12.5", "125", "13.5")
    assert found.rate == pytest.approx(1.0 / 3.0)


def test_of_no_strips_the_rate_is_no_number() -> None:
    assert np.isnan(score(Told(), []).rate)


def test_reliability_counts_every_reading_once() -> None:
    found = score(Told(), [told("1", "1"), told("2", "3"), told("-4", "-4")])
    bins = reliability(found)
    assert sum(one.count for one in bins) == 3
    (full,) = [one for one in bins if one.count]
    assert full.low < full.claimed <= full.high
    assert full.right == pytest.approx(2.0 / 3.0)


def test_without_fonts_nothing_counts_as_measured(tmp_path: Path) -> None:
    with pytest.raises(FontsMissing, match="Nothing was measured"):
        evaluate_fonts(Told(), folder=tmp_path)
    with pytest.raises(FontsMissing, match="fonts-dseg"):
        curve(Told(), "blur", folder=tmp_path)


def test_without_digits_nothing_counts_as_measured(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError, match="00 to 09 and 11"):
        evaluate_real(Told(), tmp_path)


@pytest.mark.skipif(not fonts_in(FONTS), reason="Debian's fonts-dseg is not installed")
def test_font_rows_come_in_every_font_and_in_joined_strokes() -> None:
    fonts = fonts_in(FONTS)
    rows = font_rows(fonts, NORMAL, rows=60, seed=1)
    again = font_rows(fonts, NORMAL, rows=60, seed=1)
    sources = {one.source for one in rows}
    assert "joined strokes" in sources
    assert len(sources) > 12
    assert all(np.array_equal(a.strip, b.strip) for a, b in zip(rows, again, strict=True))
    for one in rows:
        assert set(one.text) <= set(ALPHABET)
        # The picture for other readers has the film's own size: digits of 32 px and a margin.
        assert 40 <= one.picture.shape[0] <= 70
