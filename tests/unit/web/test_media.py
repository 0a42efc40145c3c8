"""Photos made anew, traces looked at, both served so that nothing in them runs."""

import io
import struct
import zlib
from pathlib import Path

import pytest
from doors_here import PIECES, STUDY, Caller, services_at
from PIL import Image

from breakwright.model.errors import InputRefused
from breakwright.web.photos import made_anew

PHOTOS = "/api/v1/studies/pegs/photos"
TRACE = "time_s,load_N\n0.0,0\n0.1,412\n"


@pytest.fixture
def call(tmp_path: Path) -> Caller:
    return Caller(services_at(tmp_path))


def camera_jpeg(width: int, height: int) -> bytes:
    """A JPEG lying on its side, with a place, a camera, a remark and a thumbnail's worth of EXIF.

    Left half red, right half blue, as the camera's sensor saw it.
    """
    picture = Image.new("RGB", (width, height), "red")
    picture.paste("blue", (width // 2, 0, width, height))
    exif = Image.Exif()
    exif[0x0112] = 6  # turn a quarter clockwise to see it upright (Exif 2.32, tag 274)
    exif[0x010F] = "SECRETCAMERA"
    exif.get_ifd(0x8825)[2] = (47.0, 22.0, 33.0)  # latitude
    out = io.BytesIO()
    picture.save(out, "JPEG", exif=exif, comment=b"SECRETREMARK")
    return out.getvalue()


def bomb_png(side: int) -> bytes:
    """A PNG that says it is ``side`` pixels square, in a few bytes."""

    def chunk(name: bytes, data: bytes) -> bytes:
        sum_ = struct.pack(">I", zlib.crc32(name + data))
        return struct.pack(">I", len(data)) + name + data + sum_

    head = struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0)
    data = chunk(b"IDAT", zlib.compress(b"\0" * 1000))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + data + chunk(b"IEND", b"")


def test_a_photo_is_made_anew_upright_and_without_its_place(call: Caller) -> None:
    sent = camera_jpeg(3000, 2000)
    assert b"SECRETCAMERA" in sent
    files = {"photo": ("../../IMG_1.jpg", sent, "image/jpeg")}
    kept = call("POST", PHOTOS, files=files, data={"piece": PIECES[0], "caption": "glue line"})
    assert kept.status_code == 200
    served = call("GET", f"/media/{kept.json()['media']}")
    assert served.headers["content-type"] == "image/jpeg"
    assert "sandbox" in served.headers["content-security-policy"]
    assert b"SECRET" not in served.content
    assert b"Exif" not in served.content
    picture = Image.open(io.BytesIO(served.content))
    assert picture.size == (1707, 2560)
    top, bottom = picture.getpixel((800, 100)), picture.getpixel((800, 2400))
    assert top[0] > 200 > 60 > top[2]
    assert bottom[2] > 200 > 60 > bottom[0]
    photo = call.services.bench.state(STUDY).piece(PIECES[0]).photos[0]
    assert photo.caption == "glue line"


def test_a_photo_sent_twice_is_kept_once(call: Caller) -> None:
    files = {"photo": ("a.jpg", camera_jpeg(60, 40), "image/jpeg")}
    first, again = (call("POST", PHOTOS, files=files, data={"id": "d" * 32}) for _ in range(2))
    assert first.json()["new"] == [4]
    assert (again.json()["new"], again.json()["known"]) == ([], 1)


def test_a_see_through_picture_stands_on_white(call: Caller) -> None:
    out = io.BytesIO()
    Image.new("RGBA", (20, 20), (0, 0, 0, 0)).save(out, "PNG")
    picture = Image.open(io.BytesIO(made_anew(out.getvalue())))
    assert picture.getpixel((10, 10)) == (255, 255, 255)


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"not a picture",
        b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
        camera_jpeg(200, 200)[:400],
        bomb_png(100),
        bomb_png(7000),
        bomb_png(60_000),
    ],
    ids=["empty", "words", "svg", "cut-off", "short-png", "49-megapixels", "bomb"],
)
def test_what_is_no_bearable_picture_is_refused(data: bytes) -> None:
    with pytest.raises(InputRefused) as refused:
        made_anew(data)
    problem = refused.value.problems[0]
    assert problem.code == "photo-unreadable"
    assert "JPEG" in str(problem.do)


def test_a_photo_of_no_piece_is_refused(call: Caller) -> None:
    files = {"photo": ("a.jpg", camera_jpeg(60, 40), "image/jpeg")}
    assert call("POST", PHOTOS, files=files, data={"piece": "f" * 32}).status_code == 404
    assert call("POST", PHOTOS, data={"piece": PIECES[0]}).status_code == 422


def test_a_trace_is_kept_as_it_came(call: Caller) -> None:
    csv = {"content-type": "text/csv"}
    address = f"/api/v1/studies/pegs/traces?piece={PIECES[0]}&id={'d' * 32}"
    first, again = (call("POST", address, content=TRACE, headers=csv) for _ in range(2))
    assert (first.json()["new"], again.json()["new"]) == ([4], [])
    served = call("GET", f"/media/{first.json()['media']}")
    assert served.text == TRACE
    assert served.headers["content-disposition"].startswith("attachment")
    for wrong in (b"", b"a,b\n1,2\n", b"\xff\xfe\x00", b"time_s,load\n0,1\n"):
        refused = call("POST", address, content=wrong, headers=csv)
        assert refused.json()["problems"][0]["code"] == "trace-unreadable"


@pytest.mark.parametrize("name", ["..%2f..%2fetc", "a.jpg", "f" * 64 + ".jpg", "F" * 64 + ".jpg"])
def test_media_go_by_their_own_names_only(call: Caller, name: str) -> None:
    assert call("GET", f"/media/{name}").status_code == 404
    assert call("GET", f"/videos/{name}").status_code == 404
