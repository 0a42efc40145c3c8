import pytest

from breakwright.strength.thread_names import UnknownThread, find_thread


@pytest.mark.parametrize(
    ("said", "name", "diameter_mm", "pitch_mm"),
    [
        ("M8", "M8", 8.0, 1.25),
        ("m8 X 1", "M8x1", 8.0, 1.0),
        ("M10×1.25", "M10x1.25", 10.0, 1.25),
        ("M9x1.25", "M9x1.25", 9.0, 1.25),
        ("5/16-18", "5/16-18", 7.9375, 25.4 / 18),
        ("5/16 - 18 UNC", "5/16-18", 7.9375, 25.4 / 18),
        ('5/16"', "5/16-18", 7.9375, 25.4 / 18),
        ("5/16 unf", "5/16-24", 7.9375, 25.4 / 24),
        ("5/16-20", "5/16-20", 7.9375, 1.27),
        ("#0", "#0-80", 1.524, 25.4 / 80),
        ("10-32", "#10-32", 4.826, 25.4 / 32),
        ("No. 10 - 24", "#10-24", 4.826, 25.4 / 24),
        ("1-8", "1-8", 25.4, 3.175),
        ("1-1/8-7", "1-1/8-7", 28.575, 25.4 / 7),
        ("1 1/4-7", "1-1/4-7", 31.75, 25.4 / 7),
        ("2-4.5", "2-4.5", 50.8, 25.4 / 4.5),
        ("11/16-12", "11/16-12", 17.4625, 25.4 / 12),
    ],
)
def test_what_people_call_a_thread(
    said: str, name: str, diameter_mm: float, pitch_mm: float
) -> None:
    thread = find_thread(said)
    assert thread.name == name
    assert thread.diameter_mm == pytest.approx(diameter_mm, rel=1e-12)
    assert thread.pitch_mm == pytest.approx(pitch_mm, rel=1e-12)


@pytest.mark.parametrize(
    ("said", "nearest"),
    [
        ("M8y", "M8"),
        ("M9", "M8"),
        ("", None),
        ("banana", None),
        ("5/0-18", None),
        ("1/4-0", None),
        ("5/16-1", "5/16-18"),
        ("M8x12.5", None),
        ("M8x0.01", None),
    ],
)
def test_what_is_no_thread_is_told(said: str, nearest: str | None) -> None:
    with pytest.raises(UnknownThread) as caught:
        find_thread(said)
    assert repr(said) in str(caught.value)
    if nearest is not None:
        assert nearest in caught.value.nearest
