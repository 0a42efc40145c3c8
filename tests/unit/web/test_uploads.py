"""Films in pieces: where they stand, what is refused, and what survives a new server."""

import hashlib
import os
import shutil
from pathlib import Path
from types import SimpleNamespace

import httpx
import pytest
from doors_here import PIECES, STUDY, Caller, run_apart, services_at

from breakwright.model.event import VideoAdded
from breakwright.web.uploads import PART_FOLDER, VIDEO_FOLDER, Uploads

UPLOADS = "/api/v1/uploads"
FILM = bytes(range(256)) * 40
SUM = hashlib.sha256(FILM).hexdigest()


@pytest.fixture
def call(tmp_path: Path) -> Caller:
    return Caller(services_at(tmp_path))


def begun(call: Caller, **more: object) -> str:
    given = {"study": "pegs", "name": "break 1.MP4", "size": len(FILM), **more}
    answer = call("POST", UPLOADS, json=given)
    assert answer.status_code == 201, answer.text
    return str(answer.json()["id"])


def sent(call: Caller, upload: str, data: bytes, at: int) -> httpx.Response:
    headers = {"upload-offset": str(at), "content-type": "application/octet-stream"}
    return call("PATCH", f"{UPLOADS}/{upload}", content=data, headers=headers)


def test_a_film_in_pieces_with_a_new_server_between(call: Caller, tmp_path: Path) -> None:
    upload = begun(call, piece=PIECES[0], sha256=SUM)
    assert sent(call, upload, FILM[:6000], 0).json()["offset"] == 6000
    call = Caller(call.services)  # a new server over the same folder
    how_far = call("HEAD", f"{UPLOADS}/{upload}")
    assert how_far.headers["upload-offset"] == "6000"
    assert how_far.headers["upload-length"] == str(len(FILM))
    assert sent(call, upload, FILM[6000:], 6000).json()["offset"] == len(FILM)
    first, again = (call("POST", f"{UPLOADS}/{upload}/finish") for _ in range(2))
    assert first.json()["sha256"] == again.json()["sha256"] == SUM
    assert (first.json()["new"], again.json()["new"]) == ([4], [])
    file = first.json()["file"]
    assert (tmp_path / VIDEO_FOLDER / file).read_bytes() == FILM
    assert file == f"{upload}.mp4"
    film = call.services.bench.state(STUDY).piece(PIECES[0]).videos[0]
    assert film == VideoAdded(file, "break 1.MP4", len(FILM), SUM, PIECES[0])
    served = call("GET", f"/videos/{file}", headers={"range": "bytes=0-9"})
    assert (served.status_code, served.content) == (206, FILM[:10])
    assert served.headers["content-disposition"].startswith("attachment")


def test_bytes_go_where_the_upload_stands_and_no_further(call: Caller) -> None:
    upload = begun(call)
    assert sent(call, upload, FILM[:100], 50).status_code == 409
    assert sent(call, upload, FILM[:100], 0).status_code == 200
    assert sent(call, upload, FILM[:100], 0).status_code == 409
    assert sent(call, upload, FILM, 100).status_code == 413
    assert call("GET", f"{UPLOADS}/{upload}").json()["offset"] == 100
    early = call("POST", f"{UPLOADS}/{upload}/finish")
    assert early.status_code == 422
    assert f"100 of {len(FILM)} bytes" in early.json()["problems"][0]["message"]


def test_other_bytes_than_were_meant_are_not_taken_for_the_film(call: Caller) -> None:
    upload = begun(call, sha256="0" * 64)
    sent(call, upload, FILM, 0)
    wrong = call("POST", f"{UPLOADS}/{upload}/finish")
    assert wrong.status_code == 422
    assert "SHA-256" in wrong.json()["problems"][0]["message"]
    assert call("GET", f"{UPLOADS}/{upload}").json()["offset"] == 0
    assert not call.services.bench.state(STUDY).videos


@pytest.mark.parametrize(
    ("name", "shown", "ending"),
    [
        ("../../etc/passwd", "passwd", ".bin"),
        ("C:\\films\\a.mov", "a.mov", ".mov"),
        ("x.mp4/", "film", ".bin"),
        ("evil.html", "evil.html", ".bin"),
        ("a\x1b[2J.mp4", "a[2J.mp4", ".mp4"),
    ],
)
def test_names_are_told_and_never_trusted(
    call: Caller, tmp_path: Path, name: str, shown: str, ending: str
) -> None:
    upload = begun(call, name=name)
    assert call("GET", f"{UPLOADS}/{upload}").json()["name"] == shown
    sent(call, upload, FILM, 0)
    assert call("POST", f"{UPLOADS}/{upload}/finish").json()["file"] == f"{upload}{ending}"
    there = {path.parent.name for path in tmp_path.rglob("*") if path.is_file()}
    assert there == {PART_FOLDER, VIDEO_FOLDER}


def test_the_same_upload_is_found_again_by_its_id(call: Caller) -> None:
    upload = begun(call, id="d" * 32)
    sent(call, upload, FILM[:10], 0)
    given = {"study": "pegs", "name": "break 1.MP4", "size": len(FILM), "id": upload}
    assert call("POST", UPLOADS, json=given).json()["offset"] == 10
    other = call("POST", UPLOADS, json={**given, "size": 5})
    assert other.status_code == 422


def test_a_film_larger_than_the_disk_is_refused_at_once(
    call: Caller, monkeypatch: pytest.MonkeyPatch
) -> None:
    free = SimpleNamespace(free=256 * 2**20 + len(FILM) - 1)
    monkeypatch.setattr(shutil, "disk_usage", lambda _: free)
    given = {"study": "pegs", "name": "a.mp4", "size": len(FILM)}
    full = call("POST", UPLOADS, json=given)
    assert full.status_code == 507
    assert "there is room for" in full.json()["problems"][0]["message"]


def test_a_link_that_breaks_keeps_what_had_come(call: Caller) -> None:
    upload = begun(call)
    coming = iter(
        [
            {"type": "http.request", "body": FILM[:3000], "more_body": True},
            {"type": "http.disconnect"},
        ]
    )

    async def receive() -> dict[str, object]:
        return next(coming)

    async def send(message: object) -> None:
        pass

    scope = {
        "type": "http",
        "method": "PATCH",
        "path": f"{UPLOADS}/{upload}",
        "raw_path": b"",
        "query_string": b"",
        "scheme": "http",
        "client": ("127.0.0.1", 50000),
        "headers": [(b"host", b"localhost"), (b"upload-offset", b"0")],
    }
    run_apart(lambda: call.app(scope, receive, send))
    assert call("GET", f"{UPLOADS}/{upload}").json()["offset"] == 3000


def test_what_nobody_goes_on_with_is_swept(call: Caller, tmp_path: Path) -> None:
    old, fresh = begun(call), begun(call)
    for path in (tmp_path / PART_FOLDER).glob(f"{old}.*"):
        os.utime(path, (0, 0))
    assert Uploads(tmp_path).sweep() == 2
    assert call("GET", f"{UPLOADS}/{old}").status_code == 404
    assert call("GET", f"{UPLOADS}/{fresh}").status_code == 200
    assert call("DELETE", f"{UPLOADS}/{fresh}").status_code == 204
    assert not list((tmp_path / PART_FOLDER).iterdir())
