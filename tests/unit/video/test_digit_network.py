"""The packaged network: its shapes, its batches, and what it refuses."""

import numpy as np
import pytest

from breakwright.reading.film_ports import ALPHABET, STRIP_HEIGHT
from breakwright.video.digit_network import digit_reader

rng = np.random.default_rng(2)


@pytest.mark.parametrize("width", [64, 160])
def test_log_probabilities_for_every_step(width: int) -> None:
    strips = rng.integers(0, 256, (3, STRIP_HEIGHT, width)).astype(np.uint8)
    told = digit_reader().read(strips)
    assert told.shape == (3, width // 4, 1 + len(ALPHABET))
    assert told.dtype == np.float32
    assert np.exp(told.astype(float)).sum(axis=2) == pytest.approx(1.0, abs=1e-4)


def test_a_strip_reads_the_same_alone_and_in_a_batch() -> None:
    strips = rng.integers(0, 256, (5, STRIP_HEIGHT, 96)).astype(np.uint8)
    reader = digit_reader()
    alone = np.concatenate([reader.read(one[None]) for one in strips])
    np.testing.assert_allclose(reader.read(strips), alone, atol=1e-3)


def test_no_strips_give_nothing() -> None:
    assert digit_reader().read(np.empty((0, STRIP_HEIGHT, 64), np.uint8)).shape[:2] == (0, 16)


@pytest.mark.parametrize("shape", [(32, 64), (1, 30, 64), (1, 32, 66)])
def test_other_shapes_are_refused(shape: tuple[int, ...]) -> None:
    with pytest.raises(ValueError, match="multiple of 4"):
        digit_reader().read(np.zeros(shape, np.uint8))
