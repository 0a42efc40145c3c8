"""Films in files: turned, in every pixel format, cut off, damaged, growing, and no films at all."""

from collections.abc import Iterator
from pathlib import Path

import av
import numpy as np
import pytest
from numpy.typing import NDArray
from training.clips.containers import tag_rotation, truncated

from breakwright.model.film import FilmFacts
from breakwright.video.film_file import FilmRefused, film_hash, open_film
from made_films import corners_picture, moving_picture, write_film

WIDE, HIGH = 96, 64


def read_through(path: Path) -> tuple[list[float], FilmFacts]:
    film = open_film(path)
    return [frame.time for frame in film.frames()], film.facts()


def moving(count: int) -> list[NDArray[np.uint8]]:
    return [moving_picture(WIDE, HIGH, number) for number in range(count)]


# Where the tag turns the upper left quarter of the stored picture to. The matrices and what they
# mean are ISO/IEC 14496-12's; that a player shows the same was seen once in Chromium (its video
# element drawn on a canvas, the same four files).
@pytest.mark.parametrize(
    ("degrees", "red", "blue"),
    [
        (0, (0, 0), (1, 1)),
        (90, (0, 1), (1, 0)),
        (180, (1, 1), (0, 0)),
        (270, (1, 0), (0, 1)),
    ],
)
def test_the_tag_turns_the_picture_as_a_player_does(
    tmp_path: Path, degrees: int, red: tuple[int, int], blue: tuple[int, int]
) -> None:
    path = tmp_path / "film.mp4"
    write_film(path, [corners_picture(WIDE, HIGH)] * 4)
    tag_rotation(path, degrees)
    film = open_film(path)
    facts = film.facts()
    assert facts.rotation == degrees
    turned = degrees in (90, 270)
    assert (facts.width, facts.height) == ((HIGH, WIDE) if turned else (WIDE, HIGH))
    whole = next(iter(film.frames())).patch(0, 0, facts.width, facts.height)
    high, wide = facts.height // 2, facts.width // 2
    quarters = {
        (row, column): whole[row * high :, column * wide :][8 : high - 8, 8 : wide - 8]
        for row in (0, 1)
        for column in (0, 1)
    }
    assert quarters[red].mean(axis=(0, 1)) == pytest.approx((160, 100, 200), abs=4)
    assert quarters[blue].mean(axis=(0, 1)) == pytest.approx((40, 200, 110), abs=4)


@pytest.mark.parametrize(
    ("name", "codec", "pixels"),
    [
        ("film.mp4", "libx264", "yuv420p"),
        ("film.mp4", "libx264", "yuvj420p"),
        ("film.mp4", "libx264", "yuv422p"),
        ("film.mp4", "libx264", "yuv444p"),
        ("film.mp4", "libx264", "yuv420p10le"),
        ("film.mp4", "libx265", "yuv420p"),
        ("film.mp4", "libx265", "yuv420p10le"),
        ("film.nut", "rawvideo", "nv12"),
        ("film.mkv", "ffv1", "yuv422p10le"),
        ("film.mkv", "ffv1", "bgra"),
        ("film.mkv", "mjpeg", "yuvj422p"),
        ("film.webm", "libvpx", "yuv420p"),
    ],
)
@pytest.mark.parametrize("size", [(96, 64), (90, 62)])
def test_every_pixel_format_shows_the_same_picture(
    tmp_path: Path, name: str, codec: str, pixels: str, size: tuple[int, int]
) -> None:
    path = tmp_path / name
    write_film(path, [corners_picture(*size)] * 3, codec=codec, pixels=pixels)
    frame = list(open_film(path).frames())[-1]
    red = frame.patch(9, 13, size[0] // 2 - 7, size[1] // 2 - 4)
    blue = frame.patch(size[0] // 2 + 7, size[1] // 2 + 4, size[0] - 5, size[1] - 5)
    # 10 levels: full-range formats are the same picture on another scale, as players show it.
    assert red.mean(axis=(0, 1)) == pytest.approx((160, 100, 200), abs=12)
    assert blue.mean(axis=(0, 1)) == pytest.approx((40, 200, 110), abs=16)
    assert red.std(axis=(0, 1)).max() < 6.0


def test_odd_sizes_lose_no_row_and_no_column(tmp_path: Path) -> None:
    path = tmp_path / "film.mkv"
    write_film(path, [corners_picture(97, 63)] * 2, codec="ffv1")
    film = open_film(path)
    frame = next(iter(film.frames()))
    assert (film.facts().width, film.facts().height) == (97, 63)
    assert frame.patch(90, 57, 97, 63).shape == (6, 7, 3)
    assert frame.patch(90, 57, 97, 63).mean(axis=(0, 1)) == pytest.approx((40, 200, 110), abs=3)
    assert frame.quarter().shape == (15, 24)


def test_ten_bits_woven_as_hardware_decoders_give_them() -> None:
    # No container at hand stores this format, so that the plane reader gets the picture itself.
    from breakwright.video.planes import LAYOUTS

    whole = np.ascontiguousarray(np.moveaxis(corners_picture(WIDE, HIGH), 2, 0))
    picture = av.VideoFrame.from_ndarray(whole, format="yuv444p").reformat(format="p010le")
    layout = LAYOUTS[picture.format.name]
    box = (10, 12, 40, 28)
    blue, red = layout.colours(picture, box)
    assert layout.brightness(picture, box).mean() == pytest.approx(160, abs=1)
    assert (blue.mean(), red.mean()) == pytest.approx((100, 200), abs=1)
    assert blue.shape == (16, 30)


def test_sizes_that_change_on_the_way_do_not_stop_the_reading(tmp_path: Path) -> None:
    path = tmp_path / "film.ts"
    write_film(tmp_path / "a.ts", moving(20))
    write_film(
        tmp_path / "b.ts",
        [corners_picture(128, 96)] * 10,
        times=[1.0 + k / 30.0 for k in range(10)],
    )
    path.write_bytes((tmp_path / "a.ts").read_bytes() + (tmp_path / "b.ts").read_bytes())
    film = open_film(path)
    sizes = {frame.quarter().shape for frame in film.frames()}
    assert sizes == {(HIGH // 4, WIDE // 4), (24, 32)}


class TestCutOff:
    @pytest.mark.parametrize("name", ["film.mp4", "film.mkv", "film.webm"])
    def test_it_reads_as_far_as_it_goes_and_says_so(self, tmp_path: Path, name: str) -> None:
        codec = "libvpx" if name.endswith("webm") else "libx264"
        write_film(tmp_path / name, moving(90), codec=codec)
        whole, _ = read_through(tmp_path / name)
        short = tmp_path / f"cut-{name}"
        truncated(tmp_path / name, short, part=0.6)
        times, facts = read_through(short)
        assert 30 < len(times) < 80
        assert times == whole[: len(times)]
        assert facts.frames == len(times)
        assert facts.duration == times[-1]
        assert facts.ended_early is not None
        assert f"ends after {times[-1]:.2f} s: it was cut off" in facts.ended_early

    def test_a_few_missing_frames_are_noticed_too(self, tmp_path: Path) -> None:
        write_film(tmp_path / "film.mp4", moving(90))
        truncated(tmp_path / "film.mp4", tmp_path / "cut.mp4", part=0.94)
        times, facts = read_through(tmp_path / "cut.mp4")
        assert 75 < len(times) < 90
        assert facts.ended_early is not None

    def test_the_table_of_contents_at_the_end_is_lost(self, tmp_path: Path) -> None:
        write_film(tmp_path / "film.mp4", moving(40), contents="last")
        truncated(tmp_path / "film.mp4", tmp_path / "cut.mp4", part=0.7)
        with pytest.raises(FilmRefused) as refused:
            open_film(tmp_path / "cut.mp4")
        (problem,) = refused.value.problems
        assert "table of contents is missing or damaged" in problem.message
        assert "Copy it from the phone again" in (problem.do or "")

    def test_one_frame_a_second_is_not_taken_for_cut_off(self, tmp_path: Path) -> None:
        write_film(tmp_path / "film.mp4", moving(5), times=[0.0, 1.0, 2.0, 3.0, 4.0])
        assert read_through(tmp_path / "film.mp4")[1].ended_early is None

    @pytest.mark.parametrize("name", ["film.mp4", "film.mkv"])
    def test_sound_that_goes_on_is_not_taken_for_cut_off(self, tmp_path: Path, name: str) -> None:
        write_film(tmp_path / name, moving(20), sound=np.zeros(96_000, np.float32))
        times, facts = read_through(tmp_path / name)
        assert len(times) == 20
        assert facts.sound
        assert facts.ended_early is None


@pytest.mark.parametrize("codec", ["libx264", "libx265"])
def test_a_damaged_middle_is_left_out_and_told(tmp_path: Path, codec: str) -> None:
    path = tmp_path / "film.mp4"
    write_film(path, moving(90), codec=codec)
    whole, _ = read_through(path)
    data = bytearray(path.read_bytes())
    body = data.find(b"mdat")
    start, end = (body + round((len(data) - body) * part) for part in (0.4, 0.6))
    data[start:end] = bytes(end - start)
    path.write_bytes(data)
    times, facts = read_through(path)
    assert 40 < len(times) < 90
    assert set(times) < set(whole)
    assert times[-1] == whole[-1]
    assert facts.ended_early is not None
    assert "damaged at" in facts.ended_early


def test_a_film_that_grows_while_it_is_read_says_so(tmp_path: Path) -> None:
    write_film(tmp_path / "whole.mkv", moving(90))
    data = (tmp_path / "whole.mkv").read_bytes()
    path = tmp_path / "film.mkv"
    path.write_bytes(data[: len(data) // 2])
    film = open_film(path)
    frames = film.frames()
    next(frames)
    with path.open("ab") as still:
        still.write(data[len(data) // 2 :])
    for _ in frames:
        pass
    ended = film.facts().ended_early
    assert ended is not None
    assert "the file was still growing while it was read" in ended


def test_uneven_times_are_the_films_own(tmp_path: Path) -> None:
    times = [0.0, 0.033, 0.066, 0.5, 0.51, 1.25]
    write_film(tmp_path / "film.mp4", moving(6), times=times)
    assert read_through(tmp_path / "film.mp4")[0] == pytest.approx(times, abs=1e-4)


def test_a_film_that_begins_late_begins_at_zero(tmp_path: Path) -> None:
    write_film(tmp_path / "film.mkv", moving(10), times=[5.0 + k / 30.0 for k in range(10)])
    times, facts = read_through(tmp_path / "film.mkv")
    assert times[0] == 0.0
    assert facts.duration == pytest.approx(0.3, abs=2e-3)


def test_the_hash_is_that_of_the_bytes(tmp_path: Path) -> None:
    # FIPS 180-2, appendix B.1.
    (tmp_path / "abc").write_bytes(b"abc")
    assert film_hash(tmp_path / "abc") == (
        "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    )


def not_films(folder: Path) -> Iterator[tuple[str, str]]:
    """Each a file that is no film, and what has to be said of it."""
    from PIL import Image

    def put(name: str, data: bytes) -> str:
        (folder / name).write_bytes(data)
        return name

    noise = np.random.default_rng(3).integers(0, 256, 4096).astype(np.uint8).tobytes()
    yield put("empty.mp4", b""), "the file is empty"
    yield put("noise.mp4", noise), "cannot be read as a video"
    yield put("table.mp4", b"time,load\n0,1\n" * 40), "cannot be read as a video"
    yield put("notes.txt", b"left 12.4 right 9.9\n" * 40), "this is a text, not a video"
    yield put("list.m3u8", b"#EXTM3U\n#EXTINF:1,\nfile:///etc/hostname\n"), "video"
    yield put("list.ffconcat", b"ffconcat version 1.0\nfile '/etc/hostname'\n"), "list of files"
    Image.new("RGB", (40, 30)).save(folder / "picture.png")
    Image.new("RGB", (40, 30)).save(folder / "picture.mp4", format="jpeg")
    yield "picture.png", "this is a single picture, not a video"
    yield "picture.mp4", "this is a single picture, not a video"
    (folder / "folder.mp4").mkdir()
    yield "folder.mp4", "this is no file"
    yield "absent.mp4", "there is no such file"
    with av.open(str(folder / "sound.wav"), "w") as container:
        track = container.add_stream("pcm_s16le", rate=8000, layout="mono")
        silence = av.AudioFrame.from_ndarray(np.zeros((1, 800), np.int16), "s16", "mono")
        silence.sample_rate, silence.pts = 8000, 0
        container.mux(track.encode(silence))
    yield "sound.wav", "sound, but no moving picture"


def test_what_is_no_film_is_refused_in_words(tmp_path: Path) -> None:
    for name, words in not_films(tmp_path):
        with pytest.raises(FilmRefused) as refused:
            open_film(tmp_path / name)
        (problem,) = refused.value.problems
        assert words in problem.message, name
        assert problem.file == str(tmp_path / name)
        assert problem.allowed, name
        assert problem.do, name


def test_a_list_does_not_lead_to_the_film_that_it_names(tmp_path: Path) -> None:
    write_film(tmp_path / "film.mp4", moving(5))
    (tmp_path / "list.ffconcat").write_text("ffconcat version 1.0\nfile film.mp4\n")
    with pytest.raises(FilmRefused, match="list of files"):
        open_film(tmp_path / "list.ffconcat")
