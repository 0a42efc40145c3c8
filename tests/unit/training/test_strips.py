"""The renderer of strips: what it says stands there is what it drew."""

import numpy as np
import pytest
from training.strips.face import DIGIT, Face, Lighting, draw
from training.strips.levelling import END_MARGIN, MARGIN, level, padded, rectified
from training.strips.outline import Ends
from training.strips.strip import Strip, strips, together
from training.strips.style import Style, random_style
from training.strips.texts import Row, random_row, row_of

from breakwright.reading.film_ports import ALPHABET, STRIP_HEIGHT

POINTED = Ends(1.0, 0.0, 1.0)
PLAIN = Style(
    width=0.6,
    thickness=0.12,
    gap=0.02,
    waist=0.5,
    corner=POINTED,
    joint=POINTED,
    middle=POINTED,
    rounding=0.0,
    slant=0.0,
    pitch=0.9,
    point=0.12,
    point_round=True,
    point_at=(0.15, 0.06),
    point_room=0.0,
    varied=frozenset(),
    narrow_one=0.0,
    uneven=0.0,
    dash=0.0,
)
# Middles of a, b, c, d, e, f, g in a cell 0.6 wide and 1 high with strokes of 0.12.
PLACES = (
    (0.3, 0.06),
    (0.54, 0.28),
    (0.54, 0.72),
    (0.3, 0.94),
    (0.06, 0.72),
    (0.06, 0.28),
    (0.3, 0.5),
)
# Common practice, no source: which segments a seven-segment digit lights, a to g.
COMMON = {
    "0": "1111110",
    "1": "0110000",
    "2": "1101101",
    "3": "1111001",
    "4": "0110011",
    "5": "1011011",
    "6": "1011111",
    "7": "1110000",
    "8": "1111111",
    "9": "1111011",
    "-": "0000001",
    "L": "0001110",
    "E": "1001111",
    "H": "0110111",
}


@pytest.fixture(scope="module")
def many() -> list[Strip]:
    return strips(11, 400)


def steady(row: Row, *, ghost: float = 0.0, old: str = "", left: float = 0.0) -> Lighting:
    return Lighting((1.0,) * len(row.cells), {}, ghost, old, left)


def drawn(row: Row, lighting: Lighting) -> Face:
    return draw(row, PLAIN, lighting, offsets=[0.0] * len(row.cells), surround=0.5)


def at(face: Face, cell: int, place: tuple[float, float]) -> float:
    x = (0.5 + 0.9 * cell + place[0]) * DIGIT
    y = (0.5 + place[1]) * DIGIT
    return float(face.strength[int(y), int(x)])


@pytest.mark.parametrize("character", COMMON)
def test_a_character_lights_its_segments_alone(character: str) -> None:
    row = row_of(character)
    face = drawn(row, steady(row))
    lit = "".join("1" if at(face, 0, place) > 0.5 else "0" for place in PLACES)
    assert lit == COMMON[character]


def test_the_point_stands_low_right_of_its_digit() -> None:
    row = row_of("1.8")
    face = drawn(row, steady(row))
    assert at(face, 0, (0.6 + 0.15, 0.94)) == 1.0
    assert at(face, 1, (0.6 + 0.15, 0.94)) == 0.0


def test_a_slow_display_shows_old_and_new_and_says_the_new() -> None:
    row = row_of("1")
    face = drawn(row, steady(row, old="7", left=0.3))
    assert at(face, 0, PLACES[0]) == pytest.approx(0.3, abs=0.01)
    assert at(face, 0, PLACES[1]) == 1.0
    assert row.text == "1"


def test_ghosts_show_where_nothing_is_lit() -> None:
    row = row_of("1")
    assert at(drawn(row, steady(row, ghost=0.2)), 0, PLACES[6]) == pytest.approx(0.2, abs=0.01)


def test_the_same_seed_gives_the_same_strips() -> None:
    first, again, other = strips(3, 6), strips(3, 6), strips(4, 6)
    assert [one.text for one in first] == [one.text for one in again]
    assert all(np.array_equal(a.gray, b.gray) for a, b in zip(first, again, strict=True))
    assert [one.text for one in first] != [one.text for one in other]


def test_strips_are_as_the_network_takes_them(many: list[Strip]) -> None:
    for one in many:
        assert one.gray.dtype == np.uint8
        assert one.gray.shape[0] == STRIP_HEIGHT
        assert 4 <= one.gray.shape[1] <= 320
        assert set(one.text) <= set(ALPHABET)


def test_strips_hold_what_a_display_may_show(many: list[Strip]) -> None:
    texts = [one.text for one in many]
    assert set("".join(texts)) == set(ALPHABET)
    assert 0.02 < texts.count("") / len(texts) < 0.09
    points = np.mean(["." in text for text in texts])
    assert 0.15 < points < 0.5
    assert any(text.startswith("-") and text[1:2].isdigit() for text in texts)
    assert max(map(len, texts)) >= 8


def test_both_polarities_come_alike_often(many: list[Strip]) -> None:
    darker = [float(np.median(one.gray)) > 127 for one in many if one.text]
    assert 0.3 < np.mean(darker) < 0.7


def test_a_point_leaves_air_to_its_neighbours() -> None:
    # Where it touched both, the network would take every narrow gap for a point.
    for seed in range(300):
        style = random_style(np.random.default_rng(seed))
        if style.point:
            gap = style.pitch - style.width + style.point_room
            assert gap >= style.point + 0.0399


def test_displays_without_points_show_none() -> None:
    bare = [
        style
        for style in (random_style(np.random.default_rng(s)) for s in range(60))
        if not style.point
    ]
    assert bare
    row = row_of("88")
    face = draw(row, bare[0], steady(row, ghost=0.5), offsets=[0.0, 0.0], surround=0.5)
    left = int((0.5 + max(0.0, -np.tan(bare[0].slant)) + bare[0].width) * DIGIT)
    between = face.strength[int(1.46 * DIGIT), left + 1 : left + 2]
    assert between.max() < 0.6


def test_rows_say_what_their_cells_show() -> None:
    rng = np.random.default_rng(5)
    for _ in range(300):
        row = random_row(rng)
        shown = "".join(
            c + ("." if place in row.points else "") for place, c in enumerate(row.cells)
        )
        assert shown.strip() == row.text
        assert 1 <= len(row.cells) <= 9


def test_rectified_keeps_the_aspect_and_the_margins() -> None:
    picture = np.full((120, 400), 200.0, np.float32)
    picture[30:90, 50:350] = 40.0
    corners = np.array([(49.5, 29.5), (349.5, 29.5), (349.5, 89.5), (49.5, 89.5)])
    strip = rectified(picture, corners)
    digit = STRIP_HEIGHT / (1.0 + 2.0 * MARGIN)
    assert strip.shape == (STRIP_HEIGHT, round(digit * (5.0 + 2.0 * END_MARGIN)))
    rows = np.flatnonzero(strip[:, strip.shape[1] // 2] < 120.0)
    columns = np.flatnonzero(strip[STRIP_HEIGHT // 2] < 120.0)
    assert abs(len(rows) - digit) <= 1.0
    assert abs(len(columns) - 5.0 * digit) <= 1.0
    assert abs(rows[0] - MARGIN * digit) <= 1.0
    assert abs(columns[0] - END_MARGIN * digit) <= 1.0


def test_level_stretches_to_the_full_range_but_not_noise() -> None:
    ramp = np.tile(np.linspace(100.0, 140.0, 64, dtype=np.float32), (32, 1))
    assert level(ramp).min() == 0
    assert level(ramp).max() == 255
    faint = np.tile(np.linspace(100.0, 106.0, 64, dtype=np.float32), (32, 1))
    # Six gray levels of the twenty-four that are stretched to 255.
    assert 55 <= int(level(faint).max()) <= 66


def test_strips_of_unlike_width_are_padded_with_their_edges() -> None:
    narrow = np.full((32, 30), 9, np.uint8)
    wide = np.full((32, 101), 7, np.uint8)
    both = padded([narrow, wide])
    assert both.shape == (2, 32, 104)
    assert (both[0] == 9).all()
    assert (both[1] == 7).all()
    assert padded([narrow]).shape == (1, 32, 64)


def test_together_keeps_texts_beside_their_strips(many: list[Strip]) -> None:
    grays, texts = together(many[:8])
    assert grays.shape[0] == len(texts) == 8
    assert grays.shape[2] % 4 == 0
    assert texts == tuple(one.text for one in many[:8])
